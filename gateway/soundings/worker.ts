import { parentPort, workerData } from 'node:worker_threads';
import BetterSqlite3 from 'better-sqlite3';
import type { WatchPlan } from '../../rules/alerts/watch-plan.js';
import type { Happening } from '../../rules/engine/happening.js';
import type { Hatchery } from '../../rules/hatchery.js';
import { soundingsOf, workHappenings } from '../../rules/soundings.js';
import type { Soundings } from '../../rules/wire/soundings.js';
import type { DeclaredWork } from '../../rules/work.js';
import type { Database } from '../journal/database.js';
import { type Downtimes, prepareDowntimes, type TimeSpan } from '../journal/gateway-runs.js';
import { prepareSealedDays } from '../journal/sealed-days.js';
import { prepareStoredRows } from '../journal/stored-rows.js';

/** Everything that the thread needs; it reads the journal through a connection of its own. */
export type SoundingsWork = {
  readonly journalPath: string;
  readonly placeId: string;
  readonly asSet: Hatchery;
  readonly asAsked: Hatchery;
  readonly work: readonly DeclaredWork[];
  readonly watch: WatchPlan;
  readonly fromMs: number;
  readonly toMs: number;
};

/** So long before the span the watch begins: slopes and silences have settled when the counting starts. */
const SETTLING_MS = 24 * 3_600_000;
/** Readings lie in memory for so long a stretch at a time. */
const STRETCH_MS = 6 * 3_600_000;
const DAYS_REMEMBERED = 16;

type Told = readonly Happening[];

/** Starts, broker and work as they were. */
const circumstances = ({ gateway, broker }: Downtimes, work: readonly DeclaredWork[], fromMs: number): Told => [
  ...broker.flatMap(
    (span): Told => [
      { kind: 'link', atMs: Math.max(fromMs, span.fromMs), broker: 'down' },
      { kind: 'link', atMs: span.toMs, broker: 'up' },
    ],
  ),
  ...gateway.map(({ toMs: atMs }): Happening => ({ kind: 'start', atMs })),
  ...workHappenings(work, fromMs),
];

const inOrder = (told: Told): Told => told.toSorted((a, b) => a.atMs - b.atMs);

/** The settings, told again whenever a probe was named, let go or calibrated: the engine knows those of its own moment. */
const hatcheryTold = (hatchery: Hatchery, { fromMs, toMs }: TimeSpan): Told => {
  const edges = [...hatchery.mappings, ...hatchery.calibrations].flatMap((row) => [
    row.fromMs,
    ...('toMs' in row && row.toMs !== undefined ? [row.toMs] : []),
  ]);
  const inside = edges.filter((atMs) => atMs > fromMs && atMs < toMs);
  return [...new Set([fromMs, ...inside])].map((atMs) => ({ kind: 'hatchery', atMs, hatchery }));
};

function* happeningsOf(database: Database, { fromMs, toMs }: TimeSpan, hatchery: Hatchery, told: Told) {
  const rows = prepareStoredRows(database, prepareSealedDays(database, DAYS_REMEMBERED));
  const sources = [...new Set(hatchery.mappings.map(({ sourceId }) => sourceId))];
  let waiting = told;
  for (let at = fromMs; at < toMs; at += STRETCH_MS) {
    const endMs = Math.min(at + STRETCH_MS, toMs);
    const stretch = sources.flatMap((sourceId) =>
      rows.whole(sourceId, at, endMs).map(
        ({ device_ms: deviceMs, delay_ms, raw, refused_ms }): Happening => ({
          ...{ kind: 'reading', atMs: deviceMs + delay_ms, sourceId, raw },
          deviceMs: refused_ms ?? deviceMs,
        }),
      ),
    );
    const now = waiting.filter(({ atMs }) => atMs < endMs);
    waiting = waiting.slice(now.length);
    yield* [...now, ...stretch].sort((a, b) => a.atMs - b.atMs);
  }
  yield { kind: 'tick', atMs: toMs } satisfies Happening;
}

const answer = ({ journalPath, placeId, asSet, asAsked, work, watch, fromMs, toMs }: SoundingsWork): Soundings => {
  const database = new BetterSqlite3(journalPath, { readonly: true, fileMustExist: true });
  try {
    const beginMs = fromMs - SETTLING_MS;
    const span = { fromMs: beginMs, toMs };
    const told = circumstances(prepareDowntimes(database)(span), work, beginMs);
    const under = (hatchery: Hatchery) => {
      const first: Told = [
        ...hatcheryTold(hatchery, span),
        { kind: 'link', atMs: beginMs, broker: 'up' },
        { kind: 'start', atMs: beginMs },
      ];
      const happenings = happeningsOf(database, span, hatchery, inOrder([...first, ...told]));
      return soundingsOf({ hatchery, placeId, happenings, fromMs, toMs, watch });
    };
    const { readings, soundings } = under(asSet);
    return { fromMs, toMs, readings, asSet: soundings, asAsked: under(asAsked).soundings };
  } finally {
    database.close();
  }
};

parentPort?.postMessage(answer(workerData as SoundingsWork));
