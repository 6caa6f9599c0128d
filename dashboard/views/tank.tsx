import { hasLine, type Quantity } from '../../rules/quantity.js';
import type { ChannelPicture, PlacePicture } from '../../rules/wire/picture.js';
import { stateWords, wantsPhrase } from '../../rules/words/channel.js';
import { dateWords, durationWords } from '../../rules/words/clock.js';
import { plainWords } from '../../rules/words/figure.js';
import type { Reader } from '../../rules/words/language.js';
import { capital, channelName, namesFor, stageName } from '../../rules/words/name.js';
import { numberWords, unitWords } from '../../rules/words/number.js';
import { isLifted, markOf, toneOf } from '../chart/mark.js';
import { Trace } from '../chart/trace.js';
import { BedPart } from '../parts/bed-part.js';
import { MarkPicture } from '../parts/mark.js';
import { LifeLine, Page } from '../parts/page.js';
import { DeclareWork, WorkStrip } from '../parts/work-strip.js';
import { WriteButtons } from '../parts/write-buttons.js';
import { useAsked } from '../state/asked.js';
import { useApi } from '../state/gateway.js';
import { shownLight } from '../state/light.js';
import { useRoom } from '../state/room.js';
import { makeRoute } from '../state/route.js';
import { placeOf } from '../state/strip.js';
import { AlarmLine } from './list.js';

const HOUR_MS = 3_600_000;
const SPAN_MS = 24 * HOUR_MS;
const POINTS = 480;
/** The traces are asked for again this often; the value beside them is live. */
const AGAIN_MS = 60_000;

/** One tank: every channel on its own waterline with its last 24 hours, and what is open. */
export const Tank = ({ id }: { readonly id: string }) => {
  const room = useRoom();
  const picture = room.picture.value;
  const place = picture?.places.find((one) => one.id === id);
  if (picture === undefined) return <Page here="tank">{null}</Page>;
  if (place === undefined) return <NoTank id={id} />;
  const line = picture.places.find((one) => one.id === place.lineId);
  const channels = inReadingOrder(picture.channels.filter(({ placeId }) => placeId === id));
  const alarms = room.alarms.value.filter(({ subject }) => placeOf(subject) === id);
  return (
    <Page here="tank" about={id}>
      <header class="tank-head">
        <h1>{place.name}</h1>
        <p>{aboutTank(place, room.nowMs.value, room.reader.value)}</p>
        <p class="tank-line">{line?.name}</p>
      </header>
      {place.work === undefined ? null : <WorkStrip place={place} work={place.work} />}
      <ol class="list-alarms">
        {alarms.map((alarm) => (
          <AlarmLine key={alarm.id} alarm={alarm} />
        ))}
      </ol>
      {channels.length === 0 ? (
        <p class="page-note">No probe is named for this tank yet. Name one under Boards.</p>
      ) : null}
      {channels.map((channel, index) => (
        <ChannelStrip key={channel.id} channel={channel} place={place} clock={index === channels.length - 1} />
      ))}
      {place.bed === undefined ? null : <BedPart place={place} />}
      {place.kind === 'tank' || place.kind === 'bath' ? <Hands place={place} /> : null}
      <LifeLine />
    </Page>
  );
};

/** What a person does at this tank: write, declare, look at its limits. */
const Hands = ({ place }: { place: PlacePicture }) => {
  const batches = place.batch?.split(' + ') ?? [];
  return (
    <>
      <h2 class="page-part">Write about {place.name}</h2>
      <WriteButtons place={place.id} />
      <DeclareWork place={place} />
      <nav class="ways" aria-label={`More about ${place.name}`}>
        <a href={makeRoute({ page: 'limits', id: place.id })}>
          <b>Limits</b> <span>and the last 30 days beside them</span>
        </a>
        <a href={makeRoute({ page: 'history', tank: place.id })}>
          <b>History</b> <span>any channel, any time, beside another tank</span>
        </a>
        {isSwimming(place) ? (
          <a href={makeRoute({ page: 'reviews', tank: place.id, start: 'larvae-on-bottom' })}>
            <b>Larvae on the bottom</b> <span>the first hour, and what happened before</span>
          </a>
        ) : null}
        <a href={makeRoute({ page: 'reviews', tank: place.id })}>
          <b>After deaths</b> <span>the first hour, and what happened before</span>
        </a>
        {batches.map((id) => (
          <a key={id} href={makeRoute({ page: 'batch', id })}>
            <b>Batch {id}</b> <span>where it has been</span>
          </a>
        ))}
      </nav>
    </>
  );
};

/** What a person asks for first comes first; what another number is computed from comes after it. */
const READ_LAST: readonly Quantity[] = ['oxygen-mg-l', 'conductivity', 'specific-conductance', 'contact', 'battery'];
const READ_FIRST: readonly Quantity[] = ['temperature', 'salinity', 'oxygen-saturation'];

const inReadingOrder = (channels: readonly ChannelPicture[]): readonly ChannelPicture[] => {
  const rank = ({ quantity }: ChannelPicture): number =>
    READ_FIRST.includes(quantity) ? READ_FIRST.indexOf(quantity) - READ_FIRST.length : READ_LAST.indexOf(quantity) + 1;
  return channels.toSorted((a, b) => rank(a) - rank(b));
};

const SWIMMING: readonly (string | undefined)[] = ['embryo', 'larva', 'setting'];
const isSwimming = ({ stage }: PlacePicture): boolean => SWIMMING.includes(stage);

const NoTank = ({ id }: { id: string }) => (
  <Page here="tank">
    <h1 class="page-title">No tank “{id}”</h1>
    <p class="page-note">It may have been renamed or taken out. All tanks are under Tanks.</p>
  </Page>
);

/** `larvae, day 5, static, 400 L, sand bed` */
const aboutTank = (place: PlacePicture, nowMs: number, reader: Reader): string => {
  const days =
    place.stageSinceMs === undefined
      ? []
      : [`day ${Math.max(1, Math.ceil((nowMs - place.stageSinceMs) / (24 * HOUR_MS)))}`];
  const parts = [
    ...(place.stage === undefined ? [] : [stageName(place.stage, reader), ...(place.stage === 'empty' ? [] : days)]),
    ...(place.regime === undefined ? [] : [namesFor(reader).regime[place.regime]]),
    ...(place.volumeL === undefined ? [] : [`${plainWords(place.volumeL, 6, reader)} L`]),
    ...(place.bed === undefined ? [] : [`${place.bed.kind} bed`]),
  ];
  return parts.join(', ');
};

const ChannelStrip = ({ channel, place, clock }: { channel: ChannelPicture; place: PlacePicture; clock: boolean }) => {
  const room = useRoom();
  const api = useApi();
  const reader = room.reader.value;
  const turn = Math.floor(room.nowMs.value / AGAIN_MS);
  const toMs = (turn + 1) * AGAIN_MS;
  const { answer } = useAsked(() => api.readings(channel.id, toMs - SPAN_MS, toMs, POINTS), `${channel.id} ${turn}`);
  const alarm = room.alarms.value.find(({ finding }) => finding.channelId === channel.id);
  const mark = markOf(channel, alarm, isLifted(place));
  const tone = toneOf(mark, alarm);
  const here = answer.value.kind === 'here' ? answer.value.value : undefined;
  const now =
    channel.value === undefined || channel.atMs === undefined
      ? {}
      : { now: { atMs: channel.atMs, value: channel.value, mark, tone } };
  return (
    <section class={`channel channel-${tone}`}>
      <ChannelWords channel={channel} place={place} mark={mark} tone={tone} nowMs={room.nowMs.value} />
      {here === undefined ? (
        <p class="channel-wait">
          {answer.value.kind === 'refused' ? answer.value.problem.detail : 'Fetching 24 hours …'}
        </p>
      ) : (
        <Trace
          readings={here}
          wants={channel.wants}
          reader={reader}
          {...(mark === 'unwatched' ? {} : now)}
          fromMs={toMs - SPAN_MS}
          toMs={toMs}
          height={clock ? 214 : 180}
          named={channel.wants !== undefined}
          clock={clock}
          light={shownLight.value}
        />
      )}
    </section>
  );
};

type WordsProps = {
  readonly channel: ChannelPicture;
  readonly place: PlacePicture;
  readonly mark: ReturnType<typeof markOf>;
  readonly tone: ReturnType<typeof toneOf>;
  readonly nowMs: number;
};

const ChannelWords = ({ channel, place, mark, tone, nowMs }: WordsProps) => {
  const reader = useRoom().reader.value;
  const { quantity, position, state } = channel;
  const lined = hasLine(quantity);
  const name = capital(channelName(channel, place.kind, reader));
  return (
    <header class="channel-words">
      <h2>
        {name}
        {position === undefined || quantity === 'contact' ? null : <small> {position}</small>}
        {channel.computed ? <small> computed</small> : null}
      </h2>
      <p class="channel-value">
        {channel.value === undefined ? '–' : numberWords(quantity, channel.value, reader)}
        <small> {unitWords(quantity, reader)}</small>
      </p>
      {!lined && state === 'in-target' ? null : (
        <p class="channel-state">
          <MarkPicture mark={mark} tone={tone} />{' '}
          {channel.wants === undefined && state === 'in-target' ? 'no target' : stateWords(state, reader)}
          {state === 'in-target' ? null : ` ${durationWords(nowMs - channel.sinceMs, reader)}`}
        </p>
      )}
      {channel.wants === undefined ? null : <p class="channel-wants">{wantsPhrase(channel, reader)}</p>}
      {channel.wants?.confirmed === false ? <p class="channel-wants">limit not confirmed</p> : null}
      {channel.notWatched === undefined || !lined ? null : (
        <p class="channel-wants">not watched: {namesFor(reader).notWatched[channel.notWatched]}</p>
      )}
      <AgeOf channel={channel} nowMs={nowMs} reader={reader} />
    </header>
  );
};

/** An old value says how old it is. */
const AgeOf = ({ channel, nowMs, reader }: { channel: ChannelPicture; nowMs: number; reader: Reader }) => {
  if (channel.atMs === undefined) return <p class="channel-wants">no reading yet</p>;
  const age = nowMs - channel.atMs;
  if (age < Math.max(60_000, 3 * (channel.periodMs ?? 0))) return null;
  return (
    <p class="channel-wants">
      read {durationWords(age, reader)} ago, {dateWords(channel.atMs, reader)}
    </p>
  );
};
