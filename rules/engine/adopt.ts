import type { Alarm, AlarmPicture } from '../alarm/alarm.js';
import type { Beneath, Life } from '../alarm/lifecycle.js';
import type { EngineState } from './state.js';

const BENEATH: { readonly [state in AlarmPicture['state']]: Beneath } = {
  normal: 'inactive',
  unack: 'active',
  ack: 'active',
  'rtn-unack': 'inactive',
  'latched-unack': 'latched',
  'latched-ack': 'latched',
};

const lifeFrom = ({ state, inhibit }: AlarmPicture): Life =>
  inhibit === undefined ? { core: state, inhibits: [] } : { beneath: BENEATH[state], inhibits: [inhibit] };

const alarmFrom = (picture: AlarmPicture): Alarm => {
  const {
    priority: _,
    state: _state,
    inhibit: _inhibit,
    inhibitUntilMs,
    inhibitBy: asideBy,
    inhibitReason: asideReason,
    ...rest
  } = picture;
  const shelved = inhibitUntilMs === undefined ? {} : { shelvedUntilMs: inhibitUntilMs };
  const aside = {
    ...(asideBy === undefined ? {} : { asideBy }),
    ...(asideReason === undefined ? {} : { asideReason }),
  };
  return { ...rest, ...shelved, ...aside, life: lifeFrom(picture) };
};

/** A state rebuilt from readings, with the alarms that the journal says are open: what was journalled wins. */
export const adoptAlarms = (state: EngineState, open: readonly AlarmPicture[]): EngineState => {
  const bySubject = new Map(open.map((picture) => [`${picture.finding.condition} ${picture.subject}`, picture]));
  const judgements = state.judgements.map((judgement, index) => {
    const plan = state.plan.judgements[index];
    const picture = plan === undefined ? undefined : bySubject.get(`${plan.condition.code} ${plan.subject}`);
    const { alarm: _, ...rest } = judgement;
    if (picture === undefined) return { ...rest, on: false };
    const alarm = alarmFrom(picture);
    const isOn = picture.state === 'unack' || picture.state === 'ack';
    return { ...rest, finding: picture.finding, on: isOn, raw: isOn, rawMs: picture.finding.sinceMs, alarm };
  });
  return { ...state, judgements, nextDueMs: Math.min(state.nextDueMs, state.nowMs) };
};
