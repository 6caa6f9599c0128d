import { useSignal } from '@preact/signals';
import { feedVolumeL } from '../../rules/husbandry/feed.js';
import { bandMiddle, feedTargetOf } from '../../rules/stage/feed-target.js';
import type { PlacePicture } from '../../rules/wire/picture.js';
import { plainWords } from '../../rules/words/figure.js';
import { stageName } from '../../rules/words/name.js';
import { refusalSentence } from '../../rules/words/refusal.js';
import { useAsked } from '../state/asked.js';
import { animalsFrom } from '../state/entry-draft.js';
import { useApi } from '../state/gateway.js';
import { useTanks } from '../state/places.js';
import { useRoom } from '../state/room.js';
import { mayAnswer, session } from '../state/session.js';
import { useWriter } from '../state/writing.js';
import { Said } from './said.js';

const DAY_MS = 86_400_000;

/**
 * Food for every tank today: from what its stage wants, what is left in the water, and how dense the culture is. Nothing
 * before the first picture: till then only this device says what day it is.
 */
export const FeedSheet = () => (useRoom().picture.value === undefined ? null : <Today />);

const Today = () => {
  const room = useRoom();
  const api = useApi();
  const alga = useSignal('');
  const culture = useSignal('');
  const sequence = room.picture.value?.sequence ?? 0;
  const from = String(Math.max(0, Math.round(room.nowMs.peek() - DAY_MS)));
  const { answer } = useAsked(() => api.log({ kind: 'feeding', from }), `${sequence}`);
  const fed =
    answer.value.kind === 'here' ? answer.value.value.filter(({ replacedBy }) => replacedBy === undefined) : [];
  const tanks = useTanks().filter((place) => feedTargetOf(place) !== undefined);
  return (
    <section class="feed-sheet">
      <h2 class="page-part">Food today</h2>
      <div class="form-grid">
        <Typed label="Culture" value={alga.value} onText={(text) => (alga.value = text)} />
        <Typed
          label="Its density, cells per mL"
          value={culture.value}
          onText={(text) => (culture.value = text)}
          hint="5 million can be written as 5m."
        />
      </div>
      {tanks.length === 0 ? (
        <p class="page-note">No tank here has a stage that is fed. Say under Tanks what each holds.</p>
      ) : null}
      <ol class="feed-rows">
        {tanks.map((place) => (
          <FeedRow
            key={place.id}
            place={place}
            alga={alga.value}
            culture={culture.value}
            times={fed.filter(({ entry }) => entry.placeId === place.id).length}
          />
        ))}
      </ol>
      <p class="page-note">
        Cells are those of a small flagellate. A tank that still has food left is worth a look before it is fed.
      </p>
    </section>
  );
};

type TypedProps = {
  readonly label: string;
  readonly value: string;
  readonly onText: (text: string) => void;
  readonly hint?: string;
};

const Typed = ({ label, value, onText, hint }: TypedProps) => (
  <div class="field">
    <label>
      {label}
      <input value={value} autocomplete="off" onInput={(event) => onText(event.currentTarget.value)} />
    </label>
    {hint === undefined ? null : <p class="field-said">{hint}</p>}
  </div>
);

type RowProps = {
  readonly place: PlacePicture;
  readonly alga: string;
  readonly culture: string;
  readonly times: number;
};

const FeedRow = ({ place, alga, culture, times }: RowProps) => {
  const target = useSignal(String(bandMiddle(feedTargetOf(place)) ?? ''));
  const residual = useSignal('0');
  const { state, write } = useWriter();
  const reader = useRoom().reader.value;
  const [targetCellsMl, residualCellsMl] = [animalsFrom(target.value, reader), animalsFrom(residual.value, reader)];
  const cultureCellsMl = animalsFrom(culture, reader);
  const isReady = targetCellsMl !== undefined && residualCellsMl !== undefined && cultureCellsMl !== undefined;
  const answer =
    isReady && place.volumeL !== undefined
      ? feedVolumeL({ tankVolumeL: place.volumeL, targetCellsMl, residualCellsMl, stockCellsMl: cultureCellsMl })
      : undefined;
  const litres = answer?.ok === true ? Number(answer.value.toFixed(answer.value < 10 ? 2 : 1)) : undefined;
  const feed = (): void => {
    if (litres === undefined) return;
    const said = alga.trim() === '' ? {} : { alga: alga.trim() };
    void write({
      kind: 'feeding',
      placeId: place.id,
      fields: { ...said, volumeL: litres, cultureCellsMl, targetCellsMl, residualCellsMl },
    });
  };
  return (
    <li class="feed-row">
      <p>
        <b>{place.name}</b> {place.stage === undefined ? null : stageName(place.stage, reader)}
        {place.volumeL === undefined ? ', volume not known' : `, ${plainWords(place.volumeL, 6, reader)} L`}
        {times === 0 ? null : `, fed ${times === 1 ? 'once' : `${times} times`} in 24 h`}
      </p>
      <div class="form-grid">
        <Typed label="Wanted, cells per mL" value={target.value} onText={(text) => (target.value = text)} />
        <Typed label="Left, cells per mL" value={residual.value} onText={(text) => (residual.value = text)} />
      </div>
      <p class={litres === undefined ? 'page-note' : 'feed-litres'} role="status">
        {litres !== undefined
          ? `${plainWords(litres, 6, reader)} L`
          : answer?.ok === false
            ? refusalSentence(answer.fault, reader)
            : 'Say above how dense the culture is.'}
      </p>
      {mayAnswer(session.value) ? (
        <button type="button" class="pill" disabled={litres === undefined || litres <= 0} onClick={feed}>
          Fed
        </button>
      ) : null}
      <Said state={state.value} />
    </li>
  );
};
