import { useSignal } from '@preact/signals';
import type { Review } from '../../rules/review/review.js';
import type { FrozenReview } from '../../rules/wire/review.js';
import {
  channelName,
  FIGURE_WORDS,
  figureWords,
  laterWords,
  WINDOW_WORDS,
  whenWords,
} from '../../rules/words/review.js';
import { go } from '../state/address.js';
import { useAsked } from '../state/asked.js';
import { useApi } from '../state/gateway.js';
import { useLogReader } from '../state/places.js';
import { makeRoute } from '../state/route.js';
import { mayAnswer, session } from '../state/session.js';

/** What people wrote or set after the freezing, and which figures the record gives otherwise now. */
export const ReviewLater = ({ frozen: { review, later } }: { frozen: FrozenReview }) => {
  const api = useApi();
  const reader = useLogReader();
  const { answer } = useAsked(() => api.reviewDifferences(review.id), review.id);
  const changed = answer.value.kind === 'here' ? answer.value.value.channels : [];
  return (
    <>
      <ul class="plain-list" data-compared={answer.value.kind === 'waiting' ? 'no' : 'yes'}>
        {later.map((edit) => (
          <li key={`${edit.recordedMs} ${edit.kind}`}>{laterWords(edit, reader)}</li>
        ))}
        {changed.map(({ channelId, lateReadings, lastArrivalMs, readingsBefore, readingsNow, figures }) => (
          <li key={channelId}>
            {channelName(channelId, reader)}:{' '}
            {lastArrivalMs === undefined
              ? `${readingsBefore} readings then, ${readingsNow} now`
              : `${lateReadings} readings arrived after the freezing, the last ${whenWords(lastArrivalMs, reader)}`}
            {figures.map(({ window, figure, before, now }) => (
              <small key={`${window} ${figure}`} class="later-figure">
                {WINDOW_WORDS[window]}, {FIGURE_WORDS[figure]}: {figureWords(channelId, before, reader)} then,{' '}
                {figureWords(channelId, now, reader)} now
              </small>
            ))}
          </li>
        ))}
      </ul>
      {answer.value.kind === 'waiting' ? <NotCompared /> : null}
      {answer.value.kind === 'refused' ? <p class="page-note">{answer.value.problem.detail}</p> : null}
      {answer.value.kind !== 'here' || later.length + changed.length > 0 ? null : (
        <p class="page-note review-compared">Nothing about these tanks and this time was changed since.</p>
      )}
      {later.length + changed.length > 0 && mayAnswer(session.value) ? <NewEdition review={review} /> : null}
    </>
  );
};

/** Until the gateway has looked through every reading once more. A paper must not say that it goes on looking. */
export const NotCompared = () => (
  <>
    <p class="page-note no-print">Comparing with the record as it is now …</p>
    <p class="page-note only-print">The readings were not yet compared with the record when this was printed.</p>
  </>
);

/** The same question asked of the record as it is now; the review that it follows stays as it is. */
const NewEdition = ({ review }: { review: Review }) => {
  const api = useApi();
  const said = useSignal<string | undefined>(undefined);
  const { start, entryId, remark, onset, tanks, id } = review;
  const freeze = async (): Promise<void> => {
    said.value = 'Freezing the record …';
    const kept = await api.beginReview({
      start,
      tanks: tanks.filter(({ affected }) => affected).map(({ placeId }) => placeId),
      deadMs: onset.certainDeadMs,
      editionOf: id,
      ...(entryId === undefined ? {} : { entryId }),
      ...(onset.certainAliveMs === undefined ? {} : { aliveMs: onset.certainAliveMs }),
      ...(remark === undefined ? {} : { remark }),
    });
    if (kept.ok) go({ page: 'review', id: kept.value.review.id });
    else said.value = kept.fault.detail;
  };
  return (
    <div class="no-print">
      <button type="button" class="pill look-back" onClick={() => void freeze()}>
        Freeze a new edition
      </button>
      <p class="form-said" role="status">
        {said.value}
      </p>
    </div>
  );
};

/** Which edition this is, and where the others are. */
export const Editions = ({ frozen: { review, newer } }: { frozen: FrozenReview }) => {
  const last = newer.at(-1);
  return (
    <>
      {last === undefined ? null : (
        <p class="page-note">
          There is a newer edition: <a href={makeRoute({ page: 'review', id: last })}>{last}</a>. This one stays as it
          was frozen.
        </p>
      )}
      {review.editionOf === undefined ? null : (
        <p class="page-note">
          A new edition of an earlier review:{' '}
          <a href={makeRoute({ page: 'review', id: review.editionOf })}>{review.editionOf}</a>.
        </p>
      )}
    </>
  );
};
