import { writeFileSync } from 'node:fs';
import { connectAsync } from 'mqtt';
import { expect, onTestFinished, test } from 'vitest';
import { csvRows } from '../../gateway/cli/csv-rows.js';
import type { ReplayedRoom } from '../../gateway/cli/replay.js';
import { openJournal } from '../../gateway/journal/open.js';
import { normalAt, randomFrom } from '../../simulator/random.js';
import { type GatewayProcess, runCommand, startGatewayProcess } from '../support/gateway-process.js';

const SEED = 20_260_507;
const STEP_MS = 2_000;
const STEPS = 750;
/** Twenty-five minutes that end now. */
const FIRST_MS = Date.now() - STEPS * STEP_MS;

type Probe = { readonly quantity: string; readonly unit: string; readonly middle: number; readonly swing: number };

/** Flow, pH and pressure swing over both of their limits, each at its own pace: see `valueAt`. */
const PROBES: readonly Probe[] = [
  { quantity: 'flow', unit: 'L/min', middle: 40, swing: 15 },
  { quantity: 'ph', unit: 'pH', middle: 8, swing: 0.3 },
  { quantity: 'pressure', unit: 'kPa', middle: 120, swing: 30 },
];
const PLACES = ['north-intake', 'south-intake', 'well'] as const;

const limitsOf = ({ quantity, middle, swing }: Probe): string =>
  `${quantity}: { limitLow: ${middle - 0.7 * swing}, limitHigh: ${middle + 0.7 * swing}, deadband: ${0.1 * swing}, onDelayS: 20, offDelayS: 10 }`;

/** A board that was said to speak every ten minutes: what it sends at once from its memory counts as fresh. */
const SITE = `format: 1
site: { name: Wrack Cove, zone: Europe/Lisbon, temperatureUnit: C, hours: 24 }
intakes:
${PLACES.map(
  (id) => `  - id: ${id}
    name: ${id}
    limits: { ${PROBES.map(limitsOf).join(', ')} }
    probes:
${PROBES.map(
  ({ quantity, unit }) =>
    `      - { source: "tanks/${id}/${quantity}#/value", quantity: ${quantity}, unit: ${unit}, periodS: 600 }\n`,
).join('')}`,
).join('')}`;

type Reading = { readonly place: string; readonly quantity: string; readonly atMs: number; readonly value: number };

/** Slow swings with a little noise, so that lines are crossed, and sometimes only touched. */
const valueAt = ({ middle, swing }: Probe, phase: number, minutes: number, step: number): number => {
  const noise = 0.06 * normalAt(Math.floor(phase * 1_000), step);
  return Number((middle + swing * (Math.sin(minutes / 1.7 + phase) + noise)).toFixed(4));
};

const READINGS: readonly Reading[] = Array.from({ length: STEPS }, (_, step) => step).flatMap((step) =>
  PLACES.flatMap((place) =>
    PROBES.map((probe): Reading => {
      const phase = randomFrom(SEED)
        .fork(`${place} ${probe.quantity}`)
        .uniform(0, 2 * Math.PI);
      const atMs = FIRST_MS + step * STEP_MS;
      const value = valueAt(probe, phase, (step * STEP_MS) / 60_000, step);
      return { place, quantity: probe.quantity, atMs, value };
    }),
  ),
);

/** In order, one in twenty sent twice, each acknowledged when it has landed. */
const publishAll = async (broker: string): Promise<void> => {
  const board = await connectAsync(broker, { clientId: 'memory-board', clean: false });
  const sent = READINGS.flatMap(({ place, quantity, atMs, value }, index) => {
    const payload = JSON.stringify({ value, ts: atMs });
    const publish = () => board.publishAsync(`tanks/${place}/${quantity}`, payload, { qos: 1 });
    return index % 20 === 0 ? [publish(), publish()] : [publish()];
  });
  await Promise.all(sent);
  await board.endAsync();
};

/** What each channel's export holds, as the four columns that a replay reads. */
const recordedFrom = async (gateway: GatewayProcess): Promise<string> => {
  const lines = ['time,tank,quantity,value'];
  for (const place of PLACES)
    for (const { quantity } of PROBES) {
      const span = `from=${FIRST_MS}&to=${FIRST_MS + STEPS * STEP_MS}`;
      const { status, text } = await gateway.ask(`/channels/${place}.${quantity}/export.csv?${span}`);
      expect(status).toBe(200);
      const rows = csvRows(text);
      if (!rows.ok) throw new Error(rows.fault.sentence);
      for (const { cells } of rows.value.slice(1)) lines.push([cells[0], place, quantity, cells[2]].join(','));
    }
  return `${lines.join('\r\n')}\r\n`;
};

type Change = { readonly atMs: number; readonly event: string; readonly id: string; readonly value?: number };

const inOrder = (changes: readonly Change[]): readonly Change[] =>
  [...changes].sort((a, b) => a.atMs - b.atMs || a.id.localeCompare(b.id) || a.event.localeCompare(b.event));

const journalled = async (gateway: GatewayProcess): Promise<readonly Change[]> => {
  expect(await gateway.kill()).toBe(0);
  const journal = openJournal(gateway.data, { durability: 'second' });
  if (!journal.ok) throw new Error(journal.fault.code);
  onTestFinished(() => journal.value.close());
  return journal.value.alarms.changesBetween(0, Number.MAX_SAFE_INTEGER).map(({ atMs, event, alarm }) => ({
    atMs,
    event,
    id: alarm.id,
    ...(alarm.finding.value === undefined ? {} : { value: alarm.finding.value }),
  }));
};

test('what sounded live sounds in the replay of its export: the same alarms, moments, events and values', async () => {
  const gateway = await startGatewayProcess({
    prepare: async (data) => {
      writeFileSync(`${data}.yaml`, SITE);
      const imported = await runCommand(['site', 'import', `${data}.yaml`], { NIGHTWATER_DATA: data });
      expect(imported).toMatchObject({ code: 0, err: expect.stringContaining('changes made') });
    },
  });
  onTestFinished(() => gateway.close());
  await publishAll(gateway.broker());
  writeFileSync(`${gateway.data}.csv`, await recordedFrom(gateway));
  const live = inOrder(await journalled(gateway));

  const done = await runCommand(['replay', `${gateway.data}.csv`, '--site', `${gateway.data}.yaml`, '--json']);
  expect(done).toMatchObject({ code: 0, err: '' });
  const replayed = JSON.parse(done.out) as ReplayedRoom;
  expect(replayed.readings).toBe(READINGS.length);
  const again = replayed.alarms.map(({ atMs, event, alarmId: id, value }) => ({
    atMs,
    event,
    id,
    ...(value === undefined ? {} : { value }),
  }));
  expect(new Set(live.map(({ event }) => event))).toEqual(new Set(['cond-on', 'cond-off']));
  expect(live.length).toBeGreaterThan(50);
  expect(inOrder(again)).toEqual(live);
});
