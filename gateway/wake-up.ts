import { adoptAlarms } from '../rules/engine/adopt.js';
import type { Effect } from '../rules/engine/effect.js';
import type { Happening } from '../rules/engine/happening.js';
import { type EngineState, emptyState, parseSnapshot } from '../rules/engine/state.js';
import { stepAll } from '../rules/engine.js';
import type { Hatchery } from '../rules/hatchery.js';
import { replay } from '../rules/replay.js';
import type { DeclaredWork } from '../rules/work.js';
import type { Journal } from './journal/journal.js';
import type { KeptReading } from './journal/landing.js';

/** Without a snapshot that is understood, this much of the record is read again before the engine starts. */
const REBUILD_MS = 48 * 3_600_000;

const happeningOf = ({ sourceId, deviceMs, arrivalMs, raw, refusedMs }: KeptReading): Happening => ({
  kind: 'reading',
  atMs: arrivalMs,
  sourceId,
  raw,
  // What counted as its time then counts again; an unstamped reading has its arrival for a stamp.
  deviceMs: refusedMs ?? deviceMs,
});

function* happeningsOf(readings: Iterable<KeptReading>): Generator<Happening> {
  for (const reading of readings) yield happeningOf(reading);
}

/** The engine as the last snapshot and what landed after it make it. Its effects have all landed already. */
export const recall = (journal: Journal): EngineState | undefined => {
  const snapshot = journal.snapshot();
  const state = snapshot === undefined ? undefined : parseSnapshot(snapshot.body);
  return state === undefined ? undefined : replay(state, happeningsOf(journal.tailSince(snapshot))).state;
};

/** From the record alone: a first start, or a snapshot of another version. Journalled alarms win over recomputed ones. */
const rebuild = (journal: Journal, hatchery: Hatchery, nowMs: number): EngineState => {
  const fromMs = nowMs - REBUILD_MS;
  const begun = stepAll(emptyState(hatchery, fromMs), [{ kind: 'hatchery', atMs: fromMs, hatchery }]).state;
  return adoptAlarms(replay(begun, happeningsOf(journal.readings.since(fromMs))).state, journal.alarms.open());
};

export type Woken = { readonly state: EngineState; readonly effects: readonly Effect[] };

/**
 * The engine's state at start-up, and the effects that are new: deadlines that passed while nobody was there, and what
 * today's settings change. A change that is in the journal already is not told twice.
 */
export const wakeUp = (
  journal: Journal,
  {
    hatchery,
    work,
    nowMs,
  }: { readonly hatchery: Hatchery; readonly work: readonly DeclaredWork[]; readonly nowMs: number },
): Woken => {
  const state = recall(journal) ?? rebuild(journal, hatchery, nowMs);
  const started = stepAll(state, [
    // First of all, so that no silence of the time away is told as one.
    { kind: 'start', atMs: nowMs },
    { kind: 'hatchery', atMs: nowMs, hatchery },
    { kind: 'work', atMs: nowMs, work },
  ]);
  const told = new Set(
    journal.alarms
      .changesBetween(state.nowMs - REBUILD_MS, nowMs + 1)
      .map(({ alarm, event, atMs }) => `${alarm.id} ${event} ${atMs}`),
  );
  const effects = started.effects.filter(
    (effect) => effect.do !== 'alarm' || !told.has(`${effect.alarm.id} ${effect.event} ${effect.atMs}`),
  );
  return { state: started.state, effects };
};
