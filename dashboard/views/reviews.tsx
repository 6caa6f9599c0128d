import { useSignal } from '@preact/signals';
import { isKind } from '../../rules/log/entry.js';
import type { NewReview, ReviewLine } from '../../rules/wire/review.js';
import { entryWords } from '../../rules/words/entry.js';
import { onsetWords, whenWords } from '../../rules/words/review.js';
import { FIRST_HOUR, FIRST_HOUR_CAUTION } from '../../rules/words/review-report.js';
import { Page } from '../parts/page.js';
import { ManyPills, Pills } from '../parts/pills.js';
import { go } from '../state/address.js';
import { useAsked } from '../state/asked.js';
import { useApi } from '../state/gateway.js';
import { useLogReader, useTanks } from '../state/places.js';
import { useRoom } from '../state/room.js';
import { makeRoute } from '../state/route.js';

const DAY_MS = 86_400_000;
const HOUR_MS = 3_600_000;
const BY_HAND = 'by-hand';

/** The first hour comes before any analysis; then the record is frozen, and the review begins. */
export const Reviews = ({ tank }: { readonly tank: string | undefined }) => (
  <Page here="reviews">
    <h1 class="page-title">After deaths: the first hour</h1>
    <ol class="first-hour">
      {FIRST_HOUR.map((line) => (
        <li key={line}>{line}</li>
      ))}
    </ol>
    <p class="cautions">{FIRST_HOUR_CAUTION} Local rules and the vet go before this page.</p>
    <Begin tank={tank} />
    <Kept />
  </Page>
);

const Begin = ({ tank }: { tank: string | undefined }) => {
  const api = useApi();
  const room = useRoom();
  const reader = useLogReader();
  const chosen = useSignal<readonly string[]>(tank === undefined ? [] : [tank]);
  const from = useSignal(BY_HAND);
  const hoursAgo = useSignal('0');
  const said = useSignal('');
  const nowMs = room.nowMs.peek();
  const { answer } = useAsked(
    () => api.log({ from: String(nowMs - 14 * DAY_MS), to: String(nowMs + HOUR_MS), kind: 'deaths' }),
    'deaths',
  );
  const lines = answer.value.kind === 'here' ? answer.value.value : [];
  const deaths = lines.filter(({ entry, replacedBy }) => replacedBy === undefined && isKind(entry, 'deaths')).slice(-8);
  const begin = (): void => {
    const isByHand = from.value === BY_HAND;
    const wanted: NewReview = isByHand
      ? {
          start: 'by-hand',
          tanks: chosen.value,
          deadMs: Math.floor(room.nowMs.peek() - Number(hoursAgo.value) * HOUR_MS),
        }
      : { start: 'deaths', entryId: from.value, tanks: chosen.value };
    said.value = 'Freezing the record …';
    void api.beginReview(wanted).then((kept) => {
      if (kept.ok) go({ page: 'review', id: kept.value.review.id });
      else said.value = kept.fault.detail;
    });
  };
  return (
    <>
      <h2 class="page-part">Freeze the record, and look back</h2>
      <ManyPills
        label="Tanks with deaths"
        chosen={chosen.value}
        choices={useTanks().map(({ id, name }) => [id, name] as const)}
        onChange={(next) => {
          chosen.value = next;
        }}
      />
      <Pills
        label="Begin from"
        value={from}
        choices={[
          [BY_HAND, 'What I saw'],
          ...deaths.map(
            ({ entry }) =>
              [
                entry.id,
                `${reader.placeName(entry.placeId ?? '')}: ${entryWords(entry, reader)}, ${whenWords(entry.atMs, reader)}`,
              ] as const,
          ),
        ]}
        onChoose={(value) => {
          from.value = value;
        }}
      />
      {from.value === BY_HAND ? (
        <Pills
          label="Dead animals, or larvae on the bottom, were seen"
          value={hoursAgo}
          choices={[
            ['0', 'now'],
            ['1', '1 h ago'],
            ['3', '3 h ago'],
            ['12', '12 h ago'],
            ['24', 'a day ago'],
          ]}
          onChoose={(value) => {
            hoursAgo.value = value;
          }}
        />
      ) : null}
      <div class="pill-row">
        <button
          type="button"
          class="pill pill-first"
          disabled={from.value === BY_HAND && chosen.value.length === 0}
          onClick={begin}
        >
          Freeze the record
        </button>
      </div>
      <p class="form-said" role="status">
        {said.value}
      </p>
    </>
  );
};

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
        {lines.map(({ id, tanks, onset }) => (
          <a key={id} href={makeRoute({ page: 'review', id })}>
            <b>{tanks.map(reader.placeName).join(', ')}</b> <span>{onsetWords(onset, reader)}</span>
          </a>
        ))}
      </nav>
    </>
  );
};
