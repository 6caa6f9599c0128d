import type { Notice } from '../../rules/alerts/notice.js';
import type { Person } from '../../rules/alerts/person.js';
import { hourOf, onWatch, type WatchPlan, watchGaps } from '../../rules/alerts/watch-plan.js';
import type { EngineState } from '../../rules/engine/state.js';
import { dayStartMs, localMoment } from '../../rules/words/clock.js';
import type { Clock, Stop } from '../clock.js';
import type { Journal } from '../journal/journal.js';
import type { NewMessage } from '../journal/outbox.js';
import type { CheckIn } from './check-in.js';
import type { Alerts } from './desk.js';
import { DRILL } from './lacks.js';
import { peopleAt, watchAt } from './people.js';
import type { Reports } from './report.js';

export type RoundsParts = {
  readonly journal: Pick<Journal, 'settings' | 'wakings'>;
  readonly clock: Clock;
  readonly alerts: Pick<Alerts, 'post'>;
  readonly reports: Pick<Reports, 'morning'>;
  readonly state: () => EngineState;
  readonly checkIn?: () => CheckIn | undefined;
  /** Test-calls everybody. */
  readonly drill?: (by: string) => void;
};

const MINUTE_MS = 60_000;
const HOUR_MS = 60 * MINUTE_MS;
const NIGHT_MS = 14 * HOUR_MS;
/** A gateway that starts later than this after the hour of the report does not make up for it. */
const LATE_MINUTES = 120;
const AHEAD_MS = 12 * HOUR_MS;
/** A line that is away for less is not worth a call. Decision of this project. */
const OUTSIDE_MS = 15 * MINUTE_MS;

/** Each minute: is it time for the morning report or the drill, will somebody be on call, is the line outside well? Each is told once. */
export const startRounds = (parts: RoundsParts): Stop => {
  let reportedDayMs: number | undefined;
  const look = async (): Promise<void> => {
    const { clock, journal, state, alerts } = parts;
    const nowMs = clock.now();
    const { zone } = state().hatchery.site;
    const people = peopleAt(journal, nowMs);
    const plan = watchAt(journal, nowMs);
    const [gap] = watchGaps(plan, people, { fromMs: nowMs, toMs: nowMs + AHEAD_MS }, zone);
    const managers = people.filter(({ manager }) => manager);
    const key = `watch-empty ${gap?.toMs}`;
    if (gap !== undefined)
      alerts.post(
        messagesTo(managers.length > 0 ? managers : people, { kind: 'watch-empty', atMs: nowMs, key, ...gap }, [
          'push',
          'email',
        ]),
      );
    const dayMs = dayStartMs(nowMs, zone);
    const moment = localMoment(nowMs, zone);
    lookOutside(parts, { people, plan, nowMs, dayMs, zone });
    if (isDrillDue(parts, plan, { ...moment, dayMs })) parts.drill?.('Nightwater');
    const late = moment.minute - plan.dayFromMinute;
    if (late < 0 || late > LATE_MINUTES || reportedDayMs === dayMs) return;
    reportedDayMs = dayMs;
    const onCall = new Set(onWatch(plan, 'on-call', nowMs - HOUR_MS, zone));
    const readers = people.filter(({ id, manager }) => manager || onCall.has(id));
    alerts.post(messagesTo(readers, await morningNotice(parts, nowMs, dayMs), ['email']));
  };
  return parts.clock.every(MINUTE_MS, () => void look());
};

type Now = {
  readonly people: readonly Person[];
  readonly plan: WatchPlan;
  readonly nowMs: number;
  readonly dayMs: number;
  readonly zone: string;
};

/** Told by day, once a day, by ways that do not need the line as well. */
const lookOutside = ({ checkIn, alerts }: RoundsParts, { people, plan, nowMs, dayMs, zone }: Now): void => {
  const sinceMs = checkIn?.()?.failingSinceMs();
  if (sinceMs === undefined || nowMs - sinceMs < OUTSIDE_MS || hourOf(plan, nowMs, zone) === 'night') return;
  const onCall = new Set(onWatch(plan, 'on-call', nowMs, zone));
  const told = people.filter(({ id, manager }) => manager || onCall.has(id));
  const notice = { kind: 'check-in-fails', atMs: nowMs, key: `check-in-fails ${dayMs}`, sinceMs } as const;
  alerts.post(messagesTo(told, notice, ['push', 'text', 'email'], true));
};

type Moment = { readonly weekday: number; readonly minute: number; readonly dayMs: number };

const isDrillDue = ({ journal }: RoundsParts, { drill }: WatchPlan, { weekday, minute, dayMs }: Moment): boolean => {
  if (drill === undefined || weekday !== drill.weekday) return false;
  const late = minute - drill.minute;
  if (late < 0 || late > LATE_MINUTES) return false;
  return !journal.wakings.ofFault(DRILL).some(({ atMs, deed }) => deed.what === 'drilled' && atMs >= dayMs);
};

const morningNotice = async ({ reports, state }: RoundsParts, nowMs: number, dayMs: number): Promise<Notice> => {
  const names = Object.fromEntries(state().hatchery.places.map(({ id, name }) => [id, name]));
  return {
    kind: 'morning',
    atMs: nowMs,
    key: `morning ${dayMs}`,
    report: await reports.morning(nowMs - NIGHT_MS, nowMs),
    names,
  };
};

/** Quiet messages wake nobody; loud ones sound by day. The same one is never made twice. */
const messagesTo = (
  people: readonly Person[],
  notice: Notice,
  ways: readonly NewMessage['way'][],
  loud = false,
): readonly NewMessage[] =>
  people.flatMap(({ id: personId, ways: own }) =>
    own
      .filter(({ way }) => ways.includes(way))
      .map(({ way }) => ({
        key: `${notice.key}|${personId}|${way}`,
        faultId: notice.key,
        label: notice.kind,
        personId,
        way,
        isCall: loud,
        priority: loud ? ('medium' as const) : ('low' as const),
        madeMs: notice.atMs,
        expiresMs: notice.atMs + 12 * HOUR_MS,
        notice,
      })),
  );
