import type { Entry, EntryKind, FieldsOf } from '../../rules/log/entry.js';
import { makeUlid } from '../../rules/log/ulid.js';
import { type Event, type Schedule, scheduleOf } from '../event.js';
import { seedFrom } from '../random.js';

const MINUTE_MS = 60_000;
const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;

/** What the people write and what happens to the water, from six in the morning of the day the parents come to the day the seed is counted. */
export type BatchDays = {
  readonly startMs: number;
  readonly endMs: number;
  readonly entries: readonly Entry[];
  readonly schedule: Schedule;
  /** When the tray is overheated on purpose. */
  readonly overheatedMs: number;
  /** When its water is let out and changed: no ceiling may sound in these. */
  readonly swaps: readonly { readonly fromMs: number; readonly toMs: number }[];
};

type Book = {
  readonly entries: Entry[];
  readonly events: Event[];
  readonly at: (day: number, clock: string) => number;
  readonly write: <K extends EntryKind>(
    kind: K,
    atMs: number,
    placeId: string | undefined,
    fields: FieldsOf<K>,
  ) => string;
};

const openBook = (startMs: number): Book => {
  const entries: Entry[] = [];
  return {
    entries,
    events: [],
    at: (day, clock) => {
      const [hour = 0, minute = 0] = clock.split(':').map(Number);
      return startMs + day * DAY_MS + hour * HOUR_MS + minute * MINUTE_MS;
    },
    write: (kind, atMs, placeId, fields) => {
      const chance = new Uint8Array(10);
      new DataView(chance.buffer).setUint32(6, seedFrom(entries.length, kind));
      const id = makeUlid(atMs, chance);
      const by = entries.length % 3 === 0 ? 'Ines' : 'Tomas';
      // Each kind is called with its own fields, which the compiler checks at the call and loses here.
      entries.push({ id, atMs, kind, by, fields, ...(placeId === undefined ? {} : { placeId }) } as Entry);
      return id;
    },
  };
};

const GROUP = 'warm-temperate-burrowing-clam';
const PARENTS = 'B26-1';
export const BATCH = 'M26-07';

/** Day 0: the parents come into the sand bed. */
const parents = ({ at, write }: Book): void => {
  write('brought-in', at(0, '08:00'), 'b1', {
    batchId: PARENTS,
    speciesGroup: GROUP,
    stage: 'conditioning',
    count: { animals: 60 },
    origin: 'Wrack Cove, north bed',
    permit: 'WC-2026-114',
  });
  write('round', at(0, '08:10'), undefined, { which: 'morning', except: [] });
  write('hand-measurement', at(0, '08:20'), 'b1', {
    quantity: 'temperature',
    value: 21,
    instrument: 'glass thermometer',
  });
};

/** Adults eat with the flow shut, every noon. */
const feeding = ({ at, write, events }: Book, day: number): void => {
  const [fromMs, toMs] = [at(day, '13:00'), at(day, '13:45')];
  events.push({ kind: 'flow-off', tank: 'b1', declared: true, fromMs, toMs });
  events.push({ kind: 'feeding', tank: 'b1', meals: 0.6, fromMs, toMs: fromMs + 10 * MINUTE_MS });
  const work = write('work', fromMs, 'b1', { work: 'feeding-flow-off', minutes: 60 });
  write('feeding', fromMs + MINUTE_MS, 'b1', { alga: 'flagellate', volumeL: 6.4, targetCellsMl: 50_000 });
  write('work-end', toMs, undefined, { workId: work });
};

type Swap = { readonly fromMs: number; readonly toMs: number };

/** The tray is let out, and filled and flushed with water of another temperature. */
const swap = ({ events }: Book, fromMs: number, temperatureC: number): Swap => {
  const filledMs = fromMs + 4 * MINUTE_MS;
  const toMs = filledMs + 12 * MINUTE_MS;
  events.push({ kind: 'drain-down', tank: 't1', declared: true, fromMs, toMs: filledMs });
  events.push({ kind: 'water-change', tank: 't1', lMin: 20, temperatureC, declared: true, fromMs: filledMs, toMs });
  return { fromMs, toMs };
};

/** Day 2: the run, its tray overheated in the second warm phase; eggs into E1, the parents back into their bed. */
const spawning = (book: Book): Pick<BatchDays, 'overheatedMs' | 'swaps'> => {
  const { at, write, events } = book;
  write('move', at(2, '08:50'), 'b1', { to: 't1', animals: 40 });
  write('stage', at(2, '08:52'), 't1', { stage: 'spawning', accept: true });
  const runId = write('run-plan', at(2, '09:00'), 't1', {
    batchId: PARENTS,
    animals: 40,
    ambientC: 21,
    coolC: 16,
    riseC: 5.6,
    holdMin: 30,
    cycles: 3,
    ceilingC: 30,
    hotSupplyC: 26.8,
    latestEndMs: at(2, '14:00'),
    conditioningDays: 2,
  });
  const phase = (clock: string, which: 'warm' | 'cool', temperatureC: number): Swap => {
    const done = swap(book, at(2, clock), temperatureC);
    write('run-phase', done.fromMs + 6 * MINUTE_MS, undefined, { runId, phase: which });
    return done;
  };
  const swaps = [phase('09:15', 'warm', 26.8), phase('09:55', 'cool', 16), phase('10:35', 'warm', 26.8)];
  const overheatedMs = at(2, '10:55');
  events.push({ kind: 'heater-stuck-on', tank: 't1', fromMs: overheatedMs, toMs: at(2, '11:16') });
  swaps.push(phase('11:16', 'cool', 17));
  write('run-spawner', at(2, '11:30'), undefined, { runId, animal: '7', sex: 'male' });
  write('run-spawner', at(2, '11:36'), undefined, { runId, animal: '22', sex: 'female', vessel: 'A' });
  const count = { counts: [61, 58, 66], subsampleMl: 0.2, totalL: 10 };
  write('run-eggs', at(2, '12:10'), undefined, { runId, count, females: 1, fertilisedPct: 92, to: 'e1' });
  write('run-end', at(2, '12:15'), undefined, { runId, why: 'enough-spawned', notSpawned: 38 });
  write('eggs-stocked', at(2, '12:20'), 'e1', {
    batchId: BATCH,
    speciesGroup: GROUP,
    count,
    runId,
    parents: [PARENTS],
  });
  write('move', at(2, '12:30'), 't1', { to: 'b1', accept: true });
  return { overheatedMs, swaps };
};

type Sheet = FieldsOf<'drain-down'>;

/** A drain-down from the tap "drain-down started" to the sheet that says where the animals are. */
const sheet = ({ at, write, events }: Book, day: number, clock: string, tank: string, fields: Sheet): void => {
  const startedMs = at(day, clock);
  events.push({
    kind: 'drain-down',
    tank,
    declared: true,
    fromMs: startedMs + 5 * MINUTE_MS,
    toMs: startedMs + 25 * MINUTE_MS,
  });
  write('work', startedMs, tank, { work: 'drain-down', minutes: 75 });
  write('drain-down', startedMs + 50 * MINUTE_MS, tank, { startedMs, ...fields });
};

const counted = (...counts: readonly number[]) => ({ count: { counts, subsampleMl: 0.2, totalL: 3 } });

/** Days 3 to 8: larvae, drained every morning into a clean tank. */
const larvae = (book: Book): void => {
  const seen = { swimming: 'most', gut: 'full' } as const;
  sheet(book, 3, '12:40', 'e1', {
    end: 'to',
    placeId: 'l1',
    stage: 'larva',
    screensUm: [35],
    ...counted(176, 169, 181),
  });
  sheet(book, 4, '08:30', 'l1', { ...seen, end: 'to', placeId: 'l2', screensUm: [48], ...counted(170, 163, 168) });
  sheet(book, 5, '08:30', 'l2', {
    ...seen,
    end: 'to',
    placeId: 'l1',
    screensUm: [60],
    culled: 180_000,
    ...counted(150, 144, 149),
  });
  const parts = [
    { placeId: 'l2', animals: 1_100_000 },
    { placeId: 'l3', animals: 1_000_000 },
  ];
  sheet(book, 6, '08:30', 'l1', { ...seen, end: 'split', to: parts, lengthsUm: [142, 139, 145, 151] });
  sheet(book, 7, '08:30', 'l2', { ...seen, end: 'back-in', ...counted(70, 66, 71) });
  sheet(book, 7, '10:00', 'l3', { ...seen, end: 'back-in', dead: 20_000, ...counted(62, 66, 60) });
};

/** Screens rinsed and the water changed under the animals. */
const rinsed = ({ at, write, events }: Book, day: number, tank: string): void => {
  const fromMs = at(day, '09:00');
  events.push({
    kind: 'water-change',
    tank,
    lMin: 15,
    temperatureC: 23,
    declared: true,
    fromMs,
    toMs: fromMs + 20 * MINUTE_MS,
  });
  const work = write('work', fromMs, tank, { work: 'water-change', minutes: 40 });
  write('water-change', fromMs + 25 * MINUTE_MS, tank, { sharePct: 70 });
  write('feeding', fromMs + 28 * MINUTE_MS, tank, { alga: 'diatom', volumeL: 3.2 });
  write('work-end', fromMs + 30 * MINUTE_MS, undefined, { workId: work });
};

/** Days 8 to 13: setting in S1, then post-set in P1. */
const setting = (book: Book): void => {
  sheet(book, 8, '08:30', 'l2', {
    end: 'to',
    placeId: 's1',
    stage: 'setting',
    screensUm: [150],
    ...counted(60, 58, 63),
  });
  sheet(book, 8, '10:10', 'l3', {
    end: 'pooled',
    placeId: 's1',
    stage: 'setting',
    culled: 90_000,
    ...counted(51, 49, 55),
  });
  for (let day = 9; day < 12; day += 1) rinsed(book, day, 's1');
  const after = { end: 'to', placeId: 'p1', stage: 'post-set', accept: true } as const;
  sheet(book, 12, '09:00', 's1', { ...after, screensUm: [180], dead: 400_000, ...counted(66, 71, 69) });
  book.write('sample', book.at(13, '09:00'), 'p1', { batchId: BATCH, animals: 150, purpose: 'shell lengths' });
  book.write('count', book.at(13, '09:30'), 'p1', { batchId: BATCH, ...counted(64, 66, 68) });
};

/** From the midnight before the first day, UTC. */
export const batchDays = (midnightMs: number): BatchDays => {
  const book = openBook(midnightMs);
  parents(book);
  for (let day = 0; day < 14; day += 1) feeding(book, day);
  const run = spawning(book);
  larvae(book);
  setting(book);
  const entries = book.entries.toSorted((a, b) => a.atMs - b.atMs || (a.id < b.id ? -1 : 1));
  return {
    startMs: book.at(0, '06:00'),
    endMs: book.at(13, '18:00'),
    entries,
    schedule: scheduleOf(book.events),
    ...run,
  };
};
