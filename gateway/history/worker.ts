import { rmSync } from 'node:fs';
import { parentPort, workerData } from 'node:worker_threads';
import BetterSqlite3 from 'better-sqlite3';
import { never } from '../../rules/result.js';
import { type Database, isDamage } from '../journal/database.js';
import { buildUseOfFlags } from '../journal/use.js';
import { type Answers, prepareAnswers } from './answer.js';
import type { Answered, AnswerTo, Asked, Question } from './question.js';
import { prepareTracks } from './tracks.js';

/** Reads for everybody else, on a thread and a connection of its own, so that the gateway's event loop never waits. */
export type WorkerSettings = { readonly journalPath: string; readonly memoryPath: string };

const openMemory = (path: string): Database => {
  const memory = new BetterSqlite3(path);
  try {
    memory.pragma('journal_mode = WAL');
    memory.pragma('synchronous = OFF');
    return memory;
  } catch (error) {
    memory.close();
    if (!isDamage(error)) throw error;
    // Nothing in it is worth more than the time to compute it again.
    for (const end of ['', '-wal', '-shm']) rmSync(`${path}${end}`, { force: true });
    return openMemory(path);
  }
};

const answerTo = (answers: Answers, question: Question): AnswerTo[Question['ask']] => {
  switch (question.ask) {
    case 'readings':
      return answers.readings(question);
    case 'trails':
      return answers.trails(question);
    case 'rows':
      return answers.rows(question);
    case 'close':
      return undefined;
    default:
      return never(question);
  }
};

const serve = (port: NonNullable<typeof parentPort>, { journalPath, memoryPath }: WorkerSettings): void => {
  const journal = new BetterSqlite3(journalPath, { readonly: true, fileMustExist: true });
  const memory = openMemory(memoryPath);
  const answers = prepareAnswers(journal, prepareTracks(journal, memory, buildUseOfFlags()));
  const remembering = memory.transaction((question: Question) => answerTo(answers, question));
  port.on('message', ({ number, question }: Asked) => {
    const reply = (answered: Answered): void => port.postMessage(answered);
    try {
      reply({ number, answer: remembering(question) });
    } catch (error) {
      reply({ number, bug: error instanceof Error ? (error.stack ?? error.message) : String(error) });
    }
    if (question.ask !== 'close') return;
    journal.close();
    memory.close();
    port.close();
  });
};

if (parentPort !== null) serve(parentPort, workerData as WorkerSettings);
