import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { canonicalFrom, QUANTITIES, type Quantity, UNITS_UNDERSTOOD } from '../../rules/quantity.js';
import type { NameSource, SourcePicture } from '../../rules/wire/api.js';
import { durationWords } from '../../rules/words/clock.js';
import { plainWords } from '../../rules/words/figure.js';
import type { Reader } from '../../rules/words/language.js';
import { namesFor } from '../../rules/words/name.js';
import { valueWords } from '../../rules/words/number.js';
import { companionSentence } from '../../rules/words/source.js';
import { AddBoard } from '../parts/add-board.js';
import { BoardList } from '../parts/board-list.js';
import { Choice, Field } from '../parts/field.js';
import { LifeLine, Page } from '../parts/page.js';
import { PublishLine } from '../parts/publish-line.js';
import { useAsked } from '../state/asked.js';
import { useApi } from '../state/gateway.js';
import { nameFrom, newPlaceName } from '../state/naming.js';
import { useRoom } from '../state/room.js';
import { makeRoute } from '../state/route.js';
import { mayChange, session } from '../state/session.js';

/** Sources are asked for again this often, so that a new board is seen arriving. */
const AGAIN_MS = 3000;

/** Pointing a board here, seeing it arrive, and naming what it sends. */
export const Sources = () => {
  const room = useRoom();
  const api = useApi();
  const turn = Math.floor(room.nowMs.value / AGAIN_MS);
  const { answer, again } = useAsked(() => api.sources(), `${turn}`);
  const sources = answer.value.kind === 'here' ? answer.value.value : [];
  const unnamed = sources.filter(({ mapping }) => mapping === undefined);
  const named = sources.filter(({ mapping }) => mapping !== undefined);
  return (
    <Page here="sources">
      <h1 class="page-title">Boards</h1>
      <PublishLine />
      {mayChange(session.value) ? <AddBoard /> : null}
      <h2 class="page-part">{unnamed.length === 0 ? 'Nothing waits for a name' : 'Waiting for a name'}</h2>
      {answer.value.kind === 'refused' ? <p class="page-note">{answer.value.problem.detail}</p> : null}
      {sources.length === 0 && answer.value.kind === 'here' ? (
        <p class="page-note">No board has spoken yet. Its first reading appears here by itself.</p>
      ) : null}
      <ol class="sources">
        {unnamed.map((source) => (
          <Unnamed key={source.id} source={source} onNamed={again} />
        ))}
      </ol>
      {named.length === 0 ? null : <h2 class="page-part">Named</h2>}
      <ol class="sources">
        {named.map((source) => (
          <li key={source.id} class="source">
            <SourceWords source={source} />
            <Companion source={source} named={named} />
          </li>
        ))}
      </ol>
      <BoardList />
      <nav class="ways" aria-label="More about boards">
        <a href={makeRoute({ page: 'buttons' })}>
          <b>Buttons</b> <span>contacts that write into the log when they are pressed</span>
        </a>
      </nav>
      <Malformed />
      <LifeLine />
    </Page>
  );
};

const SourceWords = ({ source }: { source: SourcePicture }) => {
  const room = useRoom();
  const places = room.picture.value?.places ?? [];
  const channel = room.picture.value?.channels.find(({ id }) => id === source.mapping?.channelId);
  const place = places.find(({ id }) => id === channel?.placeId);
  return (
    <>
      <p class="source-key">{source.key}</p>
      <p class="source-last">{lastWords(source, channel?.quantity, room.reader.value)}</p>
      <p class="source-about">
        {source.mapping === undefined
          ? null
          : `${place?.name ?? ''} ${channel === undefined ? source.mapping.channelId : namesFor(room.reader.value).quantity[channel.quantity]}, `}
        {source.lastSeenMs === undefined
          ? 'not heard yet'
          : `${durationWords(room.nowMs.value - source.lastSeenMs)} ago`}
        , {source.readings} readings
      </p>
    </>
  );
};

/** Two sources for one channel: which of them speaks. */
const Companion = ({ source, named }: { source: SourcePicture; named: readonly SourcePicture[] }) => {
  const reader = useRoom().reader.value;
  const { mapping } = source;
  if (mapping === undefined || mapping.ruling) return null;
  const speaking = named.find((one) => one.mapping?.ruling === true && one.mapping.channelId === mapping.channelId);
  return <p class="source-about">{companionSentence(speaking?.key, reader)}</p>;
};

/** A named source in the unit that people read; before that, the number as it was sent. */
const lastWords = (source: SourcePicture, quantity: Quantity | undefined, reader: Reader): string => {
  if (source.lastValue === undefined) return '–';
  const sent = plainWords(source.lastValue, 6, reader);
  if (quantity === undefined || source.mapping === undefined) return `${sent} ${source.statedUnit ?? ''}`;
  const value = canonicalFrom(quantity, source.mapping.unit, source.lastValue);
  return value === undefined ? sent : valueWords(quantity, value, reader);
};

/** Naming in at most three steps: which tank, what it is (filled in where the topic says it), done. */
const Unnamed = ({ source, onNamed }: { source: SourcePicture; onNamed: () => void }) => {
  const room = useRoom();
  const api = useApi();
  const tanks = (room.picture.value?.places ?? []).filter(({ kind }) => kind !== 'circuit');
  const tank = useSignal(source.suggestion?.tank ?? '');
  const quantity = useSignal<string>(source.suggestion?.quantity ?? 'temperature');
  const unit = useSignal(source.suggestion?.unit ?? source.statedUnit ?? '');
  const said = useSignal<string | undefined>(undefined);
  const sending = useSignal(false);
  const isQuantity = (text: string): text is Quantity => QUANTITIES.some((one) => one === text);
  const units = isQuantity(quantity.value) ? Object.keys(UNITS_UNDERSTOOD[quantity.value]) : [];
  useEffect(() => {
    if (!units.includes(unit.value)) unit.value = units[0] ?? '';
  }, [quantity.value]);
  const send = async (event: Event): Promise<void> => {
    event.preventDefault();
    if (!isQuantity(quantity.value)) return;
    const name: NameSource = { place: nameFrom(tank.value, tanks), quantity: quantity.value, unit: unit.value };
    sending.value = true;
    const asked = await api.nameSource(source.id, name);
    sending.value = false;
    if (asked.ok) onNamed();
    else said.value = asked.fault.detail;
  };
  const fresh = newPlaceName(tank.value, tanks);
  const names = namesFor(room.reader.value).quantity;
  return (
    <li class="source">
      <SourceWords source={source} />
      {!mayChange(session.value) ? null : (
        <form class="source-form" onSubmit={(event) => void send(event)}>
          <Field
            label="Tank"
            value={tank}
            list={tanks.map(({ name }) => name)}
            {...(fresh === undefined ? {} : { hint: `“${fresh}” is new: it will be added.` })}
          />
          <Choice label="Measures" value={quantity} choices={QUANTITIES.map((one) => [one, names[one]])} />
          <Choice label="Sends in" value={unit} choices={units.map((one) => [one, one])} />
          <button type="submit" class="night-button" disabled={sending.value || tank.value.trim() === ''}>
            Name it
          </button>
          <p class="form-said" role="alert">
            {said.value}
          </p>
        </form>
      )}
    </li>
  );
};

/** What could not be read, with the reason: a board that speaks wrongly is shown, not hidden. */
const Malformed = () => {
  const room = useRoom();
  const api = useApi();
  const { answer } = useAsked(() => api.malformed(), `${Math.floor(room.nowMs.value / (4 * AGAIN_MS))}`);
  if (answer.value.kind !== 'here' || answer.value.value.length === 0) return null;
  return (
    <>
      <h2 class="page-part">Could not be read</h2>
      <ol class="sources">
        {answer.value.value.slice(0, 20).map((one) => (
          <li key={`${one.atMs} ${one.topic}`} class="source">
            <p class="source-key">{one.topic}</p>
            <p class="source-about">
              {one.sentence} {durationWords(room.nowMs.value - one.atMs)} ago, {one.bytes} bytes
            </p>
            <code>{one.start}</code>
          </li>
        ))}
      </ol>
    </>
  );
};
