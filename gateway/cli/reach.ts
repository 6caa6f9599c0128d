import { fault, ok, type Result } from '../../rules/result.js';
import { journalSentence } from '../../rules/words/journal.js';
import type { Journal } from '../journal/journal.js';
import { openJournal } from '../journal/open.js';
import type { Io } from './command.js';
import { findRunning, type Running } from './running.js';
import { settledConfig } from './settled.js';

/** How a command gets at what is kept: through the gateway that runs, else the journal itself while nobody has it. */
export type Reached =
  | { readonly kind: 'running'; readonly running: Running }
  | { readonly kind: 'journal'; readonly journal: Journal };

/** Runs `use` with whichever it is, and lets go of it. */
export const withReached = async (
  io: Io,
  use: (reached: Reached) => Promise<Result<undefined, readonly string[]>>,
): Promise<Result<undefined, readonly string[]>> => {
  const config = settledConfig(io);
  if (!config.ok) return config;
  const { dataFolder, durability } = config.value;
  const opened = openJournal(dataFolder, { durability });
  if (opened.ok) {
    try {
      return await use({ kind: 'journal', journal: opened.value });
    } finally {
      opened.value.close();
    }
  }
  const running = opened.fault.code === 'already-in-use' ? findRunning(dataFolder) : undefined;
  return running === undefined ? fault([journalSentence(opened.fault)]) : use({ kind: 'running', running });
};

export const done = ok(undefined);
