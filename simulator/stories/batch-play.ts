import type { Effect } from '../../rules/engine/effect.js';
import type { Happening } from '../../rules/engine/happening.js';
import { emptyState } from '../../rules/engine/state.js';
import { step, stepAll } from '../../rules/engine.js';
import type { Hatchery as Told } from '../../rules/hatchery.js';
import { isBalanced } from '../../rules/log/book.js';
import { type Entry, parseEntry } from '../../rules/log/entry.js';
import { cleanedBed, newsFrom } from '../../rules/log/news.js';
import { EMPTY_RECORD, type LogRecord, recordWith } from '../../rules/log/record.js';
import { readBoards, startHatchery, stepHatchery } from '../hatchery-step.js';
import { placeName, probeKey } from '../probe.js';
import { oneBatch, oneBatchTold } from '../world/one-batch.js';
import type { BatchDays } from './batch-days.js';

const STEP_S = 60;

/** An alarm that a person would have heard. */
export type Sounded = { readonly atMs: number; readonly code: string; readonly placeId: string };

export type Played = {
  readonly record: LogRecord;
  readonly sounded: readonly Sounded[];
  /** After every entry the stock added up. */
  readonly stockBalanced: boolean;
  /** The tray's temperature, minute by minute, as its probe said it. */
  readonly tray: readonly { readonly atMs: number; readonly temperatureC: number }[];
  readonly told: Told;
};

/** Lets the days pass at the speed of the machine: boards read, the engine judges, people write, settings follow. */
export const playBatch = (days: BatchDays, seed: number): Played => {
  const plant = oneBatch(seed);
  let told = oneBatchTold(plant);
  let water = startHatchery(plant, days.startMs);
  let record = EMPTY_RECORD;
  let engine = emptyState(told, days.startMs);
  const sounded: Sounded[] = [];
  const tray: Played['tray'][number][] = [];
  let stockBalanced = true;

  const tell = (happenings: readonly Happening[]): void => {
    const done = stepAll(engine, happenings);
    engine = done.state;
    sounded.push(...soundedIn(done.effects, engine.nowMs));
  };

  const write = (entry: Entry, nowMs: number): void => {
    const kept = keep(record, entry, told, nowMs);
    record = kept.record;
    stockBalanced &&= isBalanced(record.stock.book);
    tell(newsFrom(entry, nowMs, record.ruling.entries));
    const washed = cleanedBed(
      entry,
      told.places.find(({ id }) => id === entry.placeId),
    );
    const places = [...kept.places, ...(washed === undefined ? [] : [washed])];
    if (places.length > 0) {
      told = { ...told, places: told.places.map((place) => places.find(({ id }) => id === place.id) ?? place) };
      tell([{ kind: 'hatchery', atMs: nowMs, hatchery: told }]);
    }
    if (kept.isWorkChanged) tell([{ kind: 'work', atMs: nowMs, work: record.work }]);
  };

  const sources = new Map(plant.boards.flatMap(({ probes }) => probes).map((probe, n) => [probeKey(probe), n + 1]));
  const listen = (): void => {
    const read = readBoards(plant, water, days.schedule(water.atMs));
    water = read.state;
    for (const { takenMs: atMs, samples } of Object.values(read.steps).flatMap(({ batches }) => batches)) {
      tell(
        samples.flatMap(({ probe, value }): readonly Happening[] => {
          if (typeof value !== 'number') return [];
          if (placeName(probe.place) === 't1' && probe.quantity === 'temperature')
            tray.push({ atMs, temperatureC: value });
          return [{ kind: 'reading', atMs, sourceId: sources.get(probeKey(probe)) ?? 0, raw: value, deviceMs: atMs }];
        }),
      );
    }
  };

  engine = step(engine, { kind: 'hatchery', atMs: days.startMs, hatchery: told }).state;
  tell([
    { kind: 'start', atMs: days.startMs },
    { kind: 'link', atMs: days.startMs, broker: 'up' },
  ]);
  const waiting = [...days.entries];
  while (water.atMs < days.endMs) {
    water = stepHatchery(plant, water, STEP_S, days.schedule(water.atMs));
    for (let next = waiting[0]; next !== undefined && next.atMs <= water.atMs; next = waiting[0]) {
      waiting.shift();
      write(next, water.atMs);
    }
    listen();
    tell([{ kind: 'tick', atMs: water.atMs }]);
  }
  return { record, sounded, stockBalanced, tray, told };
};

/** Through the same door as an entry of a phone; a story that writes what cannot be is our own mistake. */
const keep = (record: LogRecord, { by, ...sent }: Entry, told: Told, recordedMs: number) => {
  const parsed = parseEntry(sent, by);
  const recorded = parsed.ok ? recordWith(record, parsed.value, { places: told.places, recordedMs }) : parsed;
  if (!recorded.ok) throw new Error(`${sent.kind} at ${sent.placeId}: ${JSON.stringify(recorded.fault)}`);
  return recorded.value;
};

const soundedIn = (effects: readonly Effect[], atMs: number): readonly Sounded[] =>
  effects.flatMap((effect) =>
    effect.do === 'alarm' && effect.deeds.includes('annunciate')
      ? [{ atMs, code: effect.alarm.finding.condition, placeId: effect.alarm.finding.placeId }]
      : [],
  );
