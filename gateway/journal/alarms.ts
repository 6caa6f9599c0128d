import type { AlarmPicture } from '../../rules/alarm/alarm.js';
import type { Change } from '../../rules/wire/feed.js';
import type { Database } from './database.js';
import type { AlarmChange } from './landing.js';
import type { Sequence } from './sequence.js';

export type JournalledAlarmChange = AlarmChange & { readonly sequence: number };

/** Alarm changes are only ever appended; the newest state of each alarm lies beside them. */
export type Alarms = {
  append(change: AlarmChange): Change;
  /** Not normal, or inhibited, and not retired; oldest activation first. */
  open(): readonly AlarmPicture[];
  byId(id: string): AlarmPicture | undefined;
  changesOf(id: string): readonly JournalledAlarmChange[];
  /** Every change of every alarm in a span of time, its start included and its end not, in journal order. */
  changesBetween(fromMs: number, toMs: number): readonly JournalledAlarmChange[];
  /** Alarms of which some part lies in the span, as they are now, by activation. */
  between(fromMs: number, toMs: number): readonly AlarmPicture[];
};

type ChangeRow = {
  readonly sequence: number;
  readonly at_ms: number;
  readonly event: string;
  readonly by: string | null;
  readonly body: string;
};

export const buildAlarms = (database: Database, sequence: Sequence): Alarms => {
  const { insert, upsert } = prepareWrites(database);
  const open = database.prepare<[], string>('SELECT body FROM alarm WHERE open = 1 ORDER BY activated_ms, id').pluck();
  const byId = database.prepare<[string], string>('SELECT body FROM alarm WHERE id = ?').pluck();
  const changesOf = database.prepare<[string], ChangeRow>(
    'SELECT sequence, at_ms, event, by, body FROM alarm_change WHERE alarm_id = ? ORDER BY sequence',
  );
  const changesBetween = database.prepare<[number, number], ChangeRow>(
    'SELECT sequence, at_ms, event, by, body FROM alarm_change WHERE at_ms >= ? AND at_ms < ? ORDER BY sequence',
  );
  const between = database
    .prepare<[number, number], string>(
      `SELECT body FROM alarm WHERE activated_ms < ? AND (open = 1 OR changed_ms >= ?) ORDER BY activated_ms, id`,
    )
    .pluck();
  return {
    append: ({ atMs, alarm, event, by }) => {
      const body = JSON.stringify(alarm);
      const number = sequence.take((next) => insert.run(next, alarm.id, atMs, event, by ?? null, body));
      upsert.run(alarm.id, number, isOpenAfter(alarm, event) ? 1 : 0, alarm.activatedMs, alarm.changedMs, body);
      return { sequence: number, atMs, kind: 'alarm', alarm };
    },
    open: () => open.all().map(alarmFromBody),
    byId: (id) => {
      const body = byId.get(id);
      return body === undefined ? undefined : alarmFromBody(body);
    },
    changesOf: (id) => changesOf.all(id).map(changeFromRow),
    changesBetween: (fromMs, toMs) => changesBetween.all(fromMs, toMs).map(changeFromRow),
    between: (fromMs, toMs) => between.all(toMs, fromMs).map(alarmFromBody),
  };
};

const prepareWrites = (database: Database) => ({
  insert: database.prepare<[number, string, number, string, string | null, string]>(
    'INSERT INTO alarm_change (sequence, alarm_id, at_ms, event, by, body) VALUES (?, ?, ?, ?, ?, ?)',
  ),
  upsert: database.prepare<[string, number, number, number, number, string]>(
    'INSERT OR REPLACE INTO alarm (id, sequence, open, activated_ms, changed_ms, body) VALUES (?, ?, ?, ?, ?, ?)',
  ),
});

/** An inhibited alarm stays on the list even when the water is well: somebody has to lift the inhibit. */
const isOpenAfter = (alarm: AlarmPicture, event: string): boolean =>
  event !== 'retired' && (alarm.state !== 'normal' || alarm.inhibit !== undefined);

const alarmFromBody = (body: string): AlarmPicture => JSON.parse(body) as AlarmPicture;

const changeFromRow = ({ sequence, at_ms: atMs, event, by, body }: ChangeRow): JournalledAlarmChange => ({
  sequence,
  atMs,
  event,
  alarm: alarmFromBody(body),
  ...(by === null ? {} : { by }),
});
