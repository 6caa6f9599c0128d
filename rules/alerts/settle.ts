import { type AlertFault, type Alerting, type AlertsStepped, callKey } from './faults.js';
import { isCalling, isOver, type Ladder, type LadderStepped } from './ladder.js';

/** One fault after something happened to it, and the calls that it led to. */
export type Turned = { readonly fault: AlertFault; readonly calls: LadderStepped['calls'] };

export const NOTHING_CHANGED: Omit<AlertsStepped, 'alerting'> = { calls: [], changed: [], settled: [] };

/**
 * Trouble that was gone for less than this was never gone: one alarm of a fault often hands over to the next, and a
 * signal may come and go. Decision of this project.
 */
export const REST_MS = 10 * 60_000;

/** Nobody is to be called for it, and nothing of it is open. */
export const isDone = ({ members, ladder }: AlertFault): boolean =>
  members.length === 0 && (ladder === undefined || isOver(ladder));

export const onFault = (
  alerting: Alerting,
  fault: AlertFault | undefined,
  turn: (fault: AlertFault) => Turned,
): AlertsStepped => (fault === undefined ? { alerting, ...NOTHING_CHANGED } : settle(alerting, fault, turn(fault)));

/** The state with the turned fault in it, or without it once it has rested long enough. */
export const settle = (
  alerting: Alerting,
  before: AlertFault,
  { fault, calls }: Turned,
  atMs = fault.changedMs,
): AlertsStepped => {
  const isGone = isDone(fault) && atMs - fault.changedMs > REST_MS;
  const { [before.id]: _, ...others } = alerting.faults;
  const wasCalling = before.ladder !== undefined && isCalling(before.ladder);
  const isQuiet = fault.ladder === undefined || !isCalling(fault.ladder);
  const { id: faultId, runs: run } = fault;
  return {
    alerting: { ...alerting, faults: isGone ? others : { ...others, [faultId]: fault } },
    calls: calls.map((call) => ({ ...call, faultId, run, key: callKey(faultId, run, call.label) })),
    changed: fault === before && !isGone ? [] : [{ fault, open: !isGone }],
    settled: wasCalling && isQuiet ? [faultId] : [],
  };
};

export const joined = (before: AlertsStepped, after: AlertsStepped): AlertsStepped => ({
  alerting: after.alerting,
  calls: [...before.calls, ...after.calls],
  changed: [...before.changed, ...after.changed],
  settled: [...before.settled, ...after.settled],
});

export const withLadder = (fault: AlertFault, atMs: number, turn: (ladder: Ladder) => LadderStepped): Turned => {
  if (fault.ladder === undefined) return { fault, calls: [] };
  const { ladder, calls } = turn(fault.ladder);
  return ladder === fault.ladder ? { fault, calls } : { fault: { ...fault, ladder, changedMs: atMs }, calls };
};
