import type { FrozenReview } from '../../rules/wire/review.js';
import {
  channelName,
  FIGURE_WORDS,
  figureWords,
  laterWords,
  WINDOW_WORDS,
  whenWords,
} from '../../rules/words/review.js';
import { useAsked } from '../state/asked.js';
import { useApi } from '../state/gateway.js';
import { useLogReader } from '../state/places.js';

/** What people wrote or set after the freezing, and which figures the record gives otherwise now. */
export const ReviewLater = ({ frozen: { review, later } }: { frozen: FrozenReview }) => {
  const api = useApi();
  const reader = useLogReader();
  const { answer } = useAsked(() => api.reviewDifferences(review.id), review.id);
  const changed = answer.value.kind === 'here' ? answer.value.value.channels : [];
  return (
    <>
      <ul class="plain-list">
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
      {later.length + changed.length > 0 ? null : (
        <p class="page-note">
          {answer.value.kind === 'waiting'
            ? 'Comparing with the record as it is now …'
            : 'Nothing about these tanks and this time was changed since.'}
        </p>
      )}
    </>
  );
};
