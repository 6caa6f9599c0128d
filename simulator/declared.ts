import type { SimulatorLine } from '../rules/wire/simulated.js';
import type { WorkKind } from '../rules/work.js';
import type { Event, Schedule } from './event.js';

const WORK_OF: { readonly [kind in Event['kind']]?: WorkKind } = {
  'drain-down': 'drain-down',
  'water-change': 'water-change',
  'flow-off': 'feeding-flow-off',
  'probe-lifted': 'probe-service',
};

/** People say a little more time than they need. */
const SPARE_MS = 10 * 60_000;

type WorkLine = Extract<SimulatorLine, { kind: 'work' }>;

const lineOf = (event: Event, by: string): WorkLine | undefined => {
  const work = WORK_OF[event.kind];
  if (work === undefined || !('declared' in event) || !event.declared) return undefined;
  const placeId = ('tank' in event ? event.tank : 'place' in event ? event.place : '').toLowerCase();
  return { kind: 'work', placeId, work, by, fromMs: event.fromMs, untilMs: event.toMs + SPARE_MS };
};

/** What somebody has declared by now and not told yet; `told` remembers it. */
export const newlyDeclared = (schedule: Schedule, atMs: number, by: string, told: Set<string>): readonly WorkLine[] =>
  schedule(atMs).flatMap((event) => {
    const line = lineOf(event, by);
    const key = `${line?.placeId} ${line?.work} ${line?.fromMs}`;
    if (line === undefined || told.has(key)) return [];
    told.add(key);
    return [line];
  });
