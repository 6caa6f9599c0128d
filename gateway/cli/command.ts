import type { Environment } from '../environment.js';

/** Exit codes of every command. */
export const DONE = 0;
export const FAILED = 1;
export const WRONG_USAGE = 2;
export type ExitCode = typeof DONE | typeof FAILED | typeof WRONG_USAGE;

/** What a command may touch of the world: its words, the environment, the clock. Files it is given by path. */
export type Io = {
  readonly out: (line: string) => void;
  readonly err: (line: string) => void;
  readonly env: Environment;
  readonly now: () => number;
};

export type Command = {
  readonly name: string;
  /** One line for the list of commands. */
  readonly summary: string;
  /** The whole help, as printed. */
  readonly help: string;
  run(args: readonly string[], io: Io): Promise<number>;
};

/** Says what was typed wrongly, and where the help is. */
export const wrongUsage = ({ err }: Io, name: string, sentence: string): ExitCode => {
  err(sentence);
  err(`“nightwater ${name} --help” tells how it is used.`);
  return WRONG_USAGE;
};

export const failed = ({ err }: Io, ...sentences: readonly string[]): ExitCode => {
  for (const sentence of sentences) err(sentence);
  return FAILED;
};
