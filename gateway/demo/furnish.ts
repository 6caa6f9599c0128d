import type { Entry } from '../../rules/log/entry.js';
import type { SimulatedSource, SimulatorLine } from '../../rules/wire/simulated.js';
import type { Journal } from '../journal/journal.js';
import { rowOf } from '../log-desk.js';
import { loadHatchery, PLACE, SITE } from '../settings.js';
import { type InventedHatchery, startInventedHatchery } from './invented-hatchery.js';
import { type Reliving, relive } from './past.js';

const BY = 'demo';
const SEED = 7;
const LEAST_MS = 10 * 60_000;
const DAY_MS = 86_400_000;

type Described = Extract<SimulatorLine, { kind: 'hatchery' }>;

/** Writes the invented hatchery's settings once; a second start finds them, with whatever was changed since. */
const furnishSettings = (journal: Journal, { site, places }: Described, fromMs: number, nowMs: number): void => {
  if (journal.settings.latest(SITE, SITE) !== undefined) return;
  const row = { effectiveMs: fromMs, recordedMs: nowMs, by: BY, expectedVersion: 0 };
  journal.together(() => {
    journal.settings.put({ ...row, entity: SITE, id: SITE, body: { ...site, id: 'saltmarsh-lane-demo' } });
    for (const place of places) journal.settings.put({ ...row, entity: PLACE, id: place.id, body: place });
  });
};

/** Numbers of the described sources, in their order; a new one is named from the beginning of its history. */
const furnishSources = (
  journal: Journal,
  sources: readonly SimulatedSource[],
  fromMs: number,
  nowMs: number,
): readonly number[] => {
  const named = new Set(journal.mappings.list().map(({ sourceId }) => sourceId));
  return journal.together(() =>
    sources.map(({ channelId, unit, periodMs: _, ...said }) => {
      const { id } = journal.sources.ensure({ ...said, firstSeenMs: fromMs });
      // The past was read more slowly than the present: the rhythm is learned, not told.
      if (!named.has(id)) journal.mappings.name({ sourceId: id, channelId, unit, fromMs, ruling: true }, BY, nowMs);
      return id;
    }),
  );
};

const LATE_MS = 90_000;

/** What the invented people wrote, each a moment after it happened. */
const furnishLog = (journal: Journal, entries: readonly Entry[]): void =>
  journal.together(() => {
    for (const entry of entries) journal.log.add(rowOf(entry, entry.atMs + LATE_MS));
  });

const newestMs = (journal: Journal): number | undefined => {
  const newest = journal.sources.list().map(({ id }) => journal.readings.newest(id)?.deviceMs ?? 0);
  return newest.length === 0 ? undefined : Math.max(...newest);
};

/**
 * Makes the demo's journal what a real one would be after so many days, or after the hours since the demo last ran, and
 * leaves the invented hatchery waiting for a broker.
 */
export const furnishDemo = async (
  journal: Journal,
  { nowMs, pastDays, say }: { readonly nowMs: number; readonly pastDays: number; readonly say: (line: string) => void },
): Promise<InventedHatchery> => {
  const lastMs = newestMs(journal);
  const fromMs = Math.max(nowMs - pastDays * DAY_MS, (lastMs ?? 0) + 1);
  const days = (nowMs - fromMs) / DAY_MS;
  if (days > 0.05)
    say(
      `living ${days >= 1 ? `${days.toFixed(0)} days` : `${(days * 24).toFixed(1)} hours`} of an invented hatchery ...`,
    );
  const world = startInventedHatchery({ seed: SEED, fromMs, isFirst: lastMs === undefined });
  let reliving: Reliving | undefined;
  for await (const line of world.lines) {
    if (line.kind === 'hatchery') {
      furnishSettings(journal, line, fromMs, nowMs);
      const numbers = furnishSources(journal, line.sources, fromMs, nowMs);
      // A demo that was away for moments goes on where it was, like any gateway.
      if (nowMs - fromMs >= LEAST_MS) reliving = relive(journal, loadHatchery(journal, nowMs), numbers, fromMs);
    } else if (line.kind === 'ready') break;
    else if (line.kind === 'log') furnishLog(journal, line.entries);
    else reliving?.take(line);
  }
  reliving?.finish(nowMs);
  return world;
};
