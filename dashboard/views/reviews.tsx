import type { ReviewLine } from '../../rules/wire/review.js';
import { onsetWords, whenWords } from '../../rules/words/review.js';
import { FIRST_HOUR, FIRST_HOUR_CAUTION } from '../../rules/words/review-report.js';
import { Page } from '../parts/page.js';
import { ReviewBegin } from '../parts/review-begin.js';
import { useAsked } from '../state/asked.js';
import { useApi } from '../state/gateway.js';
import { useLogReader } from '../state/places.js';
import { makeRoute, type Route } from '../state/route.js';
import { mayAnswer, session } from '../state/session.js';

type ReviewsProps = Omit<Extract<Route, { page: 'reviews' }>, 'page'>;

/** The first hour comes before any analysis; then the record is frozen, and the review begins. */
export const Reviews = (about: ReviewsProps) => (
  <Page here="reviews">
    <h1 class="page-title">After deaths: the first hour</h1>
    <ol class="first-hour">
      {FIRST_HOUR.map((line) => (
        <li key={line}>{line}</li>
      ))}
    </ol>
    <p class="cautions">{FIRST_HOUR_CAUTION} Local rules and the vet go before this page.</p>
    {mayAnswer(session.value) ? (
      <ReviewBegin {...about} />
    ) : (
      <p class="page-note">Sign in as crew to freeze the record.</p>
    )}
    <Kept />
  </Page>
);

const Kept = () => {
  const api = useApi();
  const { answer } = useAsked(() => api.reviews(), 'reviews');
  const lines: readonly ReviewLine[] = answer.value.kind === 'here' ? answer.value.value : [];
  const reader = useLogReader();
  if (lines.length === 0) return null;
  return (
    <>
      <h2 class="page-part">Frozen before</h2>
      <nav class="ways" aria-label="Reviews">
        {lines.map(({ id, tanks, onset, frozenMs, by }) => (
          <a key={id} href={makeRoute({ page: 'review', id })}>
            <b>{tanks.map(reader.placeName).join(', ')}</b>{' '}
            <span>
              {onsetWords(onset, reader)} Frozen {whenWords(frozenMs, reader)} by {by}.
            </span>
          </a>
        ))}
      </nav>
    </>
  );
};
