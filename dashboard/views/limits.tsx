import { useSignal } from '@preact/signals';
import { makeChannelId } from '../../rules/channel.js';
import type { Place } from '../../rules/place.js';
import { confirmedPlace, linesOf, STAGE_LINES, type StageLine } from '../../rules/stage/confirm.js';
import { BAND_QUANTITIES, type BandQuantity, bandFor, isSpeciesGroupId } from '../../rules/stage/profiles.js';
import { STANDING_MEANING } from '../../rules/stage/standing.js';
import type { ChannelReadings, Versioned } from '../../rules/wire/api.js';
import { noNumberSentence, typedNumber, typedWords } from '../../rules/words/figure.js';
import type { Reader } from '../../rules/words/language.js';
import { capital, namesFor, stageName } from '../../rules/words/name.js';
import { canonicalValue, lineWords, shownValue, spanWords, unitWords } from '../../rules/words/number.js';
import { LINE_WORDS } from '../../rules/words/setting-field.js';
import { Trace } from '../chart/trace.js';
import { Page } from '../parts/page.js';
import { SoundingsAsk } from '../parts/soundings-ask.js';
import { useAsked } from '../state/asked.js';
import { useApi } from '../state/gateway.js';
import { shownLight } from '../state/light.js';
import { useRoom } from '../state/room.js';
import { mayAnswer, mayChange, session } from '../state/session.js';

const DAY_MS = 86_400_000;
const DAYS = 30;

/** The limits of a tank in its stage, beside its last thirty days: one look, one tap to stand by them. */
export const LimitsPage = ({ id }: { readonly id: string }) => {
  const api = useApi();
  const { answer, again } = useAsked(() => api.place(id), id);
  if (answer.value.kind === 'waiting') return <Page here="limits">{null}</Page>;
  if (answer.value.kind === 'refused')
    return (
      <Page here="limits">
        <p class="page-note">{answer.value.problem.detail}</p>
      </Page>
    );
  const { value } = answer.value;
  return (
    <Page here="limits" about={id}>
      <Limits key={value.version} place={value} onAgain={again} />
    </Page>
  );
};

type LimitsProps = { readonly place: Versioned<Place>; readonly onAgain: () => void };
type Texts = { readonly [line: string]: string };

const Limits = ({ place: { body: place, version }, onAgain }: LimitsProps) => {
  const room = useRoom();
  const api = useApi();
  const reader = room.reader.value;
  const texts = useSignal<Texts>({});
  const said = useSignal<string | undefined>(undefined);
  const faults = useSignal<Texts>({});
  const { stage, speciesGroup } = place;
  const typedPlace = (): Place | string => {
    const { typed, wrong } = typedLines(texts.value, reader);
    faults.value = wrong;
    return Object.values(wrong)[0] ?? confirmedPlace(place, typed);
  };
  const confirm = async (): Promise<void> => {
    const typed = typedPlace();
    if (typeof typed === 'string') {
      said.value = typed;
      return;
    }
    const asked = await api.changePlace(typed, version);
    if (asked.ok) return onAgain();
    said.value = asked.fault.detail;
    faults.value = Object.fromEntries(
      (asked.fault.faults ?? []).map(({ pointer, detail }) => [pointer.split('/').slice(-2).join(' '), detail]),
    );
  };
  if (stage === undefined || stage === 'empty' || speciesGroup === undefined || !isSpeciesGroupId(speciesGroup))
    return (
      <>
        <h1 class="page-title">{place.name}</h1>
        <p class="page-note">This tank is empty, or nobody has said what it holds: there is nothing to watch.</p>
      </>
    );
  const quantities = BAND_QUANTITIES.filter((quantity) => hasChannel(room, place.id, quantity));
  const isConfirmed = quantities.length > 0 && quantities.every((quantity) => linesOf(place, quantity).confirmed);
  return (
    <>
      <h1 class="page-title">
        {place.name}: limits for {stageName(stage, reader)}
      </h1>
      <p class="page-note">
        {isConfirmed
          ? 'The hatchery stands by these lines.'
          : 'These lines sound, and are marked as not confirmed. Look at them beside the last 30 days; change what is not yours.'}
        {place.held === undefined
          ? null
          : ' Some lines are held at the tighter value of the stage before, until you confirm.'}
      </p>
      {quantities.length === 0 ? <p class="page-note">No probe is named for this tank yet.</p> : null}
      {quantities.map((quantity) => (
        <Row key={quantity} place={place} quantity={quantity} texts={texts} faults={faults.value} />
      ))}
      {mayAnswer(session.value) && quantities.length > 0 ? <SoundingsAsk typed={typedPlace} /> : null}
      {mayChange(session.value) && quantities.length > 0 ? (
        <div class="answer">
          <p class="form-said form-said-wrong" role="alert">
            {said.value}
          </p>
          <button type="button" class="night-button night-button-first" onClick={() => void confirm()}>
            Stand by these for {stageName(stage, reader)}
          </button>
        </div>
      ) : null}
    </>
  );
};

const hasChannel = (room: ReturnType<typeof useRoom>, placeId: string, quantity: BandQuantity): boolean =>
  (room.picture.value?.channels ?? []).some((one) => one.placeId === placeId && one.quantity === quantity);

/** Typed lines in canonical units by quantity and line, and what is wrong with others, by the name of their field. */
const typedLines = (texts: Texts, reader: Reader): { typed: Parameters<typeof confirmedPlace>[1]; wrong: Texts } => {
  const typed: { [quantity in BandQuantity]?: { [line in StageLine]?: number } } = {};
  const wrong: Record<string, string> = {};
  for (const quantity of BAND_QUANTITIES) {
    for (const line of STAGE_LINES) {
      const text = texts[`${quantity} ${line}`];
      if (text === undefined) continue;
      const value = typedNumber(text, reader);
      if (value === null) wrong[`${quantity} ${line}`] = noNumberSentence(text, reader);
      else if (value !== undefined)
        typed[quantity] = { ...typed[quantity], [line]: canonicalValue(quantity, value, reader) };
    }
  }
  return { typed, wrong };
};

type RowProps = {
  readonly place: Place;
  readonly quantity: BandQuantity;
  readonly texts: { value: Texts };
  readonly faults: Texts;
};

const Row = ({ place, quantity, texts, faults }: RowProps) => {
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
        {STAGE_LINES.map((line) => (
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
