import { judgeNights } from './nights/pool.js';
import { scoreOf } from './nights/score.js';
import { costOf, tableOf } from './nights/table.js';
import { USAGE, type Wish, wishFrom } from './nights/wish.js';

const processorS = (): number => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1e6;
};

const run = async ({ nights, seed, json }: Wish): Promise<void> => {
  const beganS = processorS();
  const judged = await judgeNights(seed, nights);
  const score = scoreOf(judged);
  const text = json
    ? JSON.stringify(score, null, 2)
    : `${tableOf(score, judged)}\n\n${costOf(judged, processorS() - beganS)}`;
  process.stdout.write(`${text}\n`);
};

const args = process.argv.slice(2);
const wish = wishFrom(args[0] === 'nights' ? args.slice(1) : args);
if (wish === undefined) process.stdout.write(`${USAGE}\n`);
else if (typeof wish === 'string') {
  process.stderr.write(`${wish}\n\n${USAGE}\n`);
  process.exitCode = 2;
} else await run(wish);
