import type { Notice } from '../../rules/alerts/notice.js';
import type { Person } from '../../rules/alerts/person.js';
import { onWatch, watchGaps } from '../../rules/alerts/watch-plan.js';
import type { EngineState } from '../../rules/engine/state.js';
import { dayStartMs, localMoment } from '../../rules/words/clock.js';
import type { Clock, Stop } from '../clock.js';
import type { Journal } from '../journal/journal.js';
import type { NewMessage } from '../journal/outbox.js';
import type { Alerts } from './desk.js';
import { peopleAt, watchAt } from './people.js';
import type { Reports } from './report.js';

export type RoundsParts = {
  readonly journal: Pick<Journal, 'settings'>;
  readonly clock: Clock;
  readonly alerts: Pick<Alerts, 'post'>;
  readonly reports: Pick<Reports, 'morning'>;
  readonly state: () => EngineState;
};

const MINUTE_MS = 60_000;
const HOUR_MS = 60 * MINUTE_MS;
const NIGHT_MS = 14 * HOUR_MS;
/** A gateway that starts later than this after the hour of the report does not make up for it. */
const LATE_MINUTES = 120;
const AHEAD_MS = 12 * HOUR_MS;

/** Each minute: is it time for the morning report, and will somebody be on call? Each is told once. */
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
    const late = localMoment(nowMs, zone).minute - plan.dayFromMinute;
    if (late < 0 || late > LATE_MINUTES || reportedDayMs === dayMs) return;
    reportedDayMs = dayMs;
    const onCall = new Set(onWatch(plan, 'on-call', nowMs - HOUR_MS, zone));
    const readers = people.filter(({ id, manager }) => manager || onCall.has(id));
    alerts.post(messagesTo(readers, await morningNotice(parts, nowMs, dayMs), ['email']));
  };
  return parts.clock.every(MINUTE_MS, () => void look());
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

/** Quiet messages: they wake nobody, and the same one is never made twice. */
const messagesTo = (
  people: readonly Person[],
  notice: Notice,
  ways: readonly NewMessage['way'][],
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
        isCall: false,
        priority: 'low' as const,
        madeMs: notice.atMs,
        expiresMs: notice.atMs + 12 * HOUR_MS,
        notice,
      })),
  );
