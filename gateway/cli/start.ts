import { VARIABLES } from '../config.js';
import { parseArguments } from './arguments.js';
import { type Command, wrongUsage } from './command.js';

const variables = Object.entries(VARIABLES).map(([name, words]) => `  ${name.padEnd(24)} ${words}`);

/** Runs until it is asked to stop (Ctrl+C, SIGTERM). */
export const start: Command = {
  name: 'start',
  summary: 'run the gateway for real boards',
  help: `nightwater start

Runs the gateway: the broker that boards publish to, the watch over the readings, the pages and the API. It stays until
Ctrl+C or SIGTERM. The first start prints a code that makes the first manager.

It is set by variables of the environment, or by a file .env in the folder where it starts (what the process is given
wins); a wrong one stops the start with a sentence. In brackets what counts without one:

${variables.join('\n')}`,
  run: async (args, io) => {
    const typed = parseArguments(args, {});
    if (!typed.ok) return wrongUsage(io, 'start', typed.fault);
    if (typed.value.words.length > 0)
      return wrongUsage(io, 'start', `“${typed.value.words[0]}” means nothing to start.`);
    // Only now: the other commands start without loading the whole gateway.
    const { runGateway } = await import('../main.js');
    return runGateway({ env: { ...io.env } });
  },
};
