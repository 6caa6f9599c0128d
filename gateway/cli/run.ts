import { didYouMean } from '../nearest.js';
import { backup } from './backup.js';
import { calc } from './calc.js';
import { check } from './check.js';
import { type Command, DONE, type Io, WRONG_USAGE } from './command.js';
import { demo } from './demo.js';
import { replay } from './replay.js';
import { restore } from './restore.js';
import { site } from './site.js';
import { start } from './start.js';
import { token } from './token.js';

const calculate: Command = {
  name: 'calc',
  summary: 'the sums of the bench: seawater, ammonia, oxygen, stocking and so on',
  // Its own help lists the calculations.
  help: '',
  run: async (args, { out }) => calc(args, out),
};

export const COMMANDS: readonly Command[] = [start, demo, check, site, token, replay, calculate, backup, restore];

const overview = (): string => `nightwater: the watch over a bivalve hatchery's water

nightwater COMMAND [...]

${COMMANDS.map(({ name, summary }) => `  ${name.padEnd(8)}  ${summary}`).join('\n')}

  --help      this; after a command, the help of that command
  --version   the version of this program

Exit codes: 0 done, 1 failed, 2 wrong usage.`;

const isHelp = (word: string | undefined): boolean => word === '--help' || word === '-h' || word === 'help';

/** Hands over to the command that the first word names; the exit code. */
export const run = async (args: readonly string[], io: Io, version: string): Promise<number> => {
  const [name, ...rest] = args;
  if (name === undefined) {
    io.err(overview());
    return WRONG_USAGE;
  }
  if (name === '--version') {
    io.out(version);
    return DONE;
  }
  const wanted = isHelp(name) ? rest[0] : name;
  if (wanted === undefined) {
    io.out(overview());
    return DONE;
  }
  const command = COMMANDS.find((each) => each.name === wanted);
  if (command === undefined) {
    const names = COMMANDS.map((each) => each.name);
    io.err(`There is no command “${wanted}”.${didYouMean(wanted, names)} Known: ${names.join(', ')}.`);
    return WRONG_USAGE;
  }
  const asksHelp =
    isHelp(name) ||
    rest
      .slice(0, rest.indexOf('--') < 0 ? undefined : rest.indexOf('--'))
      .some((word) => word === '--help' || word === '-h');
  if (!asksHelp) return command.run(rest, io);
  if (command.help === '') return command.run(isHelp(name) ? ['--help'] : rest, io);
  io.out(command.help);
  return DONE;
};
