import type { Span } from '../../rules/review/piece.js';
import type { Review } from '../../rules/review/review.js';
import { clockWords } from '../../rules/words/clock.js';
import { entryWords } from '../../rules/words/entry.js';
import { entryNames } from '../../rules/words/entry-name.js';
import { findingSentence } from '../../rules/words/finding.js';
import { capital } from '../../rules/words/name.js';
import { whenWords } from '../../rules/words/review.js';
import { useLogReader } from '../state/places.js';

/** Alarms above, what people wrote below, on the same axis as the strips. */
export const ReviewEvents = ({ review, span }: { review: Review; span: Span }) => {
  const at = (atMs: number): string => `${((atMs - span.fromMs) / (span.toMs - span.fromMs)) * 1000}`;
  const inside = (atMs: number): boolean => atMs >= span.fromMs && atMs <= span.toMs;
  return (
    <section class="review-strip">
      <h3>Alarms (diamonds) and entries (bars)</h3>
      <svg
        class="event-strip"
        viewBox="0 0 1000 40"
        width="100%"
        height="40"
        preserveAspectRatio="none"
        aria-hidden="true"
      >
        {review.alarms
          .filter(({ activatedMs }) => inside(activatedMs))
          .map(({ id, activatedMs }) => (
            <path key={id} class="event-alarm" d={`M${at(activatedMs)} 2l4 8l-4 8l-4 -8Z`} />
          ))}
        {review.lines
          .filter(({ entry }) => inside(entry.atMs))
          .map(({ entry }) => (
            <rect key={entry.id} class="event-entry" x={at(entry.atMs)} y={24} width={2} height={14} />
          ))}
      </svg>
    </section>
  );
};

/** The same as words, in order of time: alarms with their answers, entries, declared work. */
export const EventList = ({ review }: { review: Review }) => {
  const reader = useLogReader();
  const alarms = review.alarms.map(({ id, activatedMs, finding, acknowledgedBy, acknowledgedMs }) => {
    const place = reader.placeName(finding.placeId);
    const words = findingSentence(finding, { ...reader, nowMs: activatedMs, place });
    const answered =
      acknowledgedMs === undefined
        ? 'not answered'
        : `answered ${clockWords(acknowledgedMs, reader)} by ${acknowledgedBy ?? '?'}`;
    return { key: id, atMs: activatedMs, what: `Alarm: ${place} ${words.headline}, ${answered}` };
  });
  const entries = review.lines.map(({ entry, struck, replacedBy }) => ({
    key: entry.id,
    atMs: entry.atMs,
    what: `${capital(entryNames(reader).kind[entry.kind])}${entry.placeId === undefined ? '' : ` ${reader.placeName(entry.placeId)}`}: ${entryWords(entry, reader)} (${entry.initials ?? entry.by})${struck === true ? ', taken back' : replacedBy === undefined ? '' : ', corrected later'}`,
  }));
  const all = [...alarms, ...entries].toSorted((a, b) => a.atMs - b.atMs);
  return all.length === 0 ? (
    <p class="page-note">
      No alarm and no entry in this time. That nothing was written does not mean that nothing was done.
    </p>
  ) : (
    <ol class="review-events">
      {all.map(({ key, atMs, what }) => (
        <li key={key}>
          <time>{whenWords(atMs, reader)}</time> {what}
        </li>
      ))}
    </ol>
  );
};
