import type { Result } from '../../rules/result.js';
import type { Change } from '../../rules/wire/feed.js';
import type { JournalFault } from '../../rules/words/journal.js';
import { type Accounts, buildAccounts } from './accounts.js';
import { type Alarms, buildAlarms } from './alarms.js';
import { type Backup, backupTo } from './backup.js';
import { type Boards, buildBoards } from './boards.js';
import { buildCalibrations, type Calibrations } from './calibrations.js';
import type { Database } from './database.js';
import { buildDue, type Due } from './due.js';
import { buildForecastScores, type ForecastScores } from './forecast-scores.js';
import { buildGatewayRuns, type GatewayRuns } from './gateway-runs.js';
import { buildImportHistory, type ImportHistory } from './import.js';
import { buildLadders, type Ladders } from './ladders.js';
import { buildLand, type Land, type Memory } from './land.js';
import type { KeptReading } from './landing.js';
import { buildLate } from './late.js';
import { buildLog, type Log } from './log.js';
import { buildMalformed, type Malformed } from './malformed.js';
import { buildMappings, type Mappings } from './mappings.js';
import { buildMeta, type Meta } from './meta.js';
import { buildOutbox, type Outbox } from './outbox.js';
import { buildPackets, type Packets } from './packets.js';
import { buildPushSubscriptions, type PushSubscriptions } from './push-subscriptions.js';
import { readThrough } from './read-through.js';
import { buildReadings, type Readings } from './readings.js';
import { buildDropping, type Dropping, prepareRawFrom, type Retention } from './retention.js';
import { buildReviews, type Reviews } from './reviews.js';
import { buildRollups, type Rollups } from './rollups.js';
import { buildSealEdge } from './seal-edge.js';
import { buildSealHistory, type SealHistory } from './seal-history.js';
import { prepareSealedDays } from './sealed-days.js';
import { buildSealing, type SealFailure, type Sealing } from './sealing.js';
import { buildSequence } from './sequence.js';
import { buildSessions, type Sessions } from './sessions.js';
import { buildSettings, type Settings } from './settings.js';
import { buildShrink } from './shrink.js';
import { buildSnapshots, type Snapshot } from './snapshot.js';
import { buildSources, type Sources } from './sources.js';
import { prepareStoredRows } from './stored-rows.js';
import { buildTail } from './tail.js';
import { buildTokens, type Tokens } from './tokens.js';
import { buildUseOfFlags } from './use.js';
import { buildWakings, type Wakings } from './wakings.js';

/** `second`: a power cut takes at most the last second; a killed process takes nothing. `commit`: neither takes anything. */
export type Durability = 'second' | 'commit';

/** Everything that is kept, in one SQLite file. All of it answers at once, except backup and damage. */
export type Journal = {
  readonly folder: string;
  readonly path: string;
  readonly land: Land;
  /** The newest state of the engine that was kept. */
  snapshot(): Snapshot | undefined;
  /** The readings that landed after it, in landing order; without one, all that landed since there was none. */
  tailSince(snapshot: Snapshot | undefined): Iterable<KeptReading>;
  readonly sources: Sources;
  readonly readings: Pick<Readings, 'between' | 'newest' | 'since'>;
  readonly rollups: Pick<Rollups, 'computeClosed' | 'hour' | 'isMarked'>;
  readonly mappings: Mappings;
  readonly calibrations: Calibrations;
  readonly settings: Settings;
  readonly alarms: Omit<Alarms, 'append'>;
  readonly forecastScores: Pick<ForecastScores, 'newest'>;
  readonly log: Log;
  readonly accounts: Accounts;
  readonly tokens: Tokens;
  readonly sessions: Sessions;
  readonly malformed: Pick<Malformed, 'newest' | 'counts'>;
  readonly boards: Pick<Boards, 'list' | 'between'>;
  readonly packets: Pick<Packets, 'fingerprint' | 'forgetAll'>;
  readonly runs: Omit<GatewayRuns, 'alive'>;
  readonly ladders: Ladders;
  readonly outbox: Outbox;
  readonly wakings: Wakings;
  readonly pushSubscriptions: PushSubscriptions;
  readonly reviews: Reviews;
  readonly meta: Meta;
  /** What a history database elsewhere has not confirmed. */
  readonly due: Omit<Due, 'mark' | 'markDay' | 'fold' | 'isAllConfirmedBefore'>;
  /** Newest number over alarms, log and settings, and everything after a number. */
  sequence(): number;
  changesSince(sequence: number, atMost?: number): readonly Change[];
  /** Several writes in one transaction: a place, its mapping and its limits come together, or not at all. */
  together<T>(work: () => T): T;
  readonly importHistory: ImportHistory;
  readonly sealHistory: SealHistory;
  /** Seals every day that ended long enough ago; the beats do the same a few days at a time. Returns how many. */
  sealAll(nowMs: number): Promise<number>;
  /** Days that could not be sealed since the start, and stay rows. */
  sealFailures(): readonly SealFailure[];
  /**
   * Once a second: puts on the disk what has landed, computes a few hours and begins to seal a few days that have ended,
   * drops what is too old, gives back what is empty, says that we live.
   */
  beat(nowMs: number): void;
  /** From the next beat on so long is kept. What was dropped is gone. */
  retain(wanted: Retention): void;
  backupTo(path: string): Promise<Result<Backup, JournalFault>>;
  /** Reads the whole file through, on a thread of its own: what is damaged first, or undefined. */
  damage(): Promise<string | undefined>;
  close(): void;
};

export type JournalParts = {
  readonly database: Database;
  readonly folder: string;
  readonly durability: Durability;
  readonly retention: Retention;
  /** Lets go of the folder. */
  readonly release: () => void;
};

export const buildJournal = ({ database, folder, durability, retention, release }: JournalParts): Journal => {
  let keeping = retention;
  const sequence = buildSequence(database);
  const [sealed, edge, useOfFlags] = [
    prepareSealedDays(database, DAYS_REMEMBERED),
    buildSealEdge(database),
    buildUseOfFlags(),
  ];
  const rows = prepareStoredRows(database, sealed);
  const readings = buildReadings({ database, rows, edge, late: buildLate(database, sealed, edge) });
  const rollups = buildRollups({ database, rows, useOfFlags, rawFromMs: prepareRawFrom(database) });
  const sealing = buildSealing({ database, edge });
  const [tail, snapshots, meta] = [buildTail(database), buildSnapshots(database), buildMeta(database)];
  const [alarms, malformed] = [buildAlarms(database, sequence), buildMalformed(database)];
  const [boards, packets, runs] = [buildBoards(database), buildPackets(database), buildGatewayRuns(database)];
  const [sources, due] = [buildSources(database, rows), buildDue(database)];
  const forecastScores = buildForecastScores(database);
  const kept = { tail, sequence, alarms, forecastScores, malformed, boards, packets, snapshots, sealed };
  const parts = { database, readings, rollups, due, ...kept };
  return {
    folder,
    path: database.name,
    land: buildLand(parts),
    snapshot: snapshots.newest,
    tailSince: (snapshot) => tail.since(snapshot?.landing ?? 0),
    sources,
    readings,
    rollups,
    mappings: buildMappings(database, sequence),
    calibrations: buildCalibrations(database, sequence),
    settings: buildSettings(database, sequence),
    alarms,
    forecastScores,
    log: buildLog(database, sequence),
    accounts: buildAccounts(database),
    tokens: buildTokens(database),
    sessions: buildSessions(database),
    malformed,
    boards,
    packets,
    runs,
    ladders: buildLadders(database),
    outbox: buildOutbox(database),
    wakings: buildWakings(database, sequence),
    pushSubscriptions: buildPushSubscriptions(database),
    reviews: buildReviews(database),
    meta,
    due,
    sequence: sequence.newest,
    changesSince: sequence.changesSince,
    together: buildTogether(database, [sequence, rollups, packets, sources, sealed]),
    importHistory: buildImportHistory(parts),
    sealHistory: buildSealHistory({ database, rows, rollups, edge, due, useOfFlags }),
    sealAll: sealing.all,
    sealFailures: sealing.failures,
    beat: buildBeat({
      ...{ database, durability, runs, rollups, sealing, due },
      dropping: buildDropping({ database, retention: () => keeping, due }),
      shrink: buildShrink(database),
    }),
    retain: (wanted) => {
      keeping = wanted;
    },
    backupTo: (path) => backupTo(database, path),
    damage: () => readThrough(database.name),
    close: () => {
      sealing.close();
      meta.set(CLEAN_END, 'yes');
      database.close();
      release();
    },
  };
};

const buildTogether =
  (database: Database, memories: readonly Memory[]): Journal['together'] =>
  (work) => {
    try {
      return database.transaction(work).immediate();
    } catch (error) {
      for (const memory of memories) memory.reload();
      throw error;
    }
  };

/** In `meta`: whether the journal was closed by its owner. */
export const CLEAN_END = 'clean-end';

/** Few enough not to hold up the event loop: an hour at 10 s took 0.4 ms where this was measured. */
const HOURS_A_BEAT = 20;

/** A batch of late readings often comes for several sources of one board at a time: 0.4 MB a day. */
const DAYS_REMEMBERED = 12;

/** A sign of life at least this often; its age is the error of "gateway down since". */
const ALIVE_MS = 10_000;

type BeatParts = {
  readonly database: Database;
  readonly durability: Durability;
  readonly runs: GatewayRuns;
  readonly rollups: Rollups;
  readonly sealing: Sealing;
  readonly due: Pick<Due, 'fold'>;
  readonly dropping: Dropping;
  readonly shrink: () => void;
};

const buildBeat = ({ database, durability, runs, rollups, sealing, due, dropping, shrink }: BeatParts) => {
  const changes = database.prepare<[], number>('SELECT total_changes()').pluck();
  let written = changes.get() ?? 0;
  let aliveMs = Number.NEGATIVE_INFINITY;
  return (nowMs: number): void => {
    rollups.computeClosed(nowMs, HOURS_A_BEAT);
    sealing.beat(nowMs);
    due.fold();
    dropping.beat(nowMs);
    shrink();
    if (changes.get() === written && nowMs - aliveMs < ALIVE_MS) return;
    // Syncing the write-ahead log for this one commit syncs every commit before it.
    if (durability === 'second') database.pragma('synchronous = FULL');
    runs.alive(nowMs);
    if (durability === 'second') database.pragma('synchronous = NORMAL');
    written = changes.get() ?? 0;
    aliveMs = nowMs;
  };
};
