import { parseArguments } from './arguments.js';
import { type Command, wrongUsage } from './command.js';

const PAST_DAYS = 14;
const MOST_DAYS = 60;

export const demo: Command = {
  name: 'demo',
  summary: 'run an invented hatchery with two weeks of history and live virtual boards',
  help: `nightwater demo [--days N]

Runs the gateway over an invented hatchery, with two weeks of history and virtual boards that go on publishing. Nothing
has to be set up and nobody signs in; so it answers only on this machine. It keeps a folder of its own (./demo-data) and
takes the next free port where one is taken. Ctrl+C stops it.

  --days N   how many days of its past it lives first, 0 to ${MOST_DAYS}; fewer start sooner (${PAST_DAYS})`,
  run: async (args, io) => {
    const typed = parseArguments(args, { days: 'value' });
    if (!typed.ok) return wrongUsage(io, 'demo', typed.fault);
    const { words, values } = typed.value;
    if (words.length > 0) return wrongUsage(io, 'demo', `“${words[0]}” means nothing to demo.`);
    const pastDays = values.days === undefined ? PAST_DAYS : daysFrom(values.days);
    if (pastDays === undefined)
      return wrongUsage(io, 'demo', `--days is “${values.days}”: write a whole number from 0 to ${MOST_DAYS}.`);
    // Only now: the other commands start without loading the whole gateway.
    const { runGateway } = await import('../main.js');
    return runGateway({ env: { ...io.env }, demo: { pastDays } });
  },
};

const daysFrom = (text: string): number | undefined => {
  const days = /^\d{1,2}$/.test(text) ? Number(text) : MOST_DAYS + 1;
  return days <= MOST_DAYS ? days : undefined;
};
