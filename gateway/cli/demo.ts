import { parseArguments } from './arguments.js';
import { type Command, wrongUsage } from './command.js';

export const demo: Command = {
  name: 'demo',
  summary: 'run an invented hatchery with two weeks of history and live virtual boards',
  help: `nightwater demo

Runs the gateway over an invented hatchery, with two weeks of history and virtual boards that go on publishing. Nothing
has to be set up and nobody signs in; so it answers only on this machine. It keeps a folder of its own (./demo-data) and
takes the next free port where one is taken. Ctrl+C stops it.`,
  run: async (args, io) => {
    const typed = parseArguments(args, {});
    if (!typed.ok) return wrongUsage(io, 'demo', typed.fault);
    if (typed.value.words.length > 0) return wrongUsage(io, 'demo', `“${typed.value.words[0]}” means nothing to demo.`);
    // Only now: the other commands start without loading the whole gateway.
    const { runGateway } = await import('../main.js');
    return runGateway({ env: { ...io.env }, demo: true });
  },
};
