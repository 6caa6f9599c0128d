import type { Landing } from '../journal/landing.js';

export type BoardState = Landing['boards'][number];
type Said = { readonly board: string; readonly online: boolean; readonly atMs: number };

/** What each board last said of itself on its status topic; a state that was known already changes nothing. */
export type BoardStates = ReadonlyMap<string, BoardState>;

/** The change that a status brings, or undefined when the board was in that state before. */
export const boardChange = (states: BoardStates, { board, online, atMs }: Said): BoardState | undefined => {
  const state = online ? 'online' : 'offline';
  return states.get(board)?.state === state ? undefined : { board, state, atMs };
};

/** The states after a change. */
export const withBoard = (states: BoardStates, change: BoardState): BoardStates =>
  new Map(states).set(change.board, change);
