import type { AlarmPicture } from '../../rules/alarm/alarm.js';
import type { AlarmDeed } from '../../rules/alarm/lifecycle.js';
import { type AlertHappening, stepAlerts } from '../../rules/alerts/alerts.js';
import { type Alerting, type AlertWorld, type FaultCall, NO_FAULTS } from '../../rules/alerts/faults.js';
import type { LadderRole } from '../../rules/alerts/policy.js';
import { DEFAULT_POLICIES } from '../../rules/alerts/policy.js';
import type { Priority } from '../../rules/conditions/finding.js';

export const MINUTE = 60_000;
/** 02:10 of an invented night. */
export const NIGHT_MS = Date.UTC(2026, 4, 4, 2, 10);

/** Asta on call, Bela behind her, Cora the manager: invented. */
export const ROLES: { readonly [role in LadderRole]: readonly string[] } = {
  'on-call': ['asta'],
  backup: ['bela'],
  manager: ['cora'],
  everybody: ['asta', 'bela', 'cora'],
};

export const world = (more: Partial<AlertWorld> = {}, roles: typeof ROLES = ROLES): AlertWorld => ({
  roster: {
    inRole: (role) => roles[role],
    order: () => [...new Set([...roles['on-call'], ...roles.backup, ...roles.manager, ...roles.everybody])],
  },
  policies: DEFAULT_POLICIES,
  hourAt: () => 'night',
  matesOf: ({ id }) => [id],
  ...more,
});

export const alarmPictured = (id: string, atMs: number, more: Partial<AlarmPicture> = {}): AlarmPicture => {
  const priority: Priority = more.priority ?? 'high';
  return {
    id,
    subject: 'l2.temperature',
    finding: { condition: 'heater-stuck-on', placeId: 'l2', channelId: 'l2.temperature', priority, sinceMs: atMs },
    priority,
    state: 'unack',
    activatedMs: atMs,
    changedMs: atMs,
    ...more,
  };
};

const DEEDS: { readonly [event: string]: readonly AlarmDeed[] } = {
  'cond-on': ['annunciate', 'start-escalation'],
  realarm: ['annunciate', 'start-escalation'],
  'cond-off': ['silence', 'stop-escalation', 'notify-cleared'],
  ack: ['silence', 'stop-escalation'],
};
const STATES = { 'cond-on': 'unack', realarm: 'unack', 'cond-off': 'rtn-unack', ack: 'ack' } as const;

/** Ladders that a test talks to in the words of a night. */
export const watchNight = (site: AlertWorld = world(), startMs = NIGHT_MS) => {
  let alerting: Alerting = NO_FAULTS;
  let nowMs = startMs;
  const calls: FaultCall[] = [];
  const tell = (happening: AlertHappening) => {
    const stepped = stepAlerts(alerting, happening, site);
    alerting = stepped.alerting;
    calls.push(...stepped.calls);
    return stepped;
  };
  const alarm = (event: keyof typeof STATES, id = 'a1', more: Partial<AlarmPicture> = {}) =>
    tell({
      kind: 'alarm',
      atMs: nowMs,
      event,
      deeds: DEEDS[event] ?? [],
      by: 'asta',
      alarm: alarmPictured(id, startMs, { state: STATES[event], ...more }),
    });
  return {
    now: () => nowMs,
    /** Time goes on second by second, as the gateway's clock does. */
    passes: (minutes: number) => {
      const untilMs = nowMs + minutes * MINUTE;
      while (nowMs < untilMs) {
        nowMs = Math.min(untilMs, nowMs + 1_000);
        tell({ kind: 'tick', atMs: nowMs });
      }
    },
    /** The gateway was not there in the meantime. */
    jumps: (minutes: number) => {
      nowMs += minutes * MINUTE;
      tell({ kind: 'tick', atMs: nowMs });
    },
    alarm,
    tell,
    answers: (
      by: string,
      verb: 'going' | 'there' | 'pass-on' | 'safe',
      more: { minutes?: number; to?: string } = {},
      faultId = 'a1',
    ) => tell({ kind: 'answer', faultId, verb, by, atMs: nowMs, ...more }),
    alerting: () => alerting,
    calls: () => calls,
    /** `10 call asta,bela` and so on: minutes since the start, what, whom. */
    story: () =>
      calls.map(({ atMs, kind, to }) => `${Math.round(((atMs - startMs) / MINUTE) * 10) / 10} ${kind} ${to.join(',')}`),
    standing: (faultId = 'a1') => alerting.faults[faultId]?.ladder?.standing.kind,
  };
};
