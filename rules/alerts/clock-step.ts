import { stand } from './climb.js';
import type { AlertFault, Alerting } from './faults.js';
import type { Standing } from './ladder.js';

/** Less than this is no step of the clock. */
const SLACK_MS = 1_000;

/** A clock set back shifts what is due with it, so that nobody sleeps an hour longer; set forward, it is due sooner. */
export const withClock = (alerting: Alerting, atMs: number): Alerting => {
  const backMs = alerting.nowMs - atMs;
  if (backMs <= SLACK_MS) return { ...alerting, nowMs: atMs };
  const faults = Object.entries(alerting.faults).map(([id, fault]) => [id, shifted(fault, backMs)] as const);
  return { faults: Object.fromEntries(faults), nowMs: atMs };
};

const shifted = (fault: AlertFault, byMs: number): AlertFault => {
  const { ladder } = fault;
  if (ladder === undefined) return fault;
  return {
    ...fault,
    ladder: stand(
      {
        ...ladder,
        baseMs: ladder.baseMs - byMs,
        ...(ladder.sayClearedMs === undefined ? {} : { sayClearedMs: ladder.sayClearedMs - byMs }),
      },
      shiftedStanding(ladder.standing, byMs),
    ),
  };
};

const shiftedStanding = (standing: Standing, byMs: number): Standing => {
  switch (standing.kind) {
    case 'going':
      return { ...standing, untilMs: standing.untilMs - byMs };
    case 'passing':
      return { ...standing, sinceMs: standing.sinceMs - byMs };
    case 'there':
      return { ...standing, checkMs: standing.checkMs - byMs };
    case 'acknowledged':
      return standing.untilMs === undefined ? standing : { ...standing, untilMs: standing.untilMs - byMs };
    default:
      return standing;
  }
};
