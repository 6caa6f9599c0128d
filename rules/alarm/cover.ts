import { type ConditionCode, PRIORITIES, type Priority } from '../conditions/finding.js';
import type { Quantity } from '../quantity.js';

/** How two conditions must stand to each other for one to cover the other. */
export type Reach =
  /** The same channel. */
  | 'channel'
  /** The same place. */
  | 'place'
  /** The upper one is the line, air main or circuit of the lower one's place. */
  | 'supply'
  /** The lower one's channel is on the upper one's board. */
  | 'board'
  | 'site';

export type Cover = {
  readonly over: ConditionCode;
  readonly under: readonly ConditionCode[];
  readonly reach: Reach;
  /** Lower conditions about these quantities only. */
  readonly only?: readonly Quantity[];
};

const OXYGEN = ['oxygen-mg-l', 'oxygen-saturation'] as const;
const CARRIED = ['temperature', 'salinity', 'conductivity', 'specific-conductance'] as const;

/**
 * One call for one cause: while the upper condition is true, the lower ones are suppressed by design (ISA-18.2), and
 * come forward again when it ends. Read downwards only, so that no two can cover each other. Decision of this project.
 */
export const COVERS: readonly Cover[] = [
  {
    over: 'above-ceiling',
    under: ['above-limit', 'heading-for-ceiling', 'cooling-lost', 'too-fast'],
    reach: 'channel',
  },
  { over: 'below-ceiling', under: ['below-limit', 'heat-lost', 'too-fast'], reach: 'channel' },
  { over: 'heater-stuck-on', under: ['heading-for-ceiling', 'above-limit', 'too-fast'], reach: 'channel' },
  { over: 'heading-for-ceiling', under: ['above-limit', 'below-limit', 'cooling-lost', 'too-fast'], reach: 'channel' },
  // One water: the decline is told in mg/L, the limit may be passed in percent.
  { over: 'oxygen-falling', under: ['below-limit'], reach: 'place', only: OXYGEN },
  { over: 'heat-lost', under: ['below-limit', 'too-fast', 'off-schedule'], reach: 'channel' },
  { over: 'cooling-lost', under: ['above-limit', 'too-fast', 'off-schedule'], reach: 'channel' },
  { over: 'above-limit', under: ['too-fast', 'off-schedule', 'salinity-shift', 'supersaturated'], reach: 'channel' },
  { over: 'below-limit', under: ['too-fast', 'off-schedule', 'salinity-shift'], reach: 'channel' },
  { over: 'not-plausible', under: ['stuck', 'noisy', 'drifting'], reach: 'channel' },
  { over: 'flow-lost', under: ['below-limit'], reach: 'channel' },
  { over: 'level-falling', under: ['probe-in-air'], reach: 'place' },
  { over: 'probe-in-air', under: ['not-plausible'], reach: 'place' },
  { over: 'bed-anoxia', under: ['clean-bed-by'], reach: 'place' },
  {
    over: 'mains-lost',
    under: ['air-lost', 'board-offline', 'heat-lost', 'flow-lost', 'oxygen-falling'],
    reach: 'supply',
  },
  { over: 'air-lost', under: ['oxygen-falling', 'below-limit'], reach: 'supply', only: OXYGEN },
  {
    over: 'line-moved-together',
    under: ['salinity-shift', 'too-fast', 'above-limit', 'below-limit', 'heat-lost', 'cooling-lost'],
    reach: 'supply',
    only: CARRIED,
  },
  { over: 'board-offline', under: ['silent', 'clock-wrong'], reach: 'board' },
  { over: 'everything-silent', under: ['silent', 'board-offline'], reach: 'site' },
];

const rank = (priority: Priority): number => PRIORITIES.indexOf(priority);

/**
 * Whether a finding of this priority may stand behind that one: never behind a milder one, and what is high is covered
 * only by the worse condition of its own channel.
 */
export const mayCover = (reach: Reach, over: Priority, under: Priority): boolean =>
  rank(over) >= rank(under) && (under !== 'high' || reach === 'channel');
