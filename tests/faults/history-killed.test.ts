import { connectAsync } from 'mqtt';
import { expect, onTestFinished, test } from 'vitest';
import { runCommand, startGatewayProcess, untilAnswer } from '../support/gateway-process.js';
import { openInfluxEndpoint } from '../support/influx-endpoint.js';

type Health = { readonly history?: { readonly behind: number; readonly trouble?: string } };

const KILLS = 3;
const EACH = 400;

test('killed again and again while readings go to a history database, every acknowledged one is there, once', async () => {
  const endpoint = await openInfluxEndpoint();
  onTestFinished(endpoint.close);
  endpoint.answers('slow');
  const variables = {
    NIGHTWATER_HISTORY: `${endpoint.url}?org=hatchery&bucket=water`,
    NIGHTWATER_INFLUX_TOKEN: 'a-token',
  };
  const gateway = await startGatewayProcess({ variables });
  onTestFinished(gateway.close);
  await gateway.says(/^History goes to InfluxDB at .*, bucket water; nothing waits on this disk\.$/);
  const firstMs = Date.now() - 3_600_000;
  for (let kill = 0; kill < KILLS; kill += 1) {
    const board = await connectAsync(gateway.broker(), { reconnectPeriod: 0 });
    for (let n = kill * EACH; n < (kill + 1) * EACH; n += 20) {
      const messages = Array.from({ length: 20 }, (_, at) =>
        JSON.stringify({ temperature: n + at, ts: firstMs + n + at }),
      );
      // Resolves with the acknowledgement: from here on none may be lost.
      await Promise.all(messages.map((text) => board.publishAsync('tanks/l2/temperature', text, { qos: 1 })));
    }
    // Some are under way, some are taken and not yet confirmed.
    await endpoint.until(() => endpoint.writes.length > kill);
    await gateway.kill('SIGKILL');
    await board.endAsync(true);
    await gateway.restart();
  }
  await untilAnswer<Health>(gateway, '/health', ({ history }) => history?.behind === 0);
  const values = [...endpoint.points.values()].map((fields) => Number(/raw=(\d+)/.exec(fields)?.[1]));
  expect(values.sort((a, b) => a - b)).toEqual(Array.from({ length: KILLS * EACH }, (_, n) => n));

  endpoint.answers({ status: 401, body: JSON.stringify({ code: 'unauthorized', message: 'unauthorized access' }) });
  const { code, out } = await runCommand(['check'], { NIGHTWATER_DATA: gateway.data, ...variables });
  expect(code).toBe(1);
  expect(out).toContain(
    `failed     History goes to InfluxDB at ${endpoint.url}, bucket water, which takes no readings now: it refuses the token: check NIGHTWATER_INFLUX_TOKEN, and that the token may read and write the bucket (401: unauthorized access); nothing waits on this disk.`,
  );
  expect(out).not.toContain('a-token');
}, 180_000);
