import { createInterface } from 'node:readline';
import { declaredWork } from '../rules/log/declared.js';
import type { Entry } from '../rules/log/entry.js';
import { makeLine, parseDemoLine, type SimulatorLine } from '../rules/wire/simulated.js';
import { newlyDeclared } from './declared.js';
import type { Schedule } from './event.js';
import type { Hatchery, HatcheryState } from './hatchery.js';
import { livePast, type PastReading } from './past.js';
import { sourceKey, sourceOf } from './payload.js';
import { type Probe, placeName } from './probe.js';
import { openPublisher, playHatchery } from './publish.js';
import { senmlValue } from './senml.js';
import { demoLog } from './world/demo-log.js';
import { demoAway, demoPast } from './world/demo-past.js';
import { demoScript } from './world/demo-script.js';
import { PEOPLE, saltmarshLane } from './world/saltmarsh-lane.js';
import { describedPlaces, describedSite, describedSources } from './world/settings.js';

const EVERY_S = 120;
const LOOK_MS = 60_000;

type WorkLine = Extract<SimulatorLine, { kind: 'work' }>;
type Told = { readonly fromMs: number; readonly toMs: number; readonly isFirst: boolean };

/** Resolves when the line is on its way, so that fourteen days never wait in memory. */
const say = (line: SimulatorLine): Promise<void> =>
  new Promise((resolve) => {
    process.stdout.write(makeLine(line), () => resolve());
  });

/** Where each probe's past readings belong, and how its board would have sent them. */
const senders = (
  hatchery: Hatchery,
): ReadonlyMap<string, { readonly source: number; readonly probe: Probe; readonly isSenml: boolean }> => {
  const keys = describedSources(hatchery).map(({ key }) => key);
  return new Map(
    hatchery.boards.flatMap((board) =>
      board.probes.map((probe) => [
        `${placeName(probe.place)} ${probe.quantity}`,
        { source: keys.indexOf(sourceKey(sourceOf(board, probe))), probe, isSenml: board.form.startsWith('senml') },
      ]),
    ),
  );
};

const rawOf = (probe: Probe, value: number, isSenml: boolean): number => {
  if (!isSenml) return value;
  const { v, vb } = senmlValue(probe, value);
  return v ?? (vb === true ? 1 : 0);
};

/** What was declared, by the log where it tells of it, else by the day's work. Oldest first. */
const declaredIn = (
  entries: readonly Entry[],
  schedule: Schedule,
  fromMs: number,
  toMs: number,
): readonly WorkLine[] => {
  if (entries.length > 0)
    return declaredWork(entries).map(({ placeId, kind: work, by, fromMs: begunMs, untilMs, endedMs }) => ({
      ...{ kind: 'work', placeId, work, by, fromMs: begunMs },
      untilMs: Math.min(untilMs, endedMs ?? untilMs),
    }));
  const told = new Set<string>();
  const lines: WorkLine[] = [];
  for (let atMs = fromMs; atMs < toMs; atMs += LOOK_MS) lines.push(...newlyDeclared(schedule, atMs, PEOPLE[0], told));
  return lines;
};

const tellPast = async (hatchery: Hatchery, { fromMs, toMs, isFirst }: Told): Promise<HatcheryState> => {
  const bySender = senders(hatchery);
  const entries = isFirst ? demoLog(hatchery, toMs).entries : [];
  const schedule = isFirst ? demoPast(hatchery, toMs) : demoAway(hatchery, toMs);
  if (isFirst) await say({ kind: 'log', entries });
  const waiting = [...declaredIn(entries, schedule, fromMs, toMs).filter(({ untilMs }) => untilMs > fromMs)];
  const past = livePast(hatchery, { fromMs, toMs, everyS: EVERY_S }, schedule);
  const rowOf = ({ place, quantity, atMs, value }: PastReading): readonly (readonly [number, number, number])[] => {
    const sender = bySender.get(`${place} ${quantity}`);
    return sender === undefined ? [] : [[sender.source, atMs, rawOf(sender.probe, value, sender.isSenml)]];
  };
  for (;;) {
    const portion = past.next();
    if (portion.done === true) return portion.value;
    const lastMs = portion.value.at(-1)?.atMs ?? fromMs;
    while ((waiting[0]?.fromMs ?? Number.POSITIVE_INFINITY) <= lastMs) await say(waiting.shift() as WorkLine);
    await say({ kind: 'past', readings: portion.value.flatMap(rowOf) });
  }
};

const live = (hatchery: Hatchery, state: HatcheryState, broker: string): void => {
  const schedule = demoScript(hatchery, Date.now());
  const publisher = openPublisher(broker, hatchery.boards);
  const playing = playHatchery({ hatchery, state, schedule }, publisher, Date.now);
  const told = new Set<string>();
  const declare = (): void => {
    for (const line of newlyDeclared(schedule, Date.now(), PEOPLE[0], told)) void say(line);
  };
  declare();
  const declaring = setInterval(declare, 2_000);
  process.stdin.once('end', () => {
    clearInterval(declaring);
    playing.stop();
    void publisher.close();
  });
};

/**
 * The demo's hatchery as a process of its own: it describes itself and tells its past on standard output, then lives over
 * MQTT until its standard input ends. Arguments: seed, start of the past in UTC ms, and `first` when nothing was told before.
 */
const [seed = '7', from = String(Date.now() - 14 * 86_400_000), first] = process.argv.slice(2);
const hatchery = saltmarshLane(Number(seed));
const nowMs = Date.now();
await say({
  kind: 'hatchery',
  site: describedSite(hatchery),
  places: describedPlaces(hatchery, nowMs),
  sources: describedSources(hatchery),
});
const state = await tellPast(hatchery, { fromMs: Number(from), toMs: nowMs, isFirst: first === 'first' });
await say({ kind: 'ready' });
createInterface({ input: process.stdin }).once('line', (line) => live(hatchery, state, parseDemoLine(line).broker));
