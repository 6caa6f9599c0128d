import { expect, test } from 'vitest';
import type { SpoolStanding } from '../../../gateway/history/spool.js';
import { gatewayRoom } from '../../support/gateway-room.js';

const healthWith = async (standing: (nowMs: number) => SpoolStanding) => {
  const late: { now?: () => number } = {};
  const room = await gatewayRoom({ spool: { standing: () => standing(late.now?.() ?? 0) } });
  late.now = room.clock.now;
  room.watch.tell({ kind: 'link', atMs: room.clock.now(), broker: 'up' });
  return (await room.ask('nobody', { url: '/api/v1/health' })).json();
};

const AWAY = { code: 'unreachable', detail: 'ECONNREFUSED' } as const;
const BEHIND = { readings: 12, days: 3, refused: 1 };

test('health says how far a history database is behind, since when and why, and calls for a look after an hour', async () => {
  const [minute, hour] = [60_000, 3_600_000];
  const short = await healthWith((nowMs) => ({ ...BEHIND, trouble: AWAY, sinceMs: nowMs - minute }));
  expect(short).toMatchObject({
    history: { behind: 12, daysBehind: 3, refused: 1, sinceMs: short.nowMs - minute, trouble: 'unreachable' },
  });
  const long = await healthWith((nowMs) => ({ ...BEHIND, trouble: AWAY, sinceMs: nowMs - hour - 1 }));
  expect([short.state, long.state]).toEqual(['well', 'attention']);
  // It is for everybody: no address, and nothing of what the database said.
  expect(JSON.stringify(long)).not.toContain('ECONNREFUSED');
});
