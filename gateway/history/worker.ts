import { rmSync } from 'node:fs';
import { parentPort, workerData } from 'node:worker_threads';
import BetterSqlite3 from 'better-sqlite3';
import { never } from '../../rules/result.js';
import { historyTroubleWords } from '../../rules/words/history.js';
import { type Database, isDamage } from '../journal/database.js';
import { DAY_MS, prepareSealedDays } from '../journal/sealed-days.js';
import { prepareStoredRows } from '../journal/stored-rows.js';
import { buildUseOfFlags } from '../journal/use.js';
import { type Answers, prepareAnswers } from './answer.js';
import { type Bring, type BringParts, buildBring, PAGE_SPAN_MS } from './bring.js';
import type { InfluxAddress } from './influx-address.js';
import { prepareOlderDays } from './older-days.js';
import type { Answered, AnswerTo, Asked, Question, RowPage } from './question.js';
import { prepareTracks } from './tracks.js';

/** Reads for everybody else, on a thread and a connection of its own, so that the gateway's event loop never waits. */
export type WorkerSettings = {
  readonly journalPath: string;
  readonly memoryPath: string;
  /** Where older readings are. */
  readonly address?: InfluxAddress;
};

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
    case 'review':
      return answers.review(question);
    case 'close':
      return undefined;
    default:
      return never(question);
  }
};

/** A day of a source at 1 Hz took less than a second where this was measured. */
const FETCH_LIMIT_MS = 15_000;

const prepareBring = (
  journal: Database,
  parts: Pick<BringParts, 'older' | 'tracks' | 'closing'> & { readonly address: InfluxAddress },
): Bring => {
  const key = journal.prepare<[number], string>('SELECT key FROM source WHERE id = ?').pluck();
  const here = prepareStoredRows(journal, prepareSealedDays(journal, 1));
  return buildBring({
    ...parts,
    keyOf: (sourceId) => key.get(sourceId) ?? String(sourceId),
    isHere: (sourceId, day) => {
      const rows = here.whole(sourceId, day * DAY_MS, (day + 1) * DAY_MS);
      const keys = new Set(rows.map(({ device_ms, variant }) => `${device_ms} ${variant}`));
      return (deviceMs, variant) => keys.has(`${deviceMs} ${variant}`);
    },
    limitMs: FETCH_LIMIT_MS,
    ticks: () => performance.now(),
  });
};

/** An export must not pass over what is elsewhere; a chart shows hours instead. */
const answerWith = async (
  bring: Bring | undefined,
  question: Question,
  answer: (question: Question) => AnswerTo[Question['ask']],
): Promise<AnswerTo[Question['ask']]> => {
  if (bring === undefined) return answer(question);
  const trouble = await bring(question);
  if (question.ask !== 'rows') return answer(question);
  if (trouble !== undefined) throw new Error(`Older readings cannot be read: ${historyTroubleWords(trouble)}.`);
  const toMs = Math.min(question.toMs, question.fromMs + PAGE_SPAN_MS);
  const page = answer({ ...question, toMs }) as RowPage;
  return page.continueMs !== undefined || toMs === question.toMs ? page : { ...page, continueMs: toMs };
};

const serve = (port: NonNullable<typeof parentPort>, { journalPath, memoryPath, address }: WorkerSettings): void => {
  const journal = new BetterSqlite3(journalPath, { readonly: true, fileMustExist: true });
  const memory = openMemory(memoryPath);
  const closing = new AbortController();
  const older = prepareOlderDays(journal, memory);
  const useOfFlags = buildUseOfFlags();
  const tracks = prepareTracks({ journal, memory, useOfFlags, older });
  const answers = prepareAnswers(journal, tracks, older);
  const bring =
    address === undefined ? undefined : prepareBring(journal, { older, tracks, address, closing: closing.signal });
  const remembering = memory.transaction((question: Question) => answerTo(answers, question));
  const end = (): void => {
    closing.abort();
    journal.close();
    memory.close();
    port.close();
  };
  port.on('message', ({ number, question }: Asked) => {
    const reply = (answered: Answered): void => port.postMessage(answered);
    answerWith(question.ask === 'close' ? undefined : bring, question, remembering)
      .then(
        (answer) => reply({ number, answer }),
        (error: unknown) =>
          reply({ number, bug: error instanceof Error ? (error.stack ?? error.message) : String(error) }),
      )
      .finally(() => {
        if (question.ask === 'close') end();
      });
  });
};

if (parentPort !== null) serve(parentPort, workerData as WorkerSettings);
