import { makeChannelId } from '../../rules/channel.js';
import type { Phase } from '../../rules/log/kinds/run.js';
import { type RunNow, runNow, type SpawningRun, type TrayNow } from '../../rules/log/run.js';
import type { ChannelReadings } from '../../rules/wire/api.js';
import type { RunPicture } from '../../rules/wire/log.js';
import { clockWords, durationWords } from '../../rules/words/clock.js';
import { entryNames } from '../../rules/words/entry-name.js';
import type { Reader } from '../../rules/words/language.js';
import { capital } from '../../rules/words/name.js';
import { rateWords, valueWords } from '../../rules/words/number.js';
import { Page } from '../parts/page.js';
import { RunSheet } from '../parts/run-sheet.js';
import { RunTrace } from '../parts/run-trace.js';
import { RunWriting } from '../parts/run-writing.js';
import { Said } from '../parts/said.js';
import { useAsked } from '../state/asked.js';
import { useApi } from '../state/gateway.js';
import { useRoom } from '../state/room.js';
import { mayAnswer, session } from '../state/session.js';
import { useWriter } from '../state/writing.js';

const MINUTE_MS = 60_000;
const AGAIN_MS = 15_000;
const RAMP_MS = 3 * MINUTE_MS;

/** A spawning run while it goes: the phase and its timer, the tray beside its plan, and what there is to write. */
export const Run = ({ id }: { readonly id: string }) => {
  const room = useRoom();
  const api = useApi();
  const turn = Math.floor(room.nowMs.value / AGAIN_MS);
  const { answer } = useAsked(() => api.run(id), `${id} ${room.picture.value?.sequence ?? 0} ${turn}`);
  if (answer.value.kind === 'waiting') return <Page here="run">{null}</Page>;
  if (answer.value.kind === 'refused')
    return (
      <Page here="run">
        <h1 class="page-title">Spawning run</h1>
        <p class="page-note">{answer.value.problem.detail}</p>
      </Page>
    );
  return (
    <Page here="run" about={answer.value.value.run.placeId}>
      <Live picture={answer.value.value} turn={turn} />
    </Page>
  );
};

const Live = ({ picture, turn }: { picture: RunPicture; turn: number }) => {
  const room = useRoom();
  const api = useApi();
  const { run } = picture;
  const channelId = makeChannelId({ placeId: run.placeId, quantity: 'temperature' });
  const toMs = run.ended?.atMs ?? (turn + 1) * AGAIN_MS;
  const { answer } = useAsked(() => api.readings(channelId, run.startedMs, toMs, 600), `${channelId} ${toMs}`);
  const readings = answer.value.kind === 'here' ? answer.value.value : undefined;
  const channel = room.picture.value?.channels.find((one) => one.id === channelId);
  const tray = trayNow(readings, channel?.value);
  const now = runNow(run, room.nowMs.value, tray);
  const place = room.picture.value?.places.find((one) => one.id === run.placeId);
  const reader = room.reader.value;
  return (
    <>
      <h1 class="page-title">
        {place?.name ?? run.placeId}: spawning run {run.ended === undefined ? null : '(ended)'}
      </h1>
      {run.ended === undefined ? (
        <>
          <Timer run={run} now={now} tray={tray} reader={reader} />
          <Calls now={now} tray={tray} />
          <RunTrace run={run} readings={readings} toMs={toMs} reader={reader} />
          {mayAnswer(session.value) ? <Phases picture={picture} now={now} /> : null}
          {mayAnswer(session.value) ? <RunWriting run={run} /> : null}
        </>
      ) : (
        <RunTrace run={run} readings={readings} toMs={toMs} reader={reader} />
      )}
      <RunSheet run={run} />
    </>
  );
};

/** The slope of the last three minutes, °C per minute; undefined where there are too few readings. */
const trayNow = (readings: ChannelReadings | undefined, temperatureC: number | undefined): TrayNow => {
  const points = (readings?.atMs ?? []).flatMap((atMs, n) => {
    const value = readings?.mean[n];
    return value === null || value === undefined ? [] : [{ atMs, value }];
  });
  const last = points.at(-1);
  const first = last === undefined ? undefined : points.find(({ atMs }) => atMs >= last.atMs - RAMP_MS);
  const rampCMin =
    last === undefined || first === undefined || last.atMs - first.atMs < MINUTE_MS
      ? undefined
      : ((last.value - first.value) * MINUTE_MS) / (last.atMs - first.atMs);
  return { ...(temperatureC === undefined ? {} : { temperatureC }), ...(rampCMin === undefined ? {} : { rampCMin }) };
};

type TimerProps = { readonly run: SpawningRun; readonly now: RunNow; readonly tray: TrayNow; readonly reader: Reader };

const Timer = ({ run, now, tray, reader }: TimerProps) => {
  const names = entryNames(reader);
  const { phase, leftMin } = now;
  const left = leftMin === undefined ? undefined : durationWords(Math.abs(leftMin) * MINUTE_MS, reader);
  return (
    <section class="run-timer" aria-live="polite">
      <p class="run-phase">{phase === undefined ? 'Ready' : capital(names.phase[phase.phase])}</p>
      <p class="run-left">
        {left === undefined ? durationWords(now.inPhaseMin * MINUTE_MS, reader) : left}
        <small>{left === undefined ? ' so far' : (leftMin ?? 0) < 0 ? ' over' : ' left'}</small>
      </p>
      <p class="run-value">
        {tray.temperatureC === undefined ? 'no reading' : valueWords('temperature', tray.temperatureC, reader)}
        {tray.rampCMin === undefined ? null : (
          <small>
            {' '}
            {tray.rampCMin < 0 ? 'falling' : 'rising'} {rateWords('temperature', tray.rampCMin * 60, reader)}
          </small>
        )}
      </p>
      <p class="run-about">
        warm phases {now.cyclesDone} of {run.plan.cycles}, ends by {clockWords(run.plan.latestEndMs, reader)} at the
        latest
      </p>
    </section>
  );
};

/** Each said as what it is; the alarm itself sounds elsewhere, and by itself. */
const Calls = ({ now, tray }: { now: RunNow; tray: TrayNow }) => {
  const minutes = Math.ceil(now.ceilingInMin ?? 0);
  const words: { readonly [call in RunNow['calls'][number]]: string } = {
    'ceiling-near':
      tray.temperatureC !== undefined && (now.toCeilingC ?? 1) <= 0
        ? 'The tray is above the ceiling. Cool water now; pull the heater’s plug.'
        : `The tray will reach the ceiling in about ${minutes} minutes if nothing changes.`,
    'hold-too-long': 'This hold is more than a quarter of an hour over its time.',
    'past-latest-end': 'The run is past its latest end: the usual limits are back. End it, or write why not.',
    'nobody-there': 'Nobody has touched this run for half an hour. Is someone there?',
    'cycles-done': 'The planned warm phases are done.',
  };
  return (
    <ul class="run-calls">
      {now.calls.map((call) => (
        <li key={call} class={call === 'cycles-done' ? '' : 'run-call'} role="alert">
          {words[call]}
        </li>
      ))}
    </ul>
  );
};

const Phases = ({ picture: { run, seen }, now }: { picture: RunPicture; now: RunNow }) => {
  const reader = useRoom().reader.value;
  const { state, write } = useWriter();
  const names = entryNames(reader);
  const begin = (phase: Phase): void => {
    void write({ kind: 'run-phase', placeId: run.placeId, fields: { runId: run.id, phase } });
  };
  const last = seen.at(-1);
  const isNew = last !== undefined && last.phase !== now.phase?.phase && last.fromMs > (now.phase?.fromMs ?? 0);
  const takeSeen = (): void => {
    if (last === undefined) return;
    const fields = { runId: run.id, phase: last.phase, recognised: true, reachedC: last.reachedC };
    void write({ kind: 'run-phase', placeId: run.placeId, atMs: last.fromMs, fields });
  };
  return (
    <section class="run-phases">
      <div class="pill-row">
        {(['warm', 'cool', 'ambient'] as const).map((phase) => (
          <button
            key={phase}
            type="button"
            class="pill pill-first"
            disabled={now.phase?.phase === phase}
            onClick={() => begin(phase)}
          >
            {capital(names.phase[phase])} begins
          </button>
        ))}
      </div>
      {isNew ? (
        <p class="page-note">
          The trace shows {names.phase[last.phase]} water since {clockWords(last.fromMs, reader)}.{' '}
          <button type="button" class="plain edit-word" onClick={takeSeen}>
            Write it as a phase
          </button>
        </p>
      ) : null}
      <Said state={state.value} />
    </section>
  );
};
