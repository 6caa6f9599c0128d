import { useSignal } from '@preact/signals';
import type { AlarmPicture } from '../../rules/alarm/alarm.js';
import type { FaultPicture } from '../../rules/wire/waking.js';
import { cautions, checkSentence } from '../../rules/words/check.js';
import { clockWords, durationWords } from '../../rules/words/clock.js';
import { findingSentence } from '../../rules/words/finding.js';
import { forecastRecordWords } from '../../rules/words/forecast.js';
import { capital, stageName } from '../../rules/words/name.js';
import { type Mark, markOf, type Tone, toneOf } from '../chart/mark.js';
import { Trace } from '../chart/trace.js';
import { waking } from '../link/waking.js';
import { Aside, Latched } from '../parts/alarm-aside.js';
import { FaultAnswer, useFault } from '../parts/fault-answer.js';
import { MarkPicture } from '../parts/mark.js';
import { LifeLine, Page } from '../parts/page.js';
import { useAsked } from '../state/asked.js';
import { useApi } from '../state/gateway.js';
import { shownLight } from '../state/light.js';
import { isAnswered } from '../state/live.js';
import { useRoom } from '../state/room.js';
import { makeRoute } from '../state/route.js';
import { mayAnswer, session } from '../state/session.js';
import { placeOf } from '../state/strip.js';

const HOUR_MS = 3_600_000;
const MINUTE_MS = 60_000;

/** One alarm at three in the morning: one sentence, one trend, what to check, and the answer. */
export const Alarm = ({ id }: { readonly id: string }) => {
  const room = useRoom();
  const alarm = room.picture.value?.alarms.find((one) => one.id === id);
  if (room.picture.value === undefined) return <Page here="alarm">{null}</Page>;
  return <Page here="alarm">{alarm === undefined ? <Over /> : <Open alarm={alarm} />}</Page>;
};

const Over = () => (
  <>
    <h1 class="page-title">This alarm is over</h1>
    <p class="page-note">
      What ended lately is under <a href={makeRoute({ page: 'alarms' })}>Alarms</a>.
    </p>
  </>
);

const Open = ({ alarm }: { alarm: AlarmPicture }) => {
  const room = useRoom();
  const reader = room.reader.value;
  const nowMs = room.nowMs.value;
  const placeId = placeOf(alarm.subject);
  const place = room.picture.value?.places.find((one) => one.id === placeId);
  const channel = room.picture.value?.channels.find((one) => one.id === alarm.finding.channelId);
  const finding = channel?.value === undefined ? alarm.finding : { ...alarm.finding, value: channel.value };
  const words = findingSentence(finding, { ...reader, nowMs, place: place?.name ?? placeId });
  const mark: Mark =
    channel === undefined ? (isAnswered(alarm) ? 'diamond-answered' : 'diamond') : markOf(channel, alarm, false);
  const tone = toneOf(mark, alarm);
  return (
    <article class={`alarm alarm-${alarm.priority}`}>
      <header class="alarm-head">
        <MarkPicture mark={mark} tone={tone} />
        <h1>
          <a href={makeRoute({ page: 'tank', id: placeId })}>{place?.name ?? placeId}</a>
        </h1>
        {place?.stage === undefined ? null : <p>{stageName(place.stage, reader)}</p>}
        <time>{clockWords(nowMs, reader)}</time>
      </header>
      <p class="alarm-headline">
        {capital(words.headline.split(',')[0] ?? words.headline)}
        {words.rate === undefined ? null : `, ${words.rate}`}
      </p>
      <p class="alarm-cause">{capital(words.cause)}.</p>
      {words.left === undefined ? (
        <p class="alarm-since">{capital(words.since)}</p>
      ) : (
        <>
          <p class="alarm-left">{words.left}</p>
          <p class="alarm-until">{words.until}</p>
        </>
      )}
      <AlarmTrace alarm={alarm} mark={mark} tone={tone} />
      <Latched alarm={alarm} />
      <Checks alarm={alarm} />
      <Answers alarm={alarm} />
      {alarm.finding.harm === undefined ? null : <PastForecasts />}
      <Aside alarm={alarm} />
      <LifeLine />
    </article>
  );
};

/** How far a time like the one above has been off. Nothing, while nothing is known. */
const PastForecasts = () => {
  const api = useApi();
  const reader = useRoom().reader.value;
  const { answer } = useAsked(api.forecasts, 'forecasts');
  if (answer.value.kind !== 'here' || answer.value.value.record.reached === 0) return null;
  return <p class="alarm-record">{forecastRecordWords(answer.value.value.record, reader)}</p>;
};

/** As far ahead as the forecast reaches, and four times as far back: a fast climb is not lost in a long calm. */
const windowOf = ({ finding }: AlarmPicture, nowMs: number): { readonly fromMs: number; readonly toMs: number } => {
  const { harm } = finding;
  const ahead = harm === undefined ? 0 : (harm.latestMs ?? harm.atMs + HOUR_MS) - nowMs;
  const forward = harm === undefined ? 0 : Math.min(Math.max(ahead * 1.2, 8 * MINUTE_MS), 6 * HOUR_MS);
  const back = harm === undefined ? 4 * HOUR_MS : Math.min(Math.max(forward * 4, HOUR_MS), 8 * HOUR_MS);
  return { fromMs: nowMs - back, toMs: nowMs + forward };
};

const AlarmTrace = ({ alarm, mark, tone }: { alarm: AlarmPicture; mark: Mark; tone: Tone }) => {
  const room = useRoom();
  const api = useApi();
  const channel = room.picture.value?.channels.find((one) => one.id === alarm.finding.channelId);
  const turn = Math.floor(room.nowMs.value / MINUTE_MS);
  const nowMs = (turn + 1) * MINUTE_MS;
  const { fromMs, toMs } = windowOf(alarm, nowMs);
  const { harm, line } = alarm.finding;
  const channelId = alarm.finding.channelId ?? '';
  const { answer } = useAsked(() => api.readings(channelId, fromMs, nowMs, 240), `${channelId} ${turn}`);
  if (channel?.value === undefined || channel.atMs === undefined || answer.value.kind !== 'here') return null;
  return (
    <Trace
      readings={answer.value.value}
      wants={channel.wants}
      reader={room.reader.value}
      now={{ atMs: channel.atMs, value: channel.value, mark, tone }}
      {...(harm === undefined || line === undefined ? {} : { forecast: { harm, line } })}
      fromMs={fromMs}
      toMs={toMs}
      height={190}
      named={true}
      clock={true}
      light={shownLight.value}
    />
  );
};

const Checks = ({ alarm }: { alarm: AlarmPicture }) => {
  const reader = useRoom().reader.value;
  const { water, alone, law } = cautions(reader);
  const checks = alarm.finding.checks ?? [];
  return (
    <section class="checks">
      {checks.length === 0 ? null : <h2>Check first</h2>}
      <ol>
        {checks.map((code) => (
          <li key={code}>{checkSentence(code, reader)}</li>
        ))}
      </ol>
      <p class="cautions">
        {water} {alone} {law}
      </p>
    </section>
  );
};

/** No ladder that anybody could answer. */
const isNobodys = (standing: FaultPicture['standing']): boolean => standing === 'nobody-called' || standing === 'ended';

/** The ladder of its fault answers; where nobody is woken, or nobody is on the list yet, the alarm is acknowledged by itself. */
const Answers = ({ alarm }: { alarm: AlarmPicture }) => {
  const fault = useFault(alarm);
  const { answer: people } = useAsked(waking.people, 'people');
  if (!mayAnswer(session.value) || fault === undefined || isNobodys(fault.standing)) return <Answer alarm={alarm} />;
  if (people.value.kind === 'waiting') return null;
  const hasPeople = people.value.kind === 'refused' || people.value.value.length > 0;
  return hasPeople ? <FaultAnswer fault={fault} /> : <Answer alarm={alarm} />;
};

/** Two buttons at most; the second comes when there is somebody to pass it on to. */
const Answer = ({ alarm }: { alarm: AlarmPicture }) => {
  const room = useRoom();
  const api = useApi();
  const sending = useSignal(false);
  const said = useSignal<string | undefined>(undefined);
  if (isAnswered(alarm)) return <Answered alarm={alarm} />;
  if (!mayAnswer(session.value))
    return (
      <a class="night-button" href={makeRoute({ page: 'sign-in' })}>
        Sign in to answer
      </a>
    );
  const go = async (): Promise<void> => {
    sending.value = true;
    said.value = undefined;
    const asked = await api.acknowledge(alarm.id);
    sending.value = false;
    if (!asked.ok) said.value = asked.fault.detail;
    else if (room.picture.value !== undefined)
      room.picture.value = {
        ...room.picture.value,
        alarms: room.picture.value.alarms.map((one) => (one.id === alarm.id ? asked.value : one)),
      };
  };
  return (
    <div class="answer">
      <p role="alert">{said.value}</p>
      <button type="button" class="night-button night-button-first" disabled={sending.value} onClick={() => void go()}>
        {sending.value ? 'Telling the others …' : alarm.state === 'rtn-unack' ? 'I have seen it' : 'I am going'}
      </button>
    </div>
  );
};

const Answered = ({ alarm }: { alarm: AlarmPicture }) => {
  const nowMs = useRoom().nowMs.value;
  return (
    <div class="answer">
      <p class="answered" role="status">
        {capital(alarm.acknowledgedBy ?? 'somebody')} is going
        {alarm.acknowledgedMs === undefined ? '' : `, since ${durationWords(nowMs - alarm.acknowledgedMs)}`}
      </p>
    </div>
  );
};
