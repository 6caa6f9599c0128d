import { isForecastWorse } from '../alerts/worse.js';
import { type Harm, PRIORITIES, type Priority } from '../conditions/finding.js';
import type { Hatchery } from '../hatchery.js';
import type { AlarmPicture } from './alarm.js';
import { type CauseFamily, familyOf, suppliesBehind } from './cause.js';

/** Alarms with one cause. Keeps its first alarm's id, also when that alarm has ended. Plain JSON. */
export type Fault = {
  readonly id: string;
  readonly family: CauseFamily;
  /** What all its members share, the likeliest first; it narrows with each that joins. */
  readonly supplies: readonly string[];
  readonly members: readonly string[];
  readonly priority: Priority;
  readonly harm?: Harm;
  readonly beganMs: number;
  readonly joinedMs: number;
};

export type FaultNews =
  | { readonly kind: 'begins'; readonly fault: Fault; readonly alarmId: string }
  /** `sounds`: it is of higher priority than the fault was, or harm is materially nearer. */
  | { readonly kind: 'joins'; readonly fault: Fault; readonly alarmId: string; readonly sounds: boolean }
  | { readonly kind: 'ends'; readonly fault: Fault };

export type FaultStep = { readonly faults: readonly Fault[]; readonly news: readonly FaultNews[] };

/** Later than this after the last one joined it is another fault, and calls for itself. Decision of this project. */
const JOIN_WITHIN_MS = 30 * 60_000;

const isActive = ({ state }: AlarmPicture): boolean => state !== 'normal';

const isHigher = (a: Priority, b: Priority): boolean => PRIORITIES.indexOf(a) > PRIORITIES.indexOf(b);

const sooner = (a: Harm | undefined, b: Harm | undefined): Harm | undefined =>
  a === undefined || (b !== undefined && b.atMs < a.atMs) ? b : a;

const begin = (alarm: AlarmPicture, family: CauseFamily, supplies: readonly string[]): Fault => {
  const { harm } = alarm.finding;
  return {
    id: alarm.id,
    family,
    supplies,
    members: [alarm.id],
    priority: alarm.priority,
    ...(harm === undefined ? {} : { harm }),
    beganMs: alarm.activatedMs,
    joinedMs: alarm.activatedMs,
  };
};

const join = (fault: Fault, alarm: AlarmPicture, supplies: readonly string[]): Fault => {
  const harm = sooner(fault.harm, alarm.finding.harm);
  return {
    ...fault,
    supplies: fault.supplies.filter((supply) => supplies.includes(supply)),
    members: [...fault.members, alarm.id],
    priority: isHigher(alarm.priority, fault.priority) ? alarm.priority : fault.priority,
    ...(harm === undefined ? {} : { harm }),
    joinedMs: Math.max(fault.joinedMs, alarm.activatedMs),
  };
};

const takes = (fault: Fault, alarm: AlarmPicture, family: CauseFamily, supplies: readonly string[]): boolean =>
  fault.family === family &&
  alarm.activatedMs - fault.joinedMs <= JOIN_WITHIN_MS &&
  fault.supplies.some((supply) => supplies.includes(supply));

/** What a fault of these members is now: its members that are still active give its priority and its time of harm. */
const refreshed = (fault: Fault, active: ReadonlyMap<string, AlarmPicture>): Fault => {
  const members = fault.members.flatMap((id) => active.get(id) ?? []);
  const priority = members.reduce<Priority>(
    (worst, alarm) => (isHigher(alarm.priority, worst) ? alarm.priority : worst),
    'low',
  );
  const harm = members.reduce<Harm | undefined>((first, { finding }) => sooner(first, finding.harm), undefined);
  const { harm: _, ...rest } = fault;
  return { ...rest, priority, ...(harm === undefined ? {} : { harm }) };
};

/**
 * The faults after the alarms have moved. An alarm joins the fault of its family with which it shares a supply, within
 * half an hour; acknowledging covers those that are members then. A fault ends when all its members are normal. Alarms
 * that are suppressed begin no fault, and sound in none.
 */
export const stepFaults = (
  before: readonly Fault[],
  alarms: readonly AlarmPicture[],
  hatchery: Hatchery,
  nowMs: number,
): FaultStep => {
  const active = new Map(alarms.filter(isActive).map((alarm) => [alarm.id, alarm]));
  const isOver = ({ members }: Fault): boolean => members.every((id) => !active.has(id));
  const news: FaultNews[] = before.filter(isOver).map((fault) => ({ kind: 'ends', fault }));
  const faults = before.filter((fault) => !isOver(fault));
  const known = new Set(faults.flatMap(({ members }) => members));
  const fresh = [...active.values()].filter(({ id }) => !known.has(id)).sort((a, b) => a.activatedMs - b.activatedMs);
  for (const alarm of fresh) {
    const [family, supplies] = [familyOf(alarm.finding), suppliesBehind(alarm, hatchery)];
    const at = faults.findIndex((fault) => takes(fault, alarm, family, supplies));
    const host = faults[at];
    if (host !== undefined) {
      const fault = join(host, alarm, supplies);
      faults[at] = fault;
      const isWorse = isHigher(alarm.priority, host.priority) || isForecastWorse(host.harm, alarm.finding.harm, nowMs);
      news.push({ kind: 'joins', fault, alarmId: alarm.id, sounds: isWorse && alarm.inhibit === undefined });
    } else if (alarm.inhibit === undefined) {
      const fault = begin(alarm, family, supplies);
      faults.push(fault);
      news.push({ kind: 'begins', fault, alarmId: alarm.id });
    }
  }
  return { faults: faults.map((fault) => refreshed(fault, active)), news };
};

/** The same words for alarms that one fault holds, and an alarm's own id for one that none holds. */
export const faultOf = (faults: readonly Fault[], alarmId: string): string =>
  faults.find(({ members }) => members.includes(alarmId))?.id ?? alarmId;
