import type { AlertFault } from '../../rules/alerts/faults.js';
import type { Database } from './database.js';

/** Faults with their ladders, as they were last. What happened to them is in the log; here is where they stand. */
export type Ladders = {
  put(fault: AlertFault, open: boolean): void;
  open(): readonly AlertFault[];
  byId(faultId: string): AlertFault | undefined;
  /** Faults that changed in a span, its start included and its end not, oldest change first. */
  between(fromMs: number, toMs: number): readonly AlertFault[];
};

const faultFromBody = (body: string): AlertFault => JSON.parse(body) as AlertFault;

export const buildLadders = (database: Database): Ladders => {
  const put = database.prepare<[string, number, number, string]>(
    'INSERT OR REPLACE INTO ladder (fault_id, changed_ms, open, body) VALUES (?, ?, ?, ?)',
  );
  const open = database.prepare<[], string>('SELECT body FROM ladder WHERE open = 1 ORDER BY changed_ms').pluck();
  const byId = database.prepare<[string], string>('SELECT body FROM ladder WHERE fault_id = ?').pluck();
  const between = database
    .prepare<[number, number], string>(
      'SELECT body FROM ladder WHERE changed_ms >= ? AND changed_ms < ? ORDER BY changed_ms',
    )
    .pluck();
  return {
    put: (fault, isOpen) => {
      put.run(fault.id, fault.changedMs, isOpen ? 1 : 0, JSON.stringify(fault));
    },
    open: () => open.all().map(faultFromBody),
    byId: (faultId) => {
      const body = byId.get(faultId);
      return body === undefined ? undefined : faultFromBody(body);
    },
    between: (fromMs, toMs) => between.all(fromMs, toMs).map(faultFromBody),
  };
};
