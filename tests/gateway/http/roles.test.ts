import { expect, test } from 'vitest';
import { ROLES, type Role } from '../../../rules/wire/api.js';
import { gatewayRoom } from '../../support/gateway-room.js';

type Asker = Role | 'nobody';
type Row = readonly [needs: Asker, method: 'GET' | 'POST' | 'PUT' | 'DELETE', url: string];

const SPAN = 'from=1000&to=2000';

/** Every address of the API with the least role that may use it. Common practice of this project, no source. */
const MATRIX: readonly Row[] = [
  ['nobody', 'GET', '/api/v1/health'],
  ['nobody', 'GET', '/api/v1/openapi.json'],
  ['nobody', 'GET', '/api/v1/session'],
  ['nobody', 'POST', '/api/v1/session'],
  ['nobody', 'POST', '/api/v1/session/first'],
  ['nobody', 'DELETE', '/api/v1/session'],
  ['viewer', 'GET', '/api/v1/picture'],
  ['viewer', 'GET', '/api/v1/trails'],
  ['viewer', 'GET', `/api/v1/channels/l2.temperature/readings?${SPAN}`],
  ['viewer', 'GET', `/api/v1/channels/l2.temperature/export.csv?${SPAN}`],
  ['viewer', 'GET', `/api/v1/channels/l2.temperature/export.csv.sha256?${SPAN}`],
  ['viewer', 'GET', '/api/v1/alarms'],
  ['crew', 'POST', '/api/v1/alarms/a/acknowledgement'],
  ['crew', 'POST', '/api/v1/alarms/a/reset'],
  ['crew', 'POST', '/api/v1/alarms/a/shelving'],
  ['crew', 'DELETE', '/api/v1/alarms/a/shelving'],
  ['manager', 'POST', '/api/v1/alarms/a/out-of-service'],
  ['manager', 'DELETE', '/api/v1/alarms/a/out-of-service'],
  ['viewer', 'GET', '/api/v1/forecasts'],
  ['viewer', 'GET', '/api/v1/sources'],
  ['crew', 'POST', '/api/v1/sources/2/mapping'],
  ['crew', 'DELETE', '/api/v1/sources/2/mapping'],
  ['crew', 'POST', '/api/v1/sources/1/calibration'],
  ['viewer', 'GET', '/api/v1/malformed'],
  ['viewer', 'GET', '/api/v1/places'],
  ['viewer', 'GET', '/api/v1/places/l2'],
  ['manager', 'POST', '/api/v1/places'],
  ['manager', 'PUT', '/api/v1/places/l2'],
  ['crew', 'POST', '/api/v1/places/l2/soundings'],
  ['viewer', 'GET', '/api/v1/places/l2/bed'],
  ['manager', 'DELETE', '/api/v1/places/l9'],
  ['viewer', 'GET', '/api/v1/site'],
  ['manager', 'PUT', '/api/v1/site'],
  ['viewer', 'GET', '/api/v1/site/file'],
  ['manager', 'PUT', '/api/v1/site/file'],
  ['viewer', 'GET', '/api/v1/boards'],
  ['crew', 'GET', '/api/v1/boards/recipe'],
  ['manager', 'POST', '/api/v1/boards'],
  ['viewer', 'GET', '/api/v1/boards/x/settings'],
  ['manager', 'PUT', '/api/v1/boards/x/settings'],
  ['manager', 'GET', '/api/v1/tokens'],
  ['manager', 'POST', '/api/v1/tokens'],
  ['manager', 'DELETE', '/api/v1/tokens/x'],
  ['manager', 'GET', '/api/v1/accounts'],
  ['manager', 'POST', '/api/v1/accounts'],
  ['manager', 'DELETE', '/api/v1/accounts/x'],
  ['viewer', 'GET', '/api/v1/log'],
  ['crew', 'POST', '/api/v1/log'],
  ['viewer', 'GET', '/api/v1/log/x'],
  ['viewer', 'GET', '/api/v1/log/kinds'],
  ['viewer', 'GET', `/api/v1/log/export.csv?${SPAN}`],
  ['viewer', 'GET', `/api/v1/log/export.csv.sha256?${SPAN}`],
  ['viewer', 'GET', '/api/v1/work'],
  ['viewer', 'GET', '/api/v1/round'],
  ['viewer', 'GET', `/api/v1/papers?${SPAN}`],
  ['viewer', 'GET', '/api/v1/stock'],
  ['viewer', 'GET', '/api/v1/batches'],
  ['viewer', 'GET', '/api/v1/batches/x'],
  ['viewer', 'GET', '/api/v1/stage-stays'],
  ['viewer', 'GET', '/api/v1/runs'],
  ['viewer', 'GET', '/api/v1/runs/x'],
  ['viewer', 'GET', '/api/v1/retired-places'],
  ['viewer', 'GET', '/api/v1/reviews'],
  ['crew', 'POST', '/api/v1/reviews'],
  ['viewer', 'GET', '/api/v1/reviews/x'],
  ['viewer', 'GET', '/api/v1/reviews/x/differences'],
  ['viewer', 'GET', '/api/v1/reviews/x/record'],
  ['viewer', 'GET', '/api/v1/reviews/x/since'],
  ['viewer', 'GET', '/api/v1/reviews/x/raw.csv'],
  ['viewer', 'GET', '/api/v1/reviews/x/raw.csv.sha256'],
  ['crew', 'POST', '/api/v1/photos'],
  ['viewer', 'GET', '/api/v1/photos/x'],
  ['viewer', 'GET', '/api/v1/buttons'],
  ['manager', 'PUT', '/api/v1/buttons/x'],
  ['manager', 'DELETE', '/api/v1/buttons/x'],
];

const ASKERS: readonly Asker[] = ['nobody', ...ROLES];

test('every address lets in the role that it needs and those above, and nobody below', async () => {
  const room = await gatewayRoom();
  for (const [needs, method, url] of MATRIX) {
    for (const who of ASKERS) {
      const { statusCode } = await room.ask(who, { method, url });
      const line = `${who} asks ${method} ${url}`;
      const refusal = who === 'nobody' ? 401 : 403;
      if (ASKERS.indexOf(who) < ASKERS.indexOf(needs)) expect(statusCode, line).toBe(refusal);
      // Signing in wrongly is 401 for everybody.
      else if (!(method === 'POST' && url.includes('/session'))) expect(statusCode, line).not.toBe(refusal);
      expect(statusCode, line).toBeLessThan(500);
    }
  }
  expect(room.complaints).toEqual([]);
});

test('the matrix above has every address that the API has, and no other', async () => {
  const room = await gatewayRoom();
  const { paths } = (await room.ask('nobody', { url: '/api/v1/openapi.json' })).json<{
    paths: Record<string, object>;
  }>();
  const described = Object.entries(paths).flatMap(([path, operations]) =>
    Object.keys(operations).map((method) => `${method.toUpperCase()} ${path}`),
  );
  const plain = (url: string): string => url.replace(/\?.*/, '');
  const asPattern = (path: string): RegExp =>
    new RegExp(`^${path.replace(/\{\w+\}/g, '[^/]+').replaceAll('.', '\\.')}$`);
  for (const [, method, url] of MATRIX) {
    const fits = described.filter((line) => asPattern(line).test(`${method} ${plain(url)}`));
    expect(fits, `${method} ${url} is described`).not.toEqual([]);
  }
  expect(described).toHaveLength(MATRIX.length);
});
