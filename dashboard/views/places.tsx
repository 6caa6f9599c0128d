import { useSignal } from '@preact/signals';
import type { PlaceKind } from '../../rules/place.js';
import type { PlacePicture } from '../../rules/wire/picture.js';
import { plainWords } from '../../rules/words/figure.js';
import { capital, namesFor, stageName } from '../../rules/words/name.js';
import { Field } from '../parts/field.js';
import { Page } from '../parts/page.js';
import { PlaceEditor } from '../parts/place-editor.js';
import { useApi } from '../state/gateway.js';
import { useRoom } from '../state/room.js';
import { makeRoute } from '../state/route.js';
import { mayChange, session } from '../state/session.js';

/** Supply lines and their tanks: what is there, and what it holds. */
export const Places = () => {
  const room = useRoom();
  const places = room.picture.value?.places ?? [];
  const lines = places.filter(({ kind }) => kind === 'line').toSorted((a, b) => a.order - b.order);
  const known = new Set(lines.map(({ id }) => id));
  const loose = places.filter(({ kind, lineId }) => kind !== 'line' && (lineId === undefined || !known.has(lineId)));
  return (
    <Page here="places">
      <h1 class="page-title">Tanks and supply lines</h1>
      {lines.map((line) => (
        <Line key={line.id} line={line} members={places.filter(({ lineId }) => lineId === line.id)} />
      ))}
      {loose.length === 0 ? null : <Members title="On no line" members={loose} />}
      {mayChange(session.value) ? (
        <Add lines={lines} />
      ) : (
        <p class="page-note">A manager can change what stands here.</p>
      )}
      <nav class="ways" aria-label="More about the site">
        <a href={makeRoute({ page: 'site' })}>
          <b>The site</b>{' '}
          <span>name, time zone, how degrees, times and numbers are written, how long readings are kept</span>
        </a>
      </nav>
    </Page>
  );
};

const Line = ({ line, members }: { line: PlacePicture; members: readonly PlacePicture[] }) => (
  <Members title={line.name} line={line} members={members} />
);

const Members = ({
  title,
  line,
  members,
}: {
  title: string;
  line?: PlacePicture;
  members: readonly PlacePicture[];
}) => {
  const open = useSignal<string | undefined>(undefined);
  const toggle = (id: string): void => {
    open.value = open.value === id ? undefined : id;
  };
  return (
    <section class="places-line">
      <h2 class="page-part">
        {title}
        {line === undefined ? null : <EditWord id={line.id} name={line.name} open={open.value} onToggle={toggle} />}
      </h2>
      {line !== undefined && open.value === line.id ? (
        <PlaceEditor id={line.id} onDone={() => toggle(line.id)} />
      ) : null}
      <ol class="places">
        {members
          .toSorted((a, b) => a.order - b.order)
          .map((place) => (
            <li key={place.id}>
              <p class="place-words">
                <b>{place.name}</b> <AboutPlace place={place} />
                <EditWord id={place.id} name={place.name} open={open.value} onToggle={toggle} />
              </p>
              {open.value === place.id ? <PlaceEditor id={place.id} onDone={() => toggle(place.id)} /> : null}
            </li>
          ))}
      </ol>
    </section>
  );
};

const AboutPlace = ({ place }: { place: PlacePicture }) => {
  const reader = useRoom().reader.value;
  const names = namesFor(reader);
  const words = [
    ...(place.kind === 'tank' ? [] : [names.place[place.kind]]),
    ...(place.stage === undefined
      ? place.kind === 'tank'
        ? ['no stage yet: nothing is watched']
        : []
      : [stageName(place.stage, reader)]),
    ...(place.regime === undefined ? [] : [names.regime[place.regime]]),
    ...(place.volumeL === undefined ? [] : [`${plainWords(place.volumeL, 6, reader)} L`]),
  ];
  return <span>{words.join(', ')}</span>;
};

type EditProps = {
  readonly id: string;
  readonly name: string;
  readonly open: string | undefined;
  readonly onToggle: (id: string) => void;
};
const EditWord = ({ id, name, open, onToggle }: EditProps) =>
  mayChange(session.value) ? (
    <button type="button" class="plain edit-word" aria-expanded={open === id} onClick={() => onToggle(id)}>
      {open === id ? 'Close' : 'Change'}
      <span class="for-voice"> {name}</span>
    </button>
  ) : null;

const OTHER_KINDS = ['bath', 'intake', 'room', 'air-main', 'circuit'] as const satisfies readonly PlaceKind[];

const Add = ({ lines }: { lines: readonly PlacePicture[] }) => {
  const api = useApi();
  const room = useRoom();
  const name = useSignal('');
  const said = useSignal<string | undefined>(undefined);
  const add = async (kind: PlaceKind): Promise<void> => {
    const places = room.picture.value?.places ?? [];
    const last = Math.max(-1, ...places.filter((place) => place.kind === kind).map(({ order }) => order));
    const only = lines.length === 1 ? lines[0] : undefined;
    const asked = await api.addPlace({
      kind,
      name: name.value.trim(),
      order: last + 1,
      ...(kind === 'tank' && only !== undefined ? { lineId: only.id } : {}),
    });
    said.value = asked.ok ? `${asked.value.body.name} is added. Say what it holds under Change.` : asked.fault.detail;
    if (asked.ok) name.value = '';
  };
  const empty = name.value.trim() === '';
  return (
    <section class="places-add">
      <h2 class="page-part">Add</h2>
      <Field label="Name" hint="As it stands on the tank: L3, North line." value={name} />
      <div class="buttons">
        <button type="button" class="night-button" disabled={empty} onClick={() => void add('tank')}>
          Add a tank
        </button>
        <button type="button" class="night-button" disabled={empty} onClick={() => void add('line')}>
          Add a supply line
        </button>
      </div>
      <details class="entry-more">
        <summary>Something else</summary>
        <div class="pill-row">
          {OTHER_KINDS.map((kind) => (
            <button key={kind} type="button" class="pill" disabled={empty} onClick={() => void add(kind)}>
              {capital(namesFor(room.reader.value).place[kind])}
            </button>
          ))}
        </div>
      </details>
      <p class="form-said" role="status">
        {said.value}
      </p>
    </section>
  );
};
