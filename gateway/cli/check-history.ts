import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { behindWords, type HistoryBehind, historyTroubleWords } from '../../rules/words/history.js';
import type { Config } from '../config.js';
import { shownInflux } from '../history/influx-address.js';
import { lookAtInflux } from '../history/influx-query.js';
import type { HealthPicture } from '../http/health.js';
import { JOURNAL_FILE, openJournal } from '../journal/open.js';
import { attention, failing, type Look, well } from './look.js';
import { findRunning } from './running.js';

type Behind = HistoryBehind & { readonly refused: number; readonly sinceMs?: number };

const LIMIT_MS = 5_000;

/** Where history goes, whether that database would take it, and how much waits on this disk. */
export const history: Look = async (config) => {
  const { history: kept } = config;
  if (kept.kind === 'sqlite') return undefined;
  const to = `InfluxDB at ${shownInflux(kept)}`;
  const [trouble, behind] = [await lookAtInflux(kept, LIMIT_MS), await behindOf(config)];
  const waits = behind === undefined ? '' : `; ${behindWords(behind)}${sinceWords(behind)}${refusedWords(behind)}`;
  if (trouble !== undefined)
    return failing(`History goes to ${to}, which takes no readings now: ${historyTroubleWords(trouble)}${waits}.`);
  const sentence = `History goes to ${to}, which answers${waits}.`;
  return behind !== undefined && behind.refused > 0 ? attention(sentence) : well(sentence);
};

const sinceWords = ({ sinceMs }: Behind): string =>
  sinceMs === undefined ? '' : `, nothing confirmed since ${new Date(sinceMs).toISOString()}`;

const refusedWords = ({ refused }: Behind): string =>
  refused === 0 ? '' : `; ${refused} refused for ever and kept on this disk`;

/** From the running gateway, or else from the journal that it left; undefined before a first start. */
const behindOf = async ({ dataFolder, durability }: Config): Promise<Behind | undefined> => {
  const health = await findRunning(dataFolder)?.ask('/health');
  if (health?.ok === true) {
    const { history: said } = JSON.parse(health.value.text) as HealthPicture;
    if (said === undefined) return undefined;
    const { behind: readings, daysBehind: days, refused, sinceMs } = said;
    return { readings, days, refused, ...(sinceMs === undefined ? {} : { sinceMs }) };
  }
  if (!existsSync(join(dataFolder, JOURNAL_FILE))) return undefined;
  const opened = openJournal(dataFolder, { durability });
  if (!opened.ok) return undefined;
  const { readings, days, refused } = opened.value.due.standing();
  opened.value.close();
  return { readings, days, refused };
};
