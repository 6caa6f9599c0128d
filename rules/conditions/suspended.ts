import type { Quantity } from '../quantity.js';
import type { WorkKind } from '../work.js';
import type { ConditionCode } from './finding.js';

type Rule = { readonly code: ConditionCode; readonly only?: readonly Quantity[] };

const all = (...codes: readonly ConditionCode[]): readonly Rule[] => codes.map((code) => ({ code }));
const limits = (...only: readonly Quantity[]): readonly Rule[] => [
  { code: 'above-limit', only },
  { code: 'below-limit', only },
];

const WATER = [
  'temperature',
  'conductivity',
  'specific-conductance',
  'salinity',
  'oxygen-mg-l',
  'oxygen-saturation',
  'ph',
  'orp',
] as const;

/** Water goes out and comes in: it is out of its lines, in air, and changes fast, all on purpose. */
const WATER_MOVED: readonly Rule[] = [
  ...limits(...WATER, 'level', 'flow'),
  ...all('too-fast', 'probe-in-air', 'level-falling', 'salinity-shift', 'oxygen-falling', 'flow-lost'),
  ...all('heat-lost', 'cooling-lost', 'off-schedule', 'supersaturated', 'line-moved-together'),
];
const PROBE_TOUCHED: readonly Rule[] = [
  ...limits(...WATER),
  ...all('too-fast', 'probe-in-air', 'salinity-shift', 'oxygen-falling', 'heat-lost', 'cooling-lost', 'off-schedule'),
  ...all('not-plausible', 'silent', 'stuck', 'noisy', 'drifting', 'board-offline', 'line-moved-together'),
];

/**
 * Declared work replaces exactly these rules, and only at its own place. The ceilings are in no row: they are never
 * suspended. Nor are a heater stuck on (but in a spawning run, where the ceiling is forecast from the hot supply
 * instead), lost mains, a wet floor, or a gateway that hears nothing. Common practice, no source.
 */
export const SUSPENDED: { readonly [kind in WorkKind]: readonly Rule[] } = {
  'drain-down': WATER_MOVED,
  'water-change': WATER_MOVED,
  filling: WATER_MOVED,
  'feeding-flow-off': [...limits('flow'), ...all('flow-lost', 'oxygen-falling')],
  'probe-service': PROBE_TOUCHED,
  'bed-cleaning': [
    ...limits('oxygen-mg-l', 'oxygen-saturation', 'ph', 'orp', 'level', 'flow'),
    ...all('oxygen-falling', 'flow-lost', 'too-fast', 'bed-anoxia', 'clean-bed-by', 'level-falling', 'probe-in-air'),
  ],
  disinfection: [...WATER_MOVED, ...all('not-plausible', 'bed-anoxia', 'clean-bed-by', 'upkeep-overdue')],
  'spawning-run': [
    ...limits('temperature', 'salinity', 'level', 'flow'),
    ...all('too-fast', 'probe-in-air', 'level-falling', 'salinity-shift', 'flow-lost', 'oxygen-falling'),
    ...all('heater-stuck-on', 'heat-lost', 'cooling-lost', 'off-schedule', 'supersaturated', 'upkeep-overdue'),
  ],
  'intake-closed': [...limits('flow', 'level'), ...all('flow-lost')],
  'standby-test': all('mains-lost', 'air-lost', 'board-offline', 'silent'),
  resting: [
    ...WATER_MOVED,
    ...all('not-plausible', 'silent', 'stuck', 'noisy', 'drifting', 'air-lost', 'dawn-oxygen-falling'),
    ...all('bed-anoxia', 'clean-bed-by', 'upkeep-overdue'),
  ],
  // It looks after the person: the water is watched as ever.
  alone: [],
};

/** Work on a supply stands for everything that hangs on it; other work for its own place alone. */
export const REACHES_SUPPLIED: ReadonlySet<WorkKind> = new Set<WorkKind>(['intake-closed', 'standby-test']);

/** Whether work of this kind replaces a condition, about a quantity where it is about one. */
export const isSuspended = (kind: WorkKind, code: ConditionCode, quantity: Quantity | undefined): boolean =>
  SUSPENDED[kind].some(
    (rule) =>
      rule.code === code && (rule.only === undefined || (quantity !== undefined && rule.only.includes(quantity))),
  );
