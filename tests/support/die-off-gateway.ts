import { rmSync } from 'node:fs';
import { systemClock } from '../../gateway/clock.js';
import { loadConfig } from '../../gateway/config.js';
import { relive } from '../../gateway/demo/past.js';
import { startGateway } from '../../gateway/gateway.js';
import { loadHatchery, PLACE, SITE } from '../../gateway/settings.js';
import type { SimulatorLine } from '../../rules/wire/simulated.js';

/**
 * A gateway process that has lived through the days that it is told, for the story of a die-off: the real program with
 * its real engine. Argument: folder, then where the built pages lie. Told over the process channel lines as the
 * simulator tells a demo, `ready` last; it says `{ url }` when it stands.
 */
const [folder = '', pages = ''] = process.argv.slice(2);
// A terminal interrupts both: the story says when it is over.
process.on('SIGINT', () => undefined);
/** Closes the gateway, once there is one. */
const standing: { close?: () => Promise<void> } = {};
let isTold = false;
// Whoever told it is gone without a word, killed perhaps: nobody else would end it, or clear up after it.
process.on('disconnect', () => {
  if (isTold) return;
  void (standing.close?.() ?? Promise.resolve()).finally(() => {
    rmSync(folder, { recursive: true, force: true });
    process.exit(1);
  });
});
const config = loadConfig({
  NIGHTWATER_DATA: folder,
  NIGHTWATER_HTTP: '127.0.0.1:0',
  NIGHTWATER_MQTT_LISTEN: '127.0.0.1:0',
  NIGHTWATER_TZ: 'Europe/Lisbon',
});
if (!config.ok) throw new Error(JSON.stringify(config.fault));

const lines: SimulatorLine[] = [];
const told = new Promise<void>((resolve) => {
  process.on('message', (line: SimulatorLine) => {
    if (line.kind === 'ready') resolve();
    else lines.push(line);
  });
});
process.send?.({ listening: true });
await told;

const readingsOf = lines.filter((line) => line.kind === 'past');
const firstMs = readingsOf[0]?.readings[0]?.[1] ?? 0;
const started = await startGateway({
  config: config.value,
  clock: systemClock,
  build: 'story',
  version: 'story',
  say: () => undefined,
  ...(pages === '' ? {} : { pages }),
  demo: {
    furnish: async (journal) => {
      const [described] = lines.filter((line) => line.kind === 'hatchery');
      if (described === undefined) throw new Error('No hatchery was told');
      const row = { effectiveMs: firstMs - 86_400_000, recordedMs: firstMs, by: 'Asta', expectedVersion: 0 };
      const body = { ...described.site, id: 'wrack-cove-7k2q' };
      journal.settings.put({ ...row, entity: SITE, id: SITE, body });
      for (const place of described.places) journal.settings.put({ ...row, entity: PLACE, id: place.id, body: place });
      const numbers = described.sources.map(({ channelId, unit, periodMs: _, ...said }) => {
        const { id } = journal.sources.ensure({ ...said, firstSeenMs: firstMs });
        journal.mappings.name({ sourceId: id, channelId, unit, fromMs: firstMs, ruling: true }, 'Asta', firstMs);
        return id;
      });
      const past = relive(journal, loadHatchery(journal, Date.now()), numbers, firstMs);
      for (const line of lines) if (line.kind === 'past' || line.kind === 'work') past.take(line);
      past.finish(Date.now());
    },
  },
});
if (!started.ok) throw new Error(started.fault);
const { url, close } = started.value;
standing.close = close;
process.on('message', (said: { readonly end?: true }) => {
  if (said.end !== true) return;
  isTold = true;
  void close().then(() => process.disconnect());
});
process.send?.({ url });
