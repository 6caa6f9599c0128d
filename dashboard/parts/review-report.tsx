import { REPORT_HEADINGS } from '../../rules/review/report.js';
import type { FrozenReview } from '../../rules/wire/review.js';
import { entryWords } from '../../rules/words/entry.js';
import { stageName } from '../../rules/words/name.js';
import { firstMoverSentence, onsetWords, patternSentence, whenWords } from '../../rules/words/review.js';
import { BLANK_WORDS, HEADING_WORDS } from '../../rules/words/review-report.js';
import { useLogReader } from '../state/places.js';
import { useRoom } from '../state/room.js';

/** The headings of a mortality report: what the record fills, and lines to write the rest on. */
export const ReviewReport = ({ frozen }: { frozen: FrozenReview }) => (
  <div class="review-report">
    {REPORT_HEADINGS.map(({ code, blanks }) => (
      <section key={code}>
        <h3>{HEADING_WORDS[code]}</h3>
        <Filled code={code} frozen={frozen} />
        {blanks.map((blank) => (
          <p key={blank} class="report-blank">
            <span>{BLANK_WORDS[blank]}</span>
          </p>
        ))}
      </section>
    ))}
  </div>
);

type FilledProps = { readonly code: (typeof REPORT_HEADINGS)[number]['code']; readonly frozen: FrozenReview };

const KINDS: Readonly<Record<string, readonly string[]>> = {
  losses: ['deaths', 'count', 'cull', 'dump'],
  treatments: ['treatment', 'disinfection'],
  samples: ['sample'],
};

const Filled = ({ code, frozen: { review, sha256 } }: FilledProps) => {
  const reader = useLogReader();
  const room = useRoom();
  const kinds = KINDS[code];
  if (kinds !== undefined) {
    const own = review.lines.filter(({ entry, replacedBy }) => replacedBy === undefined && kinds.includes(entry.kind));
    return (
      <ul class="plain-list">
        {own.length === 0 ? <li>Nothing written in this time.</li> : null}
        {own.map(({ entry }) => (
          <li key={entry.id}>
            {whenWords(entry.atMs, reader)}, {entry.placeId === undefined ? '' : reader.placeName(entry.placeId)}:{' '}
            {entryWords(entry, reader)} ({entry.initials ?? entry.by})
          </li>
        ))}
      </ul>
    );
  }
  switch (code) {
    case 'premises':
      return <p>{room.picture.value?.site.name}</p>;
    case 'reporter':
      return (
        <p>
          {review.by}, record frozen {whenWords(review.frozenMs, reader)}
          {review.remark === undefined ? '' : `. Seen first: ${review.remark}`}
        </p>
      );
    case 'animals':
      return (
        <ul class="plain-list">
          {review.tanks
            .filter(({ affected }) => affected)
            .map(({ placeId, stage, batches }) => (
              <li key={placeId}>
                {reader.placeName(placeId)}: {stage === undefined ? 'stage not set' : stageName(stage, reader)},{' '}
                {batches.length === 0 ? 'no batch in the log' : `batch ${batches.join(' + ')}`}
              </li>
            ))}
        </ul>
      );
    case 'course':
      return (
        <p>
          {onsetWords(review.onset, reader)} {patternSentence(review.pattern, reader)}
        </p>
      );
    case 'water':
      return <p>{firstMoverSentence(review.firstMover, reader)} Tables and gaps: above.</p>;
    case 'attachments':
      return (
        <p class="report-sum">
          Raw readings: /api/v1/reviews/{review.id}/raw.csv, checksum beside it. SHA-256 of this frozen record: {sha256}
        </p>
      );
    case 'not-known':
      return <p>See “What this cannot say”.</p>;
    default:
      return null;
  }
};
