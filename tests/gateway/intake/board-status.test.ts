import { expect, test } from 'vitest';
import { type BoardStates, boardChange, withBoard } from '../../../gateway/intake/board-status.js';

const said = (online: boolean, atMs: number) => ({ board: 'shed-3', online, atMs });

test('a board that says the same again has not changed', () => {
  const first = boardChange(new Map(), said(true, 1));
  expect(first).toEqual({ board: 'shed-3', state: 'online', atMs: 1 });
  const states: BoardStates = first === undefined ? new Map() : withBoard(new Map(), first);
  expect(boardChange(states, said(true, 2))).toBeUndefined();
  expect(boardChange(states, said(false, 3))).toEqual({ board: 'shed-3', state: 'offline', atMs: 3 });
});
