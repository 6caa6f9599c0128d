import type { DemoPen } from './demo-pen.js';

const MINUTE_MS = 60_000;
const TRAY = 'l1';
const DAY = 1;

/** Yesterday's spawning run, in the vessel that then takes its eggs: warm, cool, warm, and three animals spawn. */
export const spawningRun = ({ at, write, happens, together }: DemoPen): void =>
  together(() => {
    write('move', at(DAY, '08:30'), 'b4', { to: TRAY, animals: 36, accept: true });
    write('stage', at(DAY, '08:32'), TRAY, { stage: 'spawning', accept: true });
    const runId = write('run-plan', at(DAY, '08:45'), TRAY, {
      batchId: 'P-4',
      animals: 36,
      ambientC: 22,
      coolC: 17,
      riseC: 5.4,
      holdMin: 30,
      cycles: 3,
      ceilingC: 30,
      hotSupplyC: 27.8,
      latestEndMs: at(DAY, '13:30'),
      conditioningDays: 52,
    });
    for (const [clock, phase, temperatureC] of [
      ['09:00', 'warm', 27.6],
      ['09:45', 'cool', 17],
      ['10:30', 'warm', 27.6],
    ] as const) {
      const fromMs = at(DAY, clock);
      const toMs = fromMs + 14 * MINUTE_MS;
      happens({ kind: 'water-change', tank: 'L1', lMin: 30, temperatureC, declared: true, fromMs, toMs });
      write('run-phase', fromMs + 6 * MINUTE_MS, undefined, { runId, phase });
    }
    write('run-spawner', at(DAY, '10:58'), undefined, { runId, animal: '12', sex: 'male' });
    write('run-spawner', at(DAY, '11:04'), undefined, { runId, animal: '31', sex: 'female', vessel: 'A' });
    write('run-spawner', at(DAY, '11:15'), undefined, { runId, animal: '7', sex: 'female', vessel: 'B' });
    const count = { counts: [154, 149, 158], subsampleMl: 0.2, totalL: 10 };
    write('run-eggs', at(DAY, '11:40'), undefined, { runId, count, females: 2, fertilisedPct: 91, to: TRAY });
    write('run-end', at(DAY, '11:50'), undefined, { runId, why: 'enough-spawned', notSpawned: 33 });
    write('move', at(DAY, '11:56'), TRAY, { to: 'b4', accept: true });
  });
