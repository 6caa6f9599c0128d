import { loadavg } from 'node:os';
import { parseArgs } from 'node:util';
import { engineBench } from './engine.js';
import { type Bench, isWithin, type Measured, tableOf } from './figure.js';
import { historyBench } from './history.js';
import { intakeBench } from './intake.js';
import { latencyBench } from './latency.js';
import { memoryBench } from './memory.js';
import { startBench } from './start.js';
import { wallBench } from './wall.js';

const BENCHES: readonly Bench[] = [
  engineBench,
  intakeBench,
  latencyBench,
  memoryBench,
  historyBench,
  startBench,
  wallBench,
];

const HELP = `npm run bench [-- NAME ...] [--tanks N] [--days N] [--seconds N] [--json]

${BENCHES.map(({ name, about }) => `  ${name.padEnd(8)}  ${about}`).join('\n')}

  --tanks N    tanks of four probes at ten seconds (60)
  --days N     days of history (20; the first 12 channels always have 400; 400 takes minutes and 1.3 GiB of temp space)
  --seconds N  how long the benches that run in time go on, each (30)
  --json       figures as JSON

Traffic stays on 127.0.0.1. A figure is only worth something beside the load of the machine, which is printed with it.`;

const whole = (text: string | undefined, otherwise: number): number | undefined => {
  const value = text === undefined ? otherwise : Number(text);
  return Number.isInteger(value) && value > 0 ? value : undefined;
};

type Wanted = {
  readonly benches: readonly Bench[];
  readonly tanks: number;
  readonly days: number;
  readonly seconds: number;
};

const wantedFrom = (
  names: readonly string[],
  values: {
    readonly tanks?: string | undefined;
    readonly days?: string | undefined;
    readonly seconds?: string | undefined;
  },
): Wanted | string => {
  const unknown = names.filter((name) => !BENCHES.some((bench) => bench.name === name));
  if (unknown.length > 0) return `There is no bench “${unknown.join('”, “')}”.`;
  const [tanks, days, seconds] = [whole(values.tanks, 60), whole(values.days, 20), whole(values.seconds, 30)];
  if (tanks === undefined || days === undefined || seconds === undefined)
    return 'Each of --tanks, --days and --seconds takes a whole number from 1 on.';
  const benches = names.length === 0 ? BENCHES : BENCHES.filter(({ name }) => names.includes(name));
  return { benches, tanks, days, seconds };
};

const runAll = async ({ benches, ...options }: Wanted, json: boolean): Promise<number> => {
  const say = (line: string): void => void process.stderr.write(`bench: ${line}\n`);
  const all: Record<string, Measured & { readonly load: number }> = {};
  for (const bench of benches) {
    say(`${bench.name} ...`);
    const measured = await bench.run({ ...options, say });
    all[bench.name] = { ...measured, load: loadavg()[0] ?? 0 };
    if (!json) process.stdout.write(`\n${bench.name} (load ${(loadavg()[0] ?? 0).toFixed(1)})\n${tableOf(measured)}\n`);
  }
  if (json) process.stdout.write(`${JSON.stringify(all, undefined, 2)}\n`);
  const isMissed = Object.values(all).some(({ figures }) => figures.some((figure) => isWithin(figure) === false));
  return isMissed ? 1 : 0;
};

/** Exit code: 0 every budget kept, 1 one was missed or something failed, 2 wrong usage. */
const main = async (): Promise<number> => {
  const { values, positionals } = parseArgs({
    args: process.argv.slice(process.argv[2] === 'bench' ? 3 : 2),
    allowPositionals: true,
    options: {
      tanks: { type: 'string' },
      days: { type: 'string' },
      seconds: { type: 'string' },
      json: { type: 'boolean', default: false },
      help: { type: 'boolean', short: 'h', default: false },
    },
  });
  if (values.help) {
    process.stdout.write(`${HELP}\n`);
    return 0;
  }
  const wanted = wantedFrom(positionals, values);
  if (typeof wanted !== 'string') return runAll(wanted, values.json);
  process.stderr.write(`${wanted}\n\n${HELP}\n`);
  return 2;
};

process.exitCode = await main();
