import type { Call, LadderStepped } from './ladder.js';

const union = <T>(lists: readonly (readonly T[])[]): readonly T[] => [...new Set(lists.flat())];

/**
 * Steps that fell due while nobody was there to take them are one call: everyone they were for, once, by every way they
 * would have been tried. A person is not rung five times because the gateway was away for an hour.
 */
export const mergeOverdue = (stepped: LadderStepped): LadderStepped => {
  const calls = stepped.calls.filter(({ kind }) => kind === 'call');
  const last = calls.at(-1);
  if (last === undefined || calls.length === 1) return stepped;
  const merged: Call = {
    ...last,
    roles: union(calls.map(({ roles }) => roles)),
    to: union(calls.map(({ to }) => to)),
    ways: union(calls.map(({ ways }) => ways)),
  };
  return { ...stepped, calls: [...stepped.calls.filter(({ kind }) => kind !== 'call'), merged] };
};
