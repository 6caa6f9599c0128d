import type { Priority } from '../conditions/finding.js';
import type { Way } from './person.js';

/** Whom a step calls. Resolved to people at the moment of sending; `everybody` is for a watch that turned out empty. */
export const LADDER_ROLES = ['on-call', 'backup', 'manager', 'everybody'] as const;
export type LadderRole = (typeof LADDER_ROLES)[number];

export type LadderStep = {
  readonly afterMs: number;
  readonly to: readonly LadderRole[];
  readonly ways: readonly Way[];
};

/** Who is called when. After the last step those from `loopFromStep` (counted from 0) on are repeated together. */
export type Policy = {
  readonly steps: readonly LadderStep[];
  readonly loopFromStep: number;
  readonly loopEveryMs: number;
  readonly stopAfterMs: number;
};

/** One moment of a policy: a step, or a repetition of the last ones. */
export type PolicyPoint = LadderStep & { readonly label: string };

const union = <T>(lists: readonly (readonly T[])[]): readonly T[] => [...new Set(lists.flat())];

/** The `index`th call of a policy, from 0; undefined when it is over. */
export const pointAt = (policy: Policy, index: number): PolicyPoint | undefined => {
  if (index < 0) return undefined;
  const { steps, loopFromStep, loopEveryMs, stopAfterMs } = policy;
  const step = steps[index];
  if (step !== undefined) return { ...step, label: `step-${index + 1}` };
  const last = steps.at(-1);
  if (last === undefined || loopEveryMs <= 0) return undefined;
  const turn = index - steps.length + 1;
  const afterMs = last.afterMs + turn * loopEveryMs;
  if (afterMs >= stopAfterMs) return undefined;
  const repeated = steps.slice(loopFromStep);
  return {
    afterMs,
    to: union(repeated.map(({ to }) => to)),
    ways: union(repeated.map(({ ways }) => ways)),
    label: `repeat-${turn}`,
  };
};

/** By day the wall and the room speak first, by night people are called. A priority without a policy calls nobody. */
export type Hour = 'day' | 'night';
export type Policies = { readonly [hour in Hour]: { readonly [priority in Priority]?: Policy } };

const S = 1_000;
const AROUND = { loopFromStep: 2, loopEveryMs: 900 * S, stopAfterMs: 14_400 * S } as const;

/** Starting values of this project, after the example ladder of common practice; each site sets its own. */
export const DEFAULT_POLICIES: Policies = {
  night: {
    high: {
      ...AROUND,
      steps: [
        { afterMs: 0, to: ['on-call'], ways: ['push', 'webhook'] },
        { afterMs: 120 * S, to: ['on-call'], ways: ['push', 'email'] },
        { afterMs: 240 * S, to: ['on-call'], ways: ['push', 'text', 'ring'] },
        { afterMs: 600 * S, to: ['on-call', 'backup'], ways: ['push', 'text', 'ring'] },
        { afterMs: 1_200 * S, to: ['manager'], ways: ['push', 'text', 'ring'] },
      ],
    },
    medium: {
      ...AROUND,
      steps: [
        { afterMs: 300 * S, to: ['on-call'], ways: ['push', 'webhook'] },
        { afterMs: 600 * S, to: ['on-call'], ways: ['push', 'email', 'text'] },
        { afterMs: 1_200 * S, to: ['on-call', 'backup'], ways: ['push', 'text', 'ring'] },
        { afterMs: 2_400 * S, to: ['manager'], ways: ['push', 'text', 'ring'] },
      ],
    },
  },
  day: {
    high: {
      ...AROUND,
      steps: [
        { afterMs: 60 * S, to: ['on-call'], ways: ['push', 'webhook'] },
        { afterMs: 240 * S, to: ['on-call', 'backup'], ways: ['push', 'text'] },
        { afterMs: 600 * S, to: ['on-call', 'backup'], ways: ['push', 'text', 'ring'] },
        { afterMs: 1_200 * S, to: ['manager'], ways: ['push', 'text', 'ring'] },
      ],
    },
    medium: {
      ...AROUND,
      steps: [
        { afterMs: 600 * S, to: ['on-call'], ways: ['push'] },
        { afterMs: 1_200 * S, to: ['on-call', 'backup'], ways: ['push', 'text'] },
        { afterMs: 2_400 * S, to: ['manager'], ways: ['push', 'email'] },
      ],
    },
  },
};
