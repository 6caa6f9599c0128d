import { useSignal } from '@preact/signals';
import type { RoundPicture } from '../../rules/wire/log.js';
import type { PlacePicture } from '../../rules/wire/picture.js';
import { dayStartMs, durationWords, momentWords } from '../../rules/words/clock.js';
import { entryNames } from '../../rules/words/entry-name.js';
import { capital } from '../../rules/words/name.js';
import { Initials } from '../parts/initials.js';
import { Page } from '../parts/page.js';
import { Pills } from '../parts/pills.js';
import { Said } from '../parts/said.js';
import { WaitingList } from '../parts/waiting-list.js';
import { useAsked } from '../state/asked.js';
import { useApi } from '../state/gateway.js';
import { useTanks } from '../state/places.js';
import { useRoom } from '../state/room.js';
import { useWriter } from '../state/writing.js';

const HOUR_MS = 3_600_000;

/** A round: every tank is taken as seen except those that are left out; what is overdue stands beside its tank. */
export const Round = () => {
  const room = useRoom();
  const api = useApi();
  const tanks = useTanks();
  const left = useSignal<readonly string[]>([]);
  const which = useSignal(roundAt(room.nowMs.peek(), room.reader.peek().zone));
  const { state, write } = useWriter();
  const sequence = room.picture.value?.sequence ?? 0;
  const { answer } = useAsked(() => api.round(), `${sequence}`);
  const round = answer.value.kind === 'here' ? answer.value.value : undefined;
  const toggle = (id: string): void => {
    left.value = left.value.includes(id) ? left.value.filter((one) => one !== id) : [...left.value, id];
  };
  const send = async (event: Event): Promise<void> => {
    event.preventDefault();
    const except = left.value.map((placeId) => ({ placeId }));
    if (await write({ kind: 'round', fields: { which: which.value, except } })) left.value = [];
  };
  const names = entryNames(room.reader.value);
  return (
    <Page here="round">
      <form class="entry-form" onSubmit={(event) => void send(event)}>
        <header class="entry-form-head">
          <h1 class="page-title">{capital(names.round[which.value])}</h1>
          <Initials />
        </header>
        <p class="page-note">
          Look, listen, smell before touching anything: blowers and pumps, levels, bubbles in every tank, foam, colour,
          animals on the floor. Tap a tank that you did not see.
        </p>
        <WaitingList />
        <OnSite round={round} />
        <ol class="round">
          {tanks.map((tank) => (
            <Seen
              key={tank.id}
              tank={tank}
              round={round}
              isLeft={left.value.includes(tank.id)}
              onToggle={() => toggle(tank.id)}
            />
          ))}
        </ol>
        <Pills
          label="Round"
          value={{ value: which.value }}
          choices={Object.entries(names.round)}
          onChoose={(value) => (which.value = value === 'evening' || value === 'night' ? value : 'morning')}
        />
        <div class="answer">
          <Said state={state.value} />
          <button type="submit" class="night-button night-button-first" disabled={state.value.kind === 'sending'}>
            {left.value.length === 0 ? 'All seen' : `All seen except ${left.value.length}`}
          </button>
        </div>
      </form>
    </Page>
  );
};

const roundAt = (nowMs: number, zone: string): 'morning' | 'evening' | 'night' => {
  const hour = (nowMs - dayStartMs(nowMs, zone)) / HOUR_MS;
  return hour >= 5 && hour < 13 ? 'morning' : hour >= 13 && hour < 20 ? 'evening' : 'night';
};

type SeenProps = {
  readonly tank: PlacePicture;
  readonly round: RoundPicture | undefined;
  readonly isLeft: boolean;
  readonly onToggle: () => void;
};

const Seen = ({ tank, round, isLeft, onToggle }: SeenProps) => {
  const room = useRoom();
  const reader = room.reader.value;
  const nowMs = room.nowMs.value;
  const due = round?.overdue.filter(({ placeId }) => placeId === tank.id) ?? [];
  const seenMs = round?.lastSeen[tank.id];
  return (
    <li>
      <button type="button" class={isLeft ? 'seen seen-left' : 'seen'} aria-pressed={!isLeft} onClick={onToggle}>
        <b>{tank.name}</b>
        <span class="seen-word">{isLeft ? 'not seen' : 'seen'}</span>
        {due.map(({ task, dueMs }) => (
          <span key={task} class="seen-due">
            {entryNames(reader).task[task]}, {durationWords(nowMs - dueMs, reader)} over
          </span>
        ))}
        <small>{seenMs === undefined ? 'never written about' : `last ${momentWords(seenMs, nowMs, reader)}`}</small>
      </button>
    </li>
  );
};

const OnSite = ({ round }: { round: RoundPicture | undefined }) => {
  const { write } = useWriter();
  const room = useRoom();
  if (round === undefined) return null;
  const people = round.onSite.map(
    ({ who, sinceMs }) => `${who} since ${momentWords(sinceMs, room.nowMs.value, room.reader.value)}`,
  );
  return (
    <p class="on-site">
      {people.length === 0 ? 'Nobody is marked as on site.' : `On site: ${people.join(', ')}.`}{' '}
      <button
        type="button"
        class="plain edit-word"
        onClick={() => void write({ kind: 'on-site', fields: { here: false } })}
      >
        I am leaving
      </button>
    </p>
  );
};
