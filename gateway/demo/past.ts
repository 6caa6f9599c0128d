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
  let waiting: Happening[] = [];

  const run = (happenings: readonly Happening[]): void => {
    const done = stepAll(state, happenings);
    state = done.state;
    journal.land(landingOf(done.effects));
  };
  return {
    take: (line) => {
      if (line.kind === 'work') {
        const { placeId, work: kind, by, fromMs: beginsMs, untilMs } = line;
        const declared = { id: `${placeId}-${kind}-${beginsMs}`, kind, placeId, by, fromMs: beginsMs, untilMs };
        work = [...work.filter((one) => one.untilMs > beginsMs), declared];
        waiting.push({ kind: 'work', atMs: beginsMs, work });
        return;
      }
      const readings = line.readings.flatMap(([source, deviceMs, raw]): readonly Happening[] => {
        const sourceId = numbers[source];
        return sourceId === undefined ? [] : [{ kind: 'reading', atMs: deviceMs, sourceId, raw, deviceMs }];
      });
      run([...waiting, ...readings].sort((a, b) => a.atMs - b.atMs));
      waiting = [];
      run(answers(state));
    },
    finish: (nowMs) => {
      const snapshot = { atMs: nowMs, version: STATE_VERSION, body: makeSnapshot(state) };
      journal.land(landingOf([], { snapshot }));
    },
  };
};

/** The invented people answer what calls them within the hour. */
const answers = (state: EngineState): readonly Happening[] =>
  openAlarms(state)
    .filter(
      ({ state: standing, inhibit }) => inhibit === undefined && (standing === 'unack' || standing === 'rtn-unack'),
    )
    .map(({ id }) => ({ kind: 'answer', atMs: state.nowMs, alarmId: id, verb: 'ack', by: 'Ines' }));
