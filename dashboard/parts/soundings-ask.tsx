import { useSignal } from '@preact/signals';
import type { Place } from '../../rules/place.js';
import type { Sounding, Soundings } from '../../rules/wire/soundings.js';
import { dateWords, durationWords } from '../../rules/words/clock.js';
import { findingSentence } from '../../rules/words/finding.js';
import { capital } from '../../rules/words/name.js';
import { useApi } from '../state/gateway.js';
import { useRoom } from '../state/room.js';

const DAY_MS = 86_400_000;
const SPANS = [3, 7, 14, 30] as const;

type Asking = { readonly said: string } | { readonly answer: Soundings } | 'reading';

type Props = {
  /** The tank with the lines as they are typed, or what is wrong with them in a sentence. */
  readonly typed: () => Place | string;
};

/** "How often would this have woken us": the tank's own readings under the lines that are typed, before anybody stands by them. */
export const SoundingsAsk = ({ typed }: Props) => {
  const api = useApi();
  const nowMs = useRoom().nowMs;
  const asking = useSignal<Asking | undefined>(undefined);
  const ask = async (days: number): Promise<void> => {
    const place = typed();
    if (typeof place === 'string') {
      asking.value = { said: place };
      return;
    }
    asking.value = 'reading';
    const toMs = nowMs.peek();
    const answer = await api.soundings({ place, fromMs: toMs - days * DAY_MS, toMs });
    asking.value = answer.ok ? { answer: answer.value } : { said: answer.fault.detail };
  };
  return (
    <section class="soundings">
      <h2>What these lines would have sounded</h2>
      <p class="page-note">
        The readings of this tank and its supply are judged again, with the lines above. Nothing is changed and nobody
        is called.
      </p>
      <div class="pill-row">
        {SPANS.map((days) => (
          <button
            key={days}
            type="button"
            class="pill"
            disabled={asking.value === 'reading'}
            onClick={() => void ask(days)}
          >
            last {days} days
          </button>
        ))}
      </div>
      <div role="status">
        <Told asking={asking.value} />
      </div>
    </section>
  );
};

const Told = ({ asking }: { readonly asking: Asking | undefined }) => {
  if (asking === undefined) return null;
  if (asking === 'reading') return <p class="page-note">Judging the readings again: this may take a minute.</p>;
  if ('said' in asking) return <p class="form-said form-said-wrong">{asking.said}</p>;
  const { readings, asSet, asAsked } = asking.answer;
  if (readings === 0) return <p class="page-note">Nothing was read in that time.</p>;
  return (
    <>
      <dl class="papers">
        <dt>With the lines above</dt>
        <dd>{countsOf(asAsked)}</dd>
        <dt>With the lines as they are set</dt>
        <dd>{countsOf(asSet)}</dd>
      </dl>
      <List soundings={asAsked} />
    </>
  );
};

/** `4 alarms, 1 would have woken somebody` */
const countsOf = (soundings: readonly Sounding[]): string => {
  if (soundings.length === 0) return 'no alarm';
  const woken = soundings.filter(({ wakes }) => wakes).length;
  const alarms = soundings.length === 1 ? '1 alarm' : `${soundings.length} alarms`;
  return `${alarms}, ${woken === 0 ? 'none' : woken} would have woken somebody`;
};

const MOST_LISTED = 50;

const List = ({ soundings }: { readonly soundings: readonly Sounding[] }) => {
  const room = useRoom();
  const reader = room.reader.value;
  const nameOf = (id: string): string => room.picture.value?.places.find((place) => place.id === id)?.name ?? id;
  return (
    <>
      <ol class="soundings-list">
        {soundings.slice(0, MOST_LISTED).map(({ atMs, endedMs, finding, wakes }) => (
          <li key={`${finding.condition} ${finding.channelId} ${atMs}`}>
            <b>{dateWords(atMs, reader)}</b>{' '}
            {capital(findingSentence(finding, { ...reader, nowMs: atMs, place: nameOf(finding.placeId) }).headline)},{' '}
            {endedMs === undefined ? 'still going at the end' : durationWords(endedMs - atMs, reader)}
            {wakes ? <strong>, would have woken somebody</strong> : null}
          </li>
        ))}
      </ol>
      {soundings.length > MOST_LISTED ? <p class="page-note">The first {MOST_LISTED} of them are listed.</p> : null}
    </>
  );
};
