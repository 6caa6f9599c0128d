import type { Happening } from '../../rules/engine/happening.js';
import { openAlarms } from '../../rules/engine/picture.js';
import { type EngineState, emptyState, makeSnapshot, STATE_VERSION } from '../../rules/engine/state.js';
import { stepAll } from '../../rules/engine.js';
import type { Hatchery } from '../../rules/hatchery.js';
import type { SimulatorLine } from '../../rules/wire/simulated.js';
import type { DeclaredWork } from '../../rules/work.js';
import type { Journal } from '../journal/journal.js';
import { landingOf } from '../landing-of.js';
import { recall } from '../wake-up.js';

type Line<K extends SimulatorLine['kind']> = Extract<SimulatorLine, { kind: K }>;

/** Lives the past through the same engine as the present, so that its flags, alarms and answers are real ones. */
export type Reliving = {
  readonly take: (line: Line<'past'> | Line<'work'>) => void;
  /** Leaves the engine as it stands for the start that follows. */
  readonly finish: (nowMs: number) => void;
};

/** Goes on from what the journal last knew; a first past begins with nothing known. */
export const relive = (journal: Journal, hatchery: Hatchery, numbers: readonly number[], fromMs: number): Reliving => {
  let state = stepAll(recall(journal) ?? emptyState(hatchery, fromMs), [
    { kind: 'start', atMs: fromMs },
    { kind: 'hatchery', atMs: fromMs, hatchery },
    { kind: 'link', atMs: fromMs, broker: 'up' },
  ]).state;
  let work: readonly DeclaredWork[] = [];

  const run = (happenings: readonly Happening[]): void => {
    const done = stepAll(state, happenings);
    state = done.state;
    journal.land(landingOf(done.effects));
  };
  /** Declared work as it stood at each moment of the span at which some of it began or was over. */
  const changes = (sinceMs: number, untilMs: number): readonly Happening[] => {
    const moments = work.flatMap((one) => [Math.max(fromMs, one.fromMs), one.untilMs]);
    const now = moments.filter((atMs) => atMs > sinceMs && atMs <= untilMs);
    return [...new Set(now)].map((atMs) => ({ kind: 'work', atMs, work: workAt(work, atMs) }));
  };
  let toldMs = fromMs - 1;
  return {
    take: (line) => {
      if (line.kind === 'work') {
        const { placeId, work: kind, by, fromMs: beginsMs, untilMs } = line;
        const id = `${placeId}-${kind}-${beginsMs}`;
        work = [...work, { id, kind, placeId, by, fromMs: beginsMs, untilMs }];
        return;
      }
      const readings = line.readings.flatMap(([source, deviceMs, raw]): readonly Happening[] => {
        const sourceId = numbers[source];
        return sourceId === undefined ? [] : [{ kind: 'reading', atMs: deviceMs, sourceId, raw, deviceMs }];
      });
      const lastMs = readings.reduce((latest, { atMs }) => Math.max(latest, atMs), toldMs);
      run([...changes(toldMs, lastMs), ...readings].sort((x, y) => x.atMs - y.atMs));
      toldMs = lastMs;
      run(answers(state));
    },
    finish: (nowMs) => {
      const snapshot = { atMs: nowMs, version: STATE_VERSION, body: makeSnapshot(state) };
      journal.land(landingOf([], { snapshot }));
    },
  };
};

const DAY_MS = 86_400_000;

/** Begun by then, and not over for more than a day; the invented people say when they are done. */
const workAt = (work: readonly DeclaredWork[], atMs: number): readonly DeclaredWork[] =>
  work
    .filter((one) => one.fromMs <= atMs && one.untilMs > atMs - DAY_MS)
    .map((one) => (one.untilMs <= atMs ? { ...one, endedMs: one.untilMs } : one));

/** The invented people answer what calls them within the hour. */
const answers = (state: EngineState): readonly Happening[] =>
  openAlarms(state)
    .filter(
      ({ state: standing, inhibit }) => inhibit === undefined && (standing === 'unack' || standing === 'rtn-unack'),
    )
    .map(({ id }) => ({ kind: 'answer', atMs: state.nowMs, alarmId: id, verb: 'ack', by: 'Ines' }));
