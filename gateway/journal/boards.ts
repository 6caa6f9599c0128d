import type { Database } from './database.js';
import type { Landing } from './landing.js';

export type BoardChange = Landing['boards'][number];

/** What boards said about themselves: `online`, or `offline` by their last will. Only changes are kept. */
export type Boards = {
  keep(change: BoardChange): void;
  /** The newest state of every board. */
  list(): readonly BoardChange[];
  /** In order of time, the start of the span included and its end not. */
  between(fromMs: number, toMs: number): readonly BoardChange[];
};

type Row = { readonly board: string; readonly at_ms: number; readonly state: BoardChange['state'] };

export const buildBoards = (database: Database): Boards => {
  const insert = database.prepare<[string, number, string]>(
    'INSERT OR REPLACE INTO board_change (board, at_ms, state) VALUES (?, ?, ?)',
  );
  const before = database.prepare<[string, number], Row>(
    'SELECT * FROM board_change WHERE board = ? AND at_ms <= ? ORDER BY at_ms DESC LIMIT 1',
  );
  const list = database.prepare<[], Row>(
    `SELECT board, max(at_ms) AS at_ms, state FROM board_change GROUP BY board ORDER BY board`,
  );
  const between = database.prepare<[number, number], Row>(
    'SELECT * FROM board_change WHERE at_ms >= ? AND at_ms < ? ORDER BY at_ms, board',
  );
  return {
    keep: ({ board, atMs, state }) => {
      if (before.get(board, atMs)?.state !== state) insert.run(board, atMs, state);
    },
    list: () => list.all().map(changeFromRow),
    between: (fromMs, toMs) => between.all(fromMs, toMs).map(changeFromRow),
  };
};

const changeFromRow = ({ board, at_ms: atMs, state }: Row): BoardChange => ({ board, atMs, state });
