import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { loadHatchery } from '../../gateway/settings.js';
import type { Happening } from '../../rules/engine/happening.js';
import { emptyState } from '../../rules/engine/state.js';
import { stepAll } from '../../rules/engine.js';
import type { Bench, BenchOptions, Measured } from './figure.js';
import { furnishTanks, openBenchJournal } from './made-history.js';
import { makeDay, PROBES } from './water.js';

const DAY_MS = 86_400_000;
const START_MS = Date.UTC(2026, 5, 1);
const MINUTE_MS = 60_000;

/** Every reading of every probe in order of arrival, a minute at a time. */
function* minutesOf(tanks: number, day: number): Generator<readonly Happening[]> {
  const columns = Array.from({ length: tanks * PROBES.length }, (_, at) =>
    makeDay(Math.floor(at / PROBES.length), at % PROBES.length, day),
  );
  const next = columns.map(() => 0);
  for (let endMs = day * DAY_MS + MINUTE_MS; endMs <= (day + 1) * DAY_MS; endMs += MINUTE_MS) {
    const minute: Happening[] = [];
    for (const [at, { deviceMs, delayMs, raw }] of columns.entries()) {
      for (let n = next[at] ?? 0; (deviceMs[n] ?? Number.POSITIVE_INFINITY) < endMs; n += 1) {
        const atMs = (deviceMs[n] ?? 0) + (delayMs[n] ?? 0);
        minute.push({ kind: 'reading', atMs, sourceId: at + 1, raw: raw[n] ?? 0, deviceMs: deviceMs[n] ?? 0 });
        next[at] = n + 1;
      }
    }
    yield minute.sort((a, b) => a.atMs - b.atMs);
  }
}

const hatcheryOf = (tanks: number) => {
  const folder = mkdtempSync(join(tmpdir(), 'nightwater-bench-'));
  const journal = openBenchJournal(folder);
  furnishTanks(journal, tanks, START_MS);
  const hatchery = loadHatchery(journal, START_MS + 1);
  journal.close();
  rmSync(folder, { recursive: true });
  return hatchery;
};

/** What is in use once everything that is not has been cleared away. */
const heapMb = (): number => {
  setFlagsFromString('--expose-gc');
  runInNewContext('gc')();
  return process.memoryUsage().heapUsed / 2 ** 20;
};

const run = async ({ tanks, seconds }: BenchOptions): Promise<Measured> => {
  const hatchery = hatcheryOf(tanks);
  const before = heapMb();
  let state = stepAll(emptyState(hatchery, START_MS), [{ kind: 'hatchery', atMs: START_MS, hatchery }]).state;
  let [readings, minutes, cpuMs] = [0, 0, 0];
  for (const minute of minutesOf(tanks, START_MS / DAY_MS)) {
    const began = process.cpuUsage();
    state = stepAll(state, minute).state;
    const { user, system } = process.cpuUsage(began);
    cpuMs += (user + system) / 1_000;
    readings += minute.length;
    minutes += 1;
    if (cpuMs > seconds * 1_000) break;
  }
  const kept = heapMb() - before;
  if (state.channels.length === 0) throw new Error('The engine knows no channel.');
  return {
    figures: [
      { what: `${tanks} tanks × ${PROBES.length} channels, simulated`, value: minutes / 60, unit: 'h' },
      { what: 'judged a second of processor time', value: (readings / cpuMs) * 1_000, unit: 'readings/s' },
      { what: 'processor at ten seconds a reading', value: (cpuMs / (minutes * MINUTE_MS)) * 100, unit: '% of one' },
      { what: 'kept in memory by the rules', value: kept, unit: 'MiB' },
    ],
    skipped: [],
  };
};

export const engineBench: Bench = { name: 'engine', about: 'the rules alone: readings judged a second, memory', run };
