import { useSignal } from '@preact/signals';
import { ok } from '../../rules/result.js';
import type { FrozenReview } from '../../rules/wire/review.js';
import { cannotSayLines, firstMoverSentence, movedWords, onsetWords, whenWords } from '../../rules/words/review.js';
import type { Asked } from '../link/api.js';
import { Page } from '../parts/page.js';
import { EventList } from '../parts/review-events.js';
import { ReviewExposure } from '../parts/review-exposure.js';
import { Editions, NotCompared, ReviewLater } from '../parts/review-later.js';
import { ReviewPattern } from '../parts/review-pattern.js';
import { ReviewReport } from '../parts/review-report.js';
import { ReviewStrips } from '../parts/review-strips.js';
import { ReviewWhole } from '../parts/review-whole.js';
import { useAsked } from '../state/asked.js';
import { useApi } from '../state/gateway.js';
import { useLogReader } from '../state/places.js';
import { useRetired } from '../state/retired.js';
import { useRoom } from '../state/room.js';

/** What happened to these tanks before the deaths, as the record stood when it was frozen. */
export const ReviewPage = ({ id }: { readonly id: string }) => {
  const api = useApi();
  useRetired();
  const { answer } = useAsked(async (): Promise<Asked<FrozenReview>> => {
    const [record, since] = await Promise.all([api.reviewRecord(id), api.reviewSince(id)]);
    if (!record.ok) return record;
    return since.ok ? ok({ review: record.value, ...since.value }) : since;
  }, id);
  return (
    <Page here="review">
      {answer.value.kind === 'refused' ? <p class="page-note">{answer.value.problem.detail}</p> : null}
      {answer.value.kind === 'here' ? <Frozen frozen={answer.value.value} /> : null}
    </Page>
  );
};

const Frozen = ({ frozen }: { frozen: FrozenReview }) => {
  const reader = useLogReader();
  const room = useRoom();
  const window = useSignal('24h');
  // Comparing takes the gateway a while: what is drawn goes first.
  const isDrawn = useSignal(false);
  const { review } = frozen;
  const affected = review.tanks.filter((tank) => tank.affected);
  const url = `/api/v1/reviews/${review.id}/raw.csv`;
  return (
    <article class="review" data-ready="yes">
      <h1 class="page-title">
        Before the deaths in {affected.map(({ placeId }) => reader.placeName(placeId)).join(', ')}
      </h1>
      <p class="page-note">
        {room.picture.value?.site.name}. Frozen {whenWords(review.frozenMs, reader)} by {review.by}, review {review.id}.
        It excludes or fails to exclude, and names no cause.
      </p>
      <Editions frozen={frozen} />
      <div class="pill-row no-print">
        <button type="button" class="pill pill-first" onClick={() => print()}>
          Print or keep as PDF
        </button>
        <a class="pill" href={url} download>
          Raw readings (CSV)
        </a>
        <a class="pill pill-quiet" href={`${url}.sha256`} download>
          Their checksum
        </a>
      </div>
      <p class="review-finding">{onsetWords(review.onset, reader)}</p>
      <h2 class="page-part">Pattern</h2>
      <ReviewPattern review={review} />
      <h2 class="page-part">Is the record whole</h2>
      <ReviewWhole review={review} />
      <h2 class="page-part">What moved first</h2>
      <p class="review-finding">{firstMoverSentence(review.firstMover, reader)}</p>
      <ol class="plain-list">
        {review.firstMover.order.map((moved) => (
          <li key={moved.channelId}>{movedWords(moved, reader)}</li>
        ))}
      </ol>
      <h2 class="page-part review-sheet">Everything on one time</h2>
      <ReviewStrips review={review} onDrawn={() => (isDrawn.value = true)} />
      <h2 class="page-part review-sheet">What each tank went through</h2>
      <ReviewExposure review={review} window={window} />
      <h2 class="page-part">Alarms, answers and entries</h2>
      <EventList review={review} />
      <h2 class="page-part">What this cannot say</h2>
      <ul class="review-cannot">
        {cannotSayLines(review.cannotSay, reader).map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
      <h2 class="page-part">Changed since it was frozen</h2>
      {isDrawn.value ? <ReviewLater frozen={frozen} /> : <NotCompared />}
      <h2 class="page-part review-sheet">Report</h2>
      <ReviewReport frozen={frozen} />
    </article>
  );
};
