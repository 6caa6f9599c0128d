import type { DeclaredWork, WorkKind } from '../../rules/work.js';
import type { Event } from '../event.js';
import type { Hatchery } from '../hatchery.js';
import type { Random } from '../random.js';
import type { Tank } from '../tank.js';
import { HOUR_MS, type Hours, MINUTE_MS, type Span } from './span.js';

/** What people do of an evening, and how much of it they tell the watch. */
export type Evening = {
  readonly events: readonly Event[];
  readonly work: readonly DeclaredWork[];
  readonly onSite: readonly Span[];
};

/** Nine taps out of ten are made; some of the others are remembered when it is half done (common practice, no source). */
const TOLD_SHARE = 0.88;
const LATE_TAP_SHARE = 0.5;
/** A tap's end that nobody made: the work is long over, its time runs on. */
const LEFT_OPEN_SHARE = 0.08;

type Job = Span & { readonly tank: string; readonly kind: WorkKind; readonly plannedMin: number };

/** Declared in time, late, or not at all. */
const declare = (job: Job, random: Random): readonly DeclaredWork[] => {
  const isTold = random.chance(TOLD_SHARE);
  const lateMs = isTold ? random.uniform(-3, 1) * MINUTE_MS : random.uniform(5, 15) * MINUTE_MS;
  if (!isTold && !random.chance(LATE_TAP_SHARE)) return [];
  const fromMs = Math.round(job.fromMs + lateMs);
  if (fromMs >= job.toMs) return [];
  const untilMs = fromMs + job.plannedMin * MINUTE_MS;
  const endedMs = Math.round(job.toMs + random.uniform(0, 6) * MINUTE_MS);
  const ended = random.chance(LEFT_OPEN_SHARE) ? {} : { endedMs };
  const id = `${job.kind}-${job.tank}-${job.fromMs}`;
  return [{ id, kind: job.kind, placeId: job.tank, by: 'crew', fromMs, untilMs, ...ended }];
};

type Done = { readonly events: readonly Event[]; readonly work: readonly DeclaredWork[] };
type At = { readonly random: Random; readonly fromMs: number };

const drained = (tank: Tank, { random, fromMs }: At): Done => {
  const toMs = fromMs + random.uniform(18, 50) * MINUTE_MS;
  // Refilled in about a quarter of an hour after the drain is shut.
  const job = { tank: tank.id, kind: 'drain-down', plannedMin: 90, fromMs, toMs: toMs + 18 * MINUTE_MS } as const;
  const work = declare(job, random);
  return { events: [{ kind: 'drain-down', tank: tank.id, declared: work.length > 0, fromMs, toMs }], work };
};

const fedWithFlowOff = (tank: Tank, { random, fromMs }: At): Done => {
  const toMs = fromMs + random.uniform(35, 80) * MINUTE_MS;
  const job = { tank: tank.id, kind: 'feeding-flow-off', plannedMin: 60, fromMs, toMs } as const;
  const work = declare(job, random);
  const meal: Event = { kind: 'feeding', tank: tank.id, meals: 0.7, fromMs, toMs: fromMs + 10 * MINUTE_MS };
  return { events: [meal, { kind: 'flow-off', tank: tank.id, declared: work.length > 0, fromMs, toMs }], work };
};

const fed = (tank: Tank, { random, fromMs }: At): Done => ({
  events: [{ kind: 'feeding', tank: tank.id, meals: random.uniform(0.3, 1), fromMs, toMs: fromMs + 10 * MINUTE_MS }],
  work: [],
});

/** Fresh water from the header, or a cool vessel of it into a warm bath: a dip that comes back by itself. */
const changed = (tank: Tank, { random, fromMs }: At): Done => {
  const minutes = random.uniform(10, 25);
  const toMs = fromMs + minutes * MINUTE_MS;
  const lMin = (tank.volumeL * random.uniform(0.15, 0.6)) / minutes;
  const setC = (tank.heater ?? tank.chiller)?.setC;
  const cooler = setC === undefined || random.chance(0.6) ? {} : { temperatureC: setC - random.uniform(1, 5) };
  const work = declare({ tank: tank.id, kind: 'water-change', plannedMin: 45, fromMs, toMs }, random);
  return {
    events: [{ kind: 'water-change', tank: tank.id, lMin, declared: work.length > 0, fromMs, toMs, ...cooler }],
    work,
  };
};

const probesLifted = (tank: Tank, { random, fromMs }: At): Done => {
  const toMs = fromMs + random.uniform(5, 25) * MINUTE_MS;
  const work = declare({ tank: tank.id, kind: 'probe-service', plannedMin: 30, fromMs, toMs }, random);
  return { events: [{ kind: 'probe-lifted', place: tank.id, declared: work.length > 0, fromMs, toMs }], work };
};

type Habit = { readonly share: number; readonly suits: (tank: Tank) => boolean; readonly does: typeof drained };

const HABITS: readonly Habit[] = [
  { share: 0.06, suits: ({ stage }) => stage === 'larva' || stage === 'setting', does: drained },
  { share: 0.3, suits: ({ stage }) => stage === 'conditioning' || stage === 'ripe', does: fedWithFlowOff },
  { share: 0.3, suits: ({ stage }) => stage !== 'embryo' && stage !== 'spawning', does: fed },
  { share: 0.04, suits: ({ stage }) => stage !== 'embryo' && stage !== 'spawning', does: changed },
  { share: 0.04, suits: () => true, does: probesLifted },
];

const oneTank = (tank: Tank, random: Random, span: Span): Done => {
  const habits = HABITS.filter(({ share, suits }) => suits(tank) && random.chance(share)).slice(0, 2);
  const lengthMs = (span.toMs - span.fromMs - 30 * MINUTE_MS) / Math.max(1, habits.length);
  const done = habits.map(({ does }, index) =>
    does(tank, { random, fromMs: Math.round(span.fromMs + (index + random.uniform(0, 0.7)) * lengthMs) }),
  );
  return { events: done.flatMap(({ events }) => events), work: done.flatMap(({ work }) => work) };
};

/** Warm and cool water by turns in the tray, the crew beside it all the while. */
const spawningRun = (tank: Tank, random: Random, startMs: number): Evening => {
  const ambientC = (tank.heater ?? tank.chiller)?.setC ?? 18;
  const riseC = random.uniform(4, 7);
  const fromMs = startMs + random.uniform(10, 40) * MINUTE_MS;
  const phases = 2 * random.pick([2, 3]);
  const minutes = random.uniform(25, 35);
  const events = Array.from({ length: phases }, (_, phase): Event => {
    const phaseMs = fromMs + phase * minutes * MINUTE_MS;
    const temperatureC = phase % 2 === 0 ? ambientC + riseC : ambientC;
    const span = { fromMs: phaseMs, toMs: phaseMs + 12 * MINUTE_MS };
    return { kind: 'water-change', tank: tank.id, lMin: tank.volumeL / 6, temperatureC, declared: true, ...span };
  });
  const toMs = fromMs + phases * minutes * MINUTE_MS;
  const untilMs = fromMs + 5 * HOUR_MS;
  const run: DeclaredWork = {
    id: `run-${tank.id}`,
    kind: 'spawning-run',
    placeId: tank.id,
    by: 'crew',
    fromMs: Math.round(fromMs),
    untilMs: Math.round(untilMs),
    endedMs: Math.round(toMs),
    run: { peakC: ambientC + riseC, hotSupplyC: ambientC + riseC + 1, probeLagS: 40 },
  };
  return { events, work: [run], onSite: [{ fromMs: startMs, toMs: toMs + 15 * MINUTE_MS }] };
};

/** Probes that somebody hung on the edge before going home. */
const FORGOTTEN_SHARE = 0.025;

const forgotten = (plant: Hatchery, random: Random, span: Span, endMs: number): readonly Event[] => {
  if (!random.chance(FORGOTTEN_SHARE)) return [];
  const fromMs = span.toMs - random.uniform(5, 40) * MINUTE_MS;
  return [{ kind: 'probe-lifted', place: random.pick(plant.tanks).id, declared: false, fromMs, toMs: endMs + HOUR_MS }];
};

/** Nobody goes home before the last valve is open again and the drained tank has filled. */
const endsOf = ({ events, work }: Done): readonly number[] => [
  ...events.map(({ kind, toMs }) => toMs + (kind === 'drain-down' ? 25 : 5) * MINUTE_MS),
  ...work.map(({ fromMs, endedMs }) => (endedMs ?? fromMs) + MINUTE_MS),
];

const WORKED_SHARE = 0.55;

/** Work on about half of the evenings, over before ten; a spawning run takes longer. */
export const drawEvening = (plant: Hatchery, random: Random, { startMs, endMs }: Hours): Evening => {
  const tray = plant.tanks.find(({ stage }) => stage === 'spawning');
  const run = tray === undefined ? undefined : spawningRun(tray, random.fork('run'), startMs);
  const isWorking = random.chance(WORKED_SHARE) || run !== undefined;
  // Left before the night began, after the last look at each tank.
  const span = isWorking
    ? { fromMs: startMs, toMs: startMs + random.uniform(70, 115) * MINUTE_MS }
    : { fromMs: startMs - HOUR_MS, toMs: startMs };
  const left = forgotten(plant, random.fork('forgotten'), span, endMs);
  const done = isWorking ? plant.tanks.map((tank) => oneTank(tank, random.fork(tank.id), span)) : [];
  const leavesMs = Math.max(span.toMs, ...done.flatMap(endsOf));
  return {
    events: [...done.flatMap(({ events }) => events), ...(run?.events ?? []), ...left],
    work: [...done.flatMap(({ work }) => work), ...(run?.work ?? [])],
    onSite: [{ ...span, toMs: leavesMs }, ...(run?.onSite ?? [])],
  };
};
