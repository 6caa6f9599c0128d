import type { Change } from '../../rules/wire/feed.js';
import type { Alarms } from './alarms.js';
import type { Boards } from './boards.js';
import type { Database } from './database.js';
import type { Due } from './due.js';
import type { ForecastScores } from './forecast-scores.js';
import type { KeptReading, Landed, Landing } from './landing.js';
import type { Malformed } from './malformed.js';
import type { Packets } from './packets.js';
import type { Readings } from './readings.js';
import type { Rollups } from './rollups.js';
import type { Sequence } from './sequence.js';
import type { Snapshots } from './snapshot.js';
import type { Tail } from './tail.js';

export type LandingParts = {
  readonly database: Database;
  readonly readings: Readings;
  readonly rollups: Rollups;
  readonly tail: Tail;
  readonly sequence: Sequence;
  readonly alarms: Alarms;
  readonly forecastScores: ForecastScores;
  readonly malformed: Malformed;
  readonly boards: Boards;
  readonly packets: Packets;
  readonly snapshots: Snapshots;
  readonly sealed: Memory;
  readonly due: Pick<Due, 'mark'>;
};

/** What is remembered beside the file and has to follow it back when a transaction is rolled back. */
export type Memory = { reload(): void };

/** Commits everything that one group of messages caused, or throws and has changed nothing. */
export type Land = (landing: Landing) => Landed;

export const buildLand = (parts: LandingParts): Land => {
  const { database, tail, snapshots, rollups, sequence, packets, sealed } = parts;
  const newestLanding = (): number => Math.max(snapshots.newest()?.landing ?? 0, tail.newestLanding());
  const memories: readonly Memory[] = [rollups, sequence, packets, sealed];
  let landed = newestLanding();

  const land = database.transaction((landing: Landing): Landed => {
    const number = landed + 1;
    const kept = keepReadings(parts, number, landing.readings);
    reviseReadings(parts, landing.revisions);
    const changes = landing.alarms.map((change): Change => parts.alarms.append(change));
    for (const score of landing.scores ?? []) parts.forecastScores.keep(score);
    keepMessages(parts, landing);
    keepSnapshot(parts, number, landing.snapshot);
    landed = number;
    return { changes, ...kept };
  });

  return (landing) => {
    try {
      return land.immediate(landing);
    } catch (error) {
      landed = newestLanding();
      for (const memory of memories) memory.reload();
      throw error;
    }
  };
};

const keepReadings = (
  { readings, rollups, tail, due }: LandingParts,
  landing: number,
  arrived: readonly KeptReading[],
): Pick<Landed, 'variants' | 'repeats'> => {
  const fresh: KeptReading[] = [];
  let variants = 0;
  for (const reading of arrived) {
    const kept = readings.keep(reading);
    if (kept === 'repeat') continue;
    if (kept === 'variant') variants += 1;
    rollups.mark(reading.sourceId, reading.deviceMs);
    fresh.push(reading);
  }
  if (fresh.length > 0) tail.append(landing, fresh);
  due.mark(fresh);
  return { variants, repeats: arrived.length - fresh.length };
};

const reviseReadings = ({ readings, rollups, due }: LandingParts, revisions: Landing['revisions']): void => {
  const revised = revisions.filter(({ sourceId, deviceMs, flags }) => readings.revise(sourceId, deviceMs, flags));
  for (const { sourceId, deviceMs } of revised) rollups.mark(sourceId, deviceMs);
  due.mark(revised);
};

const keepMessages = ({ malformed, boards, packets }: LandingParts, landing: Landing): void => {
  for (const message of landing.malformed) malformed.keep(message);
  if (landing.malformed.length > 0) malformed.trim();
  for (const change of landing.boards) boards.keep(change);
  packets.keepAll(landing.packets);
};

/** The snapshot holds this landing's own readings already, so the tail begins after it. */
const keepSnapshot = (
  { snapshots, sequence, tail }: LandingParts,
  landing: number,
  snapshot: Landing['snapshot'],
): void => {
  if (snapshot === undefined) return;
  snapshots.save({ ...snapshot, landing, sequence: sequence.newest() });
  tail.forgetUpTo(landing);
};
