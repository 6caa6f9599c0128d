import { once } from 'node:events';
import { existsSync, mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Worker } from 'node:worker_threads';
import type { Journal } from '../../gateway/journal/journal.js';
import type { KeptReading } from '../../gateway/journal/landing.js';
import { openJournal } from '../../gateway/journal/open.js';
import type { SourceDay } from '../../gateway/journal/seal-history.js';
import { ensureSite, PLACE } from '../../gateway/settings.js';
import type { BenchOptions } from './figure.js';
import { makeDay, PROBES } from './water.js';
import type { DayAsked } from './water-worker.js';

const DAY_MS = 86_400_000;
/** Channels that always have the whole time behind them, so that a year can be asked for in a small history too. */
const LONG_SOURCES = 12;
const LONG_DAYS = 400;

export type MadeHistory = {
  readonly folder: string;
  readonly sources: number;
  readonly readings: number;
  /** The first moment after the history. */
  readonly endMs: number;
  /** Undefined when it was there already. */
  readonly madeInS: number | undefined;
};

export const openBenchJournal = (folder: string): Journal => {
  const opened = openJournal(folder, { durability: 'second' });
  if (!opened.ok) throw new Error(JSON.stringify(opened.fault));
  return opened.value;
};

export const channelOf = (tank: number, probe: number): string => `t${tank}.${PROBES[probe]?.quantity}`;

/** Tanks and their named probes, as the site's people would have set them; `pointer` where the payloads are objects. */
export const furnishTanks = (journal: Journal, tanks: number, fromMs: number, pointer?: string): void => {
  ensureSite(journal, { name: 'Bench', zone: 'UTC', nowMs: fromMs });
  const row = { entity: PLACE, effectiveMs: fromMs, recordedMs: fromMs, by: 'bench', expectedVersion: 0 };
  journal.together(() => {
    for (let tank = 0; tank < tanks; tank += 1) {
      const id = `t${tank}`;
      journal.settings.put({ ...row, id, body: { id, kind: 'tank', name: `T${tank}`, order: tank, stage: 'larva' } });
      for (const [probe, { quantity, unit }] of PROBES.entries()) {
        const topic = `tanks/${id}/${quantity}`;
        const said = pointer === undefined ? { key: topic } : { key: `${topic}#${pointer}`, pointer };
        const { id: sourceId } = journal.sources.ensure({ ...said, topic, firstSeenMs: fromMs });
        const channelId = channelOf(tank, probe);
        journal.mappings.name({ sourceId, channelId, unit, fromMs, ruling: true, periodMs: 10_000 }, 'bench', fromMs);
      }
    }
  });
};

/** The newest days are rows still, as in a gateway that runs (gateway/journal/sealing.ts). */
export const ROW_DAYS = 2;

function* readingsOf({ sourceId, tank, probe, day }: DayAsked): Generator<KeptReading> {
  const { deviceMs, delayMs, raw, flags } = makeDay(tank, probe, day);
  for (let n = 0; n < deviceMs.length; n += 1) {
    const atMs = deviceMs[n] ?? 0;
    const arrivalMs = atMs + (delayMs[n] ?? 0);
    yield { sourceId, deviceMs: atMs, arrivalMs, raw: raw[n] ?? 0, flags: flags[n] ?? 0 };
  }
}

/** Lands days as rows, some seconds of work at a time. */
export const importDays = (journal: Journal, asked: readonly DayAsked[]): void => {
  for (const day of asked) journal.importHistory(readingsOf(day));
};

/**
 * A journal with so many tanks of four probes and so many days at ten seconds, ending with the last UTC day, straight into
 * sealed days but for the newest. It stays in the temporary folder and is used again by the next bench of the same size on the same day.
 */
export const madeHistory = async ({ tanks, days, say }: BenchOptions): Promise<MadeHistory> => {
  const endMs = Math.floor(Date.now() / DAY_MS) * DAY_MS;
  const folder = join(tmpdir(), `nightwater-bench-${tanks}x${days}-${endMs / DAY_MS}`);
  const asked = daysAsked(tanks, days, endMs / DAY_MS);
  const done = join(folder, 'made');
  const began = performance.now();
  let readings = 0;
  if (!existsSync(done)) {
    say(`making ${asked.length} days of probes ...`);
    rmSync(folder, { recursive: true, force: true });
    mkdirSync(folder, { recursive: true });
    const journal = openBenchJournal(folder);
    furnishTanks(journal, tanks, endMs - LONG_DAYS * DAY_MS);
    const firstRowDay = endMs / DAY_MS - ROW_DAYS;
    const isRow = ({ day }: DayAsked): boolean => day >= firstRowDay;
    await makeAll(
      journal,
      asked.filter((one) => !isRow(one)),
      say,
    );
    say('the newest days as rows ...');
    importDays(journal, asked.filter(isRow));
    journal.close();
    writeFileSync(done, '');
  }
  const madeInS = (performance.now() - began) / 1_000;
  const journal = openBenchJournal(folder);
  const sources = journal.sources.list();
  for (const { id } of sources) readings += journal.sources.readingCount(id);
  journal.close();
  return { folder, sources: sources.length, readings, endMs, madeInS: madeInS < 0.5 ? undefined : madeInS };
};

export const daysAsked = (tanks: number, days: number, endDay: number): readonly DayAsked[] =>
  Array.from({ length: tanks * PROBES.length }, (_, at) => at).flatMap((at) => {
    const [tank, probe] = [Math.floor(at / PROBES.length), at % PROBES.length];
    const own = at < LONG_SOURCES ? Math.max(days, LONG_DAYS) : days;
    return Array.from({ length: own }, (_, n) => ({ sourceId: at + 1, tank, probe, day: endDay - own + n }));
  });

const DAYS_A_MESSAGE = 16;

const makeAll = async (journal: Journal, asked: readonly DayAsked[], say: (line: string) => void): Promise<void> => {
  const url = new URL('./water-worker.js', import.meta.url);
  let next = 0;
  const work = async (): Promise<void> => {
    const worker = new Worker(url);
    while (next < asked.length) {
      const from = next;
      next += DAYS_A_MESSAGE;
      worker.postMessage(asked.slice(from, next));
      const [made] = (await once(worker, 'message')) as [readonly SourceDay[]];
      journal.sealHistory(made);
      if (Math.floor(from / 4_800) !== Math.floor(next / 4_800)) say(`${next} of ${asked.length}`);
    }
    await worker.terminate();
  };
  await Promise.all([work(), work()]);
};
