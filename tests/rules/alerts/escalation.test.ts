import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { acknowledgeLadder, endLadder } from '../../../rules/alerts/answer.js';
import { climb, startLadder } from '../../../rules/alerts/climb.js';
import type { Call, Roster } from '../../../rules/alerts/ladder.js';
import type { Way } from '../../../rules/alerts/person.js';
import type { LadderRole, Policy } from '../../../rules/alerts/policy.js';

type Sent = {
  readonly t_s: number;
  readonly step: number | string;
  readonly to: readonly string[];
  readonly channels: readonly string[];
};
type Fixture = {
  readonly policy: {
    readonly steps: readonly {
      readonly after_s: number;
      readonly to: readonly LadderRole[];
      readonly channels: readonly string[];
    }[];
    readonly loop_from_step: number;
    readonly loop_every_s: number;
    readonly stop_after_s: number;
  };
  readonly cases: readonly {
    readonly id: string;
    readonly activation_t_s: number;
    readonly acknowledged_t_s: number | null;
    readonly cleared_t_s: number | null;
    readonly expected?: readonly Sent[];
    readonly expected_first_8?: readonly Sent[];
    readonly expected_send_times_s?: readonly number[];
  }[];
};

const file = new URL('../../fixtures/delivery.json', import.meta.url);
const { escalation } = JSON.parse(readFileSync(file, 'utf8')) as { readonly escalation: Fixture };

const WAY: { readonly [channel: string]: Way } = { push: 'push', sms: 'text' };
const ways = (channels: readonly string[]): readonly Way[] => channels.map((channel) => WAY[channel] ?? 'email');

const policy: Policy = {
  steps: escalation.policy.steps.map(({ after_s, to, channels }) => ({
    afterMs: after_s * 1000,
    to,
    ways: ways(channels),
  })),
  loopFromStep: escalation.policy.loop_from_step,
  loopEveryMs: escalation.policy.loop_every_s * 1000,
  stopAfterMs: escalation.policy.stop_after_s * 1000,
};

/** Each role is held by a person of the same name. */
const roster: Roster = { inRole: (role) => [role], order: () => ['on-call', 'backup', 'manager'] };

const sentIn = ({ activation_t_s, acknowledged_t_s, cleared_t_s }: Fixture['cases'][number]): readonly Call[] => {
  const start = startLadder({ run: 1, priority: 'high', hour: 'night', policy, atMs: activation_t_s * 1000 });
  const calls: Call[] = [];
  let ladder = start;
  const take = (done: ReturnType<typeof climb>): void => {
    ladder = done.ladder;
    calls.push(...done.calls);
  };
  if (acknowledged_t_s !== null) take(acknowledgeLadder(ladder, 'backup', acknowledged_t_s * 1000, roster));
  else if (cleared_t_s !== null) take(endLadder(ladder, 'cleared', cleared_t_s * 1000, roster));
  take(climb(ladder, activation_t_s * 1000 + policy.stopAfterMs, roster));
  return calls;
};

const plain = ({ atMs, to, ways: by }: Call) => ({ t_s: atMs / 1000, to, ways: by });
const wanted = ({ t_s, to, channels }: Sent) => ({ t_s, to, ways: ways(channels) });

describe('the ladder, second by second (worked timelines of this project, two of them checked by hand)', () => {
  for (const one of escalation.cases) {
    test(`${one.id}: each step at its second, to the people of that step, by its ways`, () => {
      const sent = sentIn(one);
      if (one.expected !== undefined) expect(sent.map(plain)).toEqual(one.expected.map(wanted));
      if (one.expected_first_8 !== undefined)
        expect(sent.slice(0, 8).map(plain)).toEqual(one.expected_first_8.map(wanted));
      if (one.expected_send_times_s !== undefined)
        expect(sent.map(({ atMs }) => atMs / 1000)).toEqual(one.expected_send_times_s);
    });
  }
});
