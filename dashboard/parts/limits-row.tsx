import { makeChannelId } from '../../rules/channel.js';
import type { Place } from '../../rules/place.js';
import { linesOf, STAGE_LINES, type StageLine } from '../../rules/stage/confirm.js';
import { type BandQuantity, bandFor, isSpeciesGroupId } from '../../rules/stage/profiles.js';
import { STANDING_MEANING } from '../../rules/stage/standing.js';
import type { ChannelReadings } from '../../rules/wire/api.js';
import { typedWords } from '../../rules/words/figure.js';
import type { Reader } from '../../rules/words/language.js';
import { capital, namesFor } from '../../rules/words/name.js';
import { lineWords, shownValue, spanWords, unitWords } from '../../rules/words/number.js';
import { LINE_WORDS } from '../../rules/words/setting-field.js';
import { Trace } from '../chart/trace.js';
import { useAsked } from '../state/asked.js';
import type { CourseDraft } from '../state/course-form.js';
import { useApi } from '../state/gateway.js';
import { shownLight } from '../state/light.js';
import { useRoom } from '../state/room.js';
import { CoursePart } from './course-part.js';

const DAY_MS = 86_400_000;
const DAYS = 30;

type Texts = { readonly [line: string]: string };

type RowProps = {
  readonly place: Place;
  readonly quantity: BandQuantity;
  readonly texts: { value: Texts };
  readonly faults: Texts;
  /** Where this reader may say how its target moves. */
  readonly draft?: CourseDraft | undefined;
};

/** One quantity: its lines to confirm, the way of its target, and the last thirty days beside them. */
export const LimitsRow = ({ place, quantity, texts, faults, draft }: RowProps) => {
  const room = useRoom();
  const api = useApi();
  const reader = room.reader.value;
  const lines = linesOf(place, quantity);
  const channels = room.picture.value?.channels ?? [];
  const channel = channels.find((one) => one.placeId === place.id && one.quantity === quantity);
  const channelId = channel?.id ?? makeChannelId({ placeId: place.id, quantity });
  const toMs = Math.ceil(room.nowMs.peek() / DAY_MS) * DAY_MS;
  const { answer } = useAsked(() => api.readings(channelId, toMs - DAYS * DAY_MS, toMs, 720), channelId);
  const readings = answer.value.kind === 'here' ? answer.value.value : undefined;
  return (
    <section class="limits-row">
      <h2>
        {capital(namesFor(reader).quantity[quantity])} <small>{unitWords(quantity, reader)}</small>
      </h2>
      <p class="channel-wants">
        {lines.confirmed ? 'confirmed' : 'not confirmed'}
        {standingOf(place, quantity)}
      </p>
      <div class="own-line">
        {shownLines(draft).map((line) => (
          <div key={line} class={faults[`${quantity} ${line}`] === undefined ? 'field' : 'field field-wrong'}>
            <label>
              {LINE_WORDS[line]}
              <input
                inputMode="decimal"
                value={texts.value[`${quantity} ${line}`] ?? shownText(quantity, lines[line], reader)}
                onInput={(event) => {
                  texts.value = { ...texts.value, [`${quantity} ${line}`]: event.currentTarget.value };
                }}
              />
            </label>
            {faults[`${quantity} ${line}`] === undefined ? null : (
              <p class="field-said" role="alert">
                {faults[`${quantity} ${line}`]}
              </p>
            )}
            {heldAt(place, quantity, line) === undefined ? null : (
              <p class="field-said">held at {lineWords(quantity, heldAt(place, quantity, line) ?? 0, reader)}</p>
            )}
          </div>
        ))}
      </div>
      {draft === undefined ? null : <CoursePart place={place} draft={draft} lines={lines} />}
      <LastDays readings={readings} reader={reader} quantity={quantity} />
      {readings === undefined || channel === undefined ? null : (
        <Trace
          readings={readings}
          wants={channel.wants}
          reader={reader}
          fromMs={toMs - DAYS * DAY_MS}
          toMs={toMs}
          height={160}
          named
          clock={false}
          light={shownLight.value}
        />
      )}
    </section>
  );
};

/** A target that moves has no line of its own to type. */
const shownLines = (draft: CourseDraft | undefined): readonly StageLine[] =>
  draft === undefined || draft.way.value === 'stays'
    ? STAGE_LINES
    : STAGE_LINES.filter((line) => line !== 'targetLow' && line !== 'targetHigh');

const shownText = (quantity: BandQuantity, value: number | undefined, reader: Reader): string =>
  value === undefined ? '' : typedWords(shownValue(quantity, value, reader), 2, reader);

const heldAt = ({ held }: Place, quantity: BandQuantity, line: StageLine): number | undefined =>
  line === 'limitLow' || line === 'limitHigh' || line === 'ceilingHigh' ? held?.[quantity]?.[line] : undefined;

/** How far the profile's own figures can be trusted. */
const standingOf = ({ speciesGroup, stage }: Place, quantity: BandQuantity): string => {
  if (speciesGroup === undefined || stage === undefined || !isSpeciesGroupId(speciesGroup)) return '';
  const band = bandFor(speciesGroup, stage, quantity);
  return band === undefined ? '' : `; the profile’s limit: ${STANDING_MEANING[band.limit.standing]}`;
};

type DaysProps = {
  readonly readings: ChannelReadings | undefined;
  readonly reader: Reader;
  readonly quantity: BandQuantity;
};

const LastDays = ({ readings, reader, quantity }: DaysProps) => {
  const lows = (readings?.min ?? []).filter((value) => value !== null);
  const highs = (readings?.max ?? []).filter((value) => value !== null);
  if (lows.length === 0 || highs.length === 0)
    return <p class="channel-wants">Nothing was read in the last 30 days.</p>;
  const words = spanWords(quantity, Math.min(...lows), Math.max(...highs), reader);
  return <p class="channel-wants">In the last 30 days: {words}</p>;
};
