import { loadConfig } from '../../gateway/config.js';
import { startGateway } from '../../gateway/gateway.js';
import { handClock } from './hand-clock.js';

/**
 * A gateway process whose clock is turned from outside, for the story of a night: the real program, wired as `start`
 * wires it, but for the clock that it is given. Argument: folder, then where its clock stands. Told over the process
 * channel `{ passMs }`; it says `{ nowMs }` when that time has passed, second by second, and everything due was sent.
 */
const [folder = '', startMs = ''] = process.argv.slice(2);
const clock = handClock(Number(startMs));
const config = loadConfig({
  NIGHTWATER_DATA: folder,
  NIGHTWATER_HTTP: '127.0.0.1:0',
  NIGHTWATER_MQTT_LISTEN: '127.0.0.1:0',
  NIGHTWATER_TZ: 'Europe/Lisbon',
});
if (!config.ok) throw new Error(JSON.stringify(config.fault));
const started = await startGateway({
  config: config.value,
  clock,
  build: 'story',
  version: 'story',
  say: () => undefined,
});
if (!started.ok) throw new Error(started.fault);
const { waking, url, broker, close } = started.value;

const pass = async (ms: number): Promise<void> => {
  for (let left = ms; left > 0; left -= 1_000) {
    clock.passes(Math.min(1_000, left));
    await waking.alerts.idle();
  }
  process.send?.({ nowMs: clock.now() });
};

process.on('message', (message: { readonly passMs?: number }) => {
  if (message.passMs === undefined) void close().then(() => process.disconnect());
  else void pass(message.passMs);
});
process.send?.({ url, broker });
