import { writeFileSync } from 'node:fs';
import { expect, onTestFinished, test } from 'vitest';
import type { Journal } from '../../gateway/journal/journal.js';
import { openJournal } from '../../gateway/journal/open.js';
import { randomFrom } from '../../simulator/random.js';
import { type GatewayProcess, runCommand, startGatewayProcess, untilLinked } from '../support/gateway-process.js';
import { freePort, mosquittoMissing, startMosquitto } from '../support/mosquitto.js';
import { openTap, PUBACK, PUBLISH, type TappedPacket } from '../support/mqtt-tap.js';
import { type Numbered, pahoMissing, publishPatiently } from '../support/paho.js';
import { peer } from '../support/peer.js';

const INTAKES = [1, 2, 3, 4] as const;
const EACH = 2_500;
/** Half of the readings have a stamp of the board's clock, half have none. */
const STAMPED = INTAKES.length * EACH;
const ALL = 2 * STAMPED;

const STEP_MS = 600;
/** The newest stamp is the moment when this file was read: all are young enough for a board that speaks every 20 minutes. */
const FIRST_MS = Date.now() - EACH * STEP_MS;

/** Rises over all even steps and falls over all odd ones, so that each number comes once and each line is crossed twice. */
const wave = (step: number): number => (step < EACH / 2 ? 2 * step : 2 * (EACH - 1 - step) + 1);

/** Number, value and flow are the same: 0 to 9,999 stamped, 10,000 to 19,999 not, in turn. */
const MESSAGES: readonly Numbered[] = Array.from({ length: STAMPED }, (_, index): readonly Numbered[] => {
  const lane = index % INTAKES.length;
  const step = Math.floor(index / INTAKES.length);
  const stamped = { flow: wave(step) * INTAKES.length + lane, ts: FIRST_MS + step * STEP_MS };
  return [
    [`tanks/intake-${lane + 1}/flow`, JSON.stringify(stamped)],
    [`tanks/unnamed-${lane + 1}/flow`, String(STAMPED + index)],
  ];
}).flat();

const SITE = `format: 1
site: { name: Wrack Cove, zone: Europe/Lisbon, temperatureUnit: C, hours: 24 }
intakes:
${INTAKES.map(
  (number) => `  - id: intake-${number}
    name: Intake ${number}
    limits: { flow: { limitLow: 1500, limitHigh: 6000, confirmed: true } }
    probes: [{ source: "tanks/intake-${number}/flow#/flow", quantity: flow, unit: L/min, periodS: 1200 }]
`,
).join('')}`;

const importSite = async (data: string): Promise<void> => {
  const path = `${data}.yaml`;
  writeFileSync(path, SITE);
  const done = await runCommand(['site', 'import', path], { NIGHTWATER_DATA: data });
  expect(done).toMatchObject({ code: 0, err: expect.stringContaining('changes made') });
};

/** [MQTT 3.1.1, 3.3.1.1] bit 3 of a PUBLISH. */
const DUP = 0b1000;
const KILLS = 5;

/** One in each fifth of the run, told by how many acknowledgements have left; printed, so that a run can be had again. */
const killMoments = (seed: number): readonly number[] => {
  const random = randomFrom(seed);
  const span = ALL / KILLS;
  const moments = Array.from(
    { length: KILLS },
    (_, fifth) => Math.floor(random.uniform(fifth, fifth + 0.9) * span) + 1,
  );
  console.log(`seed ${seed}: killed at acknowledgements ${moments.join(', ')}`);
  return moments;
};

type Killing = {
  readonly see: (packet: TappedPacket) => void;
  /** How many messages came with DUP: sent before, and not acknowledged. */
  readonly sentAgain: () => number;
  /** Kills and restarts at each moment, one after the other. */
  readonly carriedOut: (gateway: GatewayProcess) => Promise<void>;
};

/** Counts the acknowledgements that leave the gateway, and kills it at the very packet. */
const killAt = (moments: readonly number[], acknowledges: TappedPacket['from']): Killing => {
  let [count, again] = [0, 0];
  let reached = (): void => undefined;
  return {
    see: ({ from, type, flags }) => {
      if (from !== acknowledges && type === PUBLISH && (flags & DUP) !== 0) again += 1;
      if (from !== acknowledges || type !== PUBACK) return;
      count += 1;
      reached();
    },
    sentAgain: () => again,
    carriedOut: async (gateway) => {
      for (const moment of moments) {
        const killed = await new Promise<Promise<number | null>>((resolve) => {
          reached = () => {
            if (count < moment) return;
            reached = () => undefined;
            resolve(gateway.kill('SIGKILL'));
          };
          reached();
        });
        expect(killed).toBeNull();
        await gateway.restart();
      }
    },
  };
};

/** Asks until no more are missing, or until nothing has moved for many answers: then the journal tells what is missing. */
const untilLanded = async (gateway: GatewayProcess): Promise<void> => {
  let [before, still] = [-1, 0];
  while (still < 2_000) {
    const { text } = await gateway.ask('/sources');
    const sources = JSON.parse(text) as readonly { readonly readings: number }[];
    const count = sources.reduce((sum, { readings }) => sum + readings, 0);
    if (count >= ALL) return;
    still = count === before ? still + 1 : 0;
    before = count;
  }
};

const numbersIn = (journal: Journal): readonly number[] =>
  journal.sources
    .list()
    .flatMap(({ id }) => journal.readings.between(id, 0, Number.MAX_SAFE_INTEGER))
    .map(({ raw }) => raw)
    .sort((a, b) => a - b);

const alarmsIn = (journal: Journal): readonly string[] =>
  journal.alarms
    .changesBetween(0, Number.MAX_SAFE_INTEGER)
    .map(({ atMs, event, alarm: { id, subject, state, activatedMs } }) =>
      JSON.stringify([atMs - FIRST_MS, event, id, subject, state, activatedMs - FIRST_MS]),
    )
    .sort();

type Outcome = {
  readonly numbers: readonly number[];
  readonly alarms: readonly string[];
  readonly sentAgain: number;
};

/** Stops it in an orderly way and reads what it kept. */
const outcomeOf = async (gateway: GatewayProcess, { sentAgain }: Killing): Promise<Outcome> => {
  expect(await gateway.kill('SIGTERM')).toBe(0);
  const opened = openJournal(gateway.data, { durability: 'second' });
  if (!opened.ok) throw new Error(opened.fault.code);
  onTestFinished(() => opened.value.close());
  return { numbers: numbersIn(opened.value), alarms: alarmsIn(opened.value), sentAgain: sentAgain() };
};

const EVERY_NUMBER = Array.from({ length: ALL }, (_, number) => number);

const missingAndTwice = (numbers: readonly number[]): readonly number[] => {
  const counts = new Map<number, number>();
  for (const number of numbers) counts.set(number, (counts.get(number) ?? 0) + 1);
  return EVERY_NUMBER.filter((number) => counts.get(number) !== 1);
};

const throughMosquitto = async (moments: readonly number[]): Promise<Outcome> => {
  const mosquitto = await startMosquitto();
  onTestFinished(() => mosquitto.close());
  const killing = killAt(moments, 'client');
  const tap = await openTap(mosquitto.port, killing.see);
  onTestFinished(() => tap.close());
  const gateway = await startGatewayProcess({
    variables: { NIGHTWATER_MQTT: `mqtt://127.0.0.1:${tap.port}` },
    prepare: importSite,
  });
  onTestFinished(() => gateway.close());
  await untilLinked(gateway);
  await Promise.all([publishPatiently(mosquitto.port, MESSAGES), killing.carriedOut(gateway)]);
  await untilLanded(gateway);
  return outcomeOf(gateway, killing);
};

const throughOurOwn = async (moments: readonly number[]): Promise<Outcome> => {
  const port = await freePort();
  const killing = killAt(moments, 'server');
  const tap = await openTap(port, killing.see);
  onTestFinished(() => tap.close());
  const gateway = await startGatewayProcess({
    variables: { NIGHTWATER_MQTT_LISTEN: `127.0.0.1:${port}` },
    prepare: importSite,
  });
  onTestFinished(() => gateway.close());
  await Promise.all([publishPatiently(tap.port, MESSAGES), killing.carriedOut(gateway)]);
  return outcomeOf(gateway, killing);
};

const LONG_MS = 300_000;

peer('paho', pahoMissing)('a gateway that is killed five times among twenty thousand numbered readings', () => {
  peer('mosquitto', mosquittoMissing)('has every number once, and the alarms of a run that nobody disturbed', () => {
    let undisturbed: Outcome | undefined;

    test('undisturbed, through mosquitto', { timeout: LONG_MS }, async () => {
      undisturbed = await throughMosquitto([]);
      expect(missingAndTwice(undisturbed.numbers)).toEqual([]);
      expect(undisturbed.numbers).toHaveLength(ALL);
      // Each intake is low at first, then over its limit, and low again.
      const sounded = undisturbed.alarms.filter((change) => change.includes('"cond-on"'));
      expect(sounded).toHaveLength(3 * INTAKES.length);
    });

    test('through mosquitto, which keeps what was not acknowledged', { timeout: LONG_MS }, async () => {
      const killed = await throughMosquitto(killMoments(20_260_504));
      expect(missingAndTwice(killed.numbers)).toEqual([]);
      expect(killed.numbers).toHaveLength(ALL);
      expect(killed.sentAgain).toBeGreaterThan(0);
      expect(killed.alarms).toEqual(undisturbed?.alarms);
    });

    test('from a board that sends again to the broker inside', { timeout: LONG_MS }, async () => {
      const killed = await throughOurOwn(killMoments(20_260_505));
      expect(missingAndTwice(killed.numbers)).toEqual([]);
      expect(killed.numbers).toHaveLength(ALL);
      expect(killed.sentAgain).toBeGreaterThan(0);
      expect(killed.alarms).toEqual(undisturbed?.alarms);
    });
  });
});
