import { waterOverBed } from '../rules/engine/water-over.js';
import type { LogRecord } from '../rules/log/record.js';
import { heedButtons } from './buttons.js';
import type { Clock } from './clock.js';
import type { AppParts } from './http/parts.js';
import type { Journal } from './journal/journal.js';
import { buildLogDesk } from './log-desk.js';
import { openPhotos } from './photos.js';
import type { Keeping } from './watchkeeper.js';

export type LogParts = Pick<AppParts, 'log' | 'photos'>;

export type LogFrom = {
  readonly journal: Journal;
  readonly keeping: Keeping;
  readonly record: LogRecord;
  readonly closing: (() => void | Promise<void>)[];
};

/** The log, its photos, and the boards' contacts that write into it. */
export const startLog = (
  { clock, say }: { readonly clock: Clock; readonly say: (sentence: string) => void },
  { journal, keeping, record, closing }: LogFrom,
): LogParts => {
  const photos = openPhotos(journal.folder);
  const log = buildLogDesk({
    journal,
    watchkeeper: keeping,
    now: clock.now,
    record,
    hasPhoto: photos.has,
    waterOver: (id) => waterOverBed(keeping.state(), id),
  });
  const complain = (what: string, why: unknown): void => say(`${what}: ${JSON.stringify(why)}`);
  const stops = [
    heedButtons({ journal, watchkeeper: keeping, log, now: clock.now, complain }),
    clock.every(60_000, log.beat),
  ];
  closing.push(() => {
    for (const stop of stops) stop();
  });
  return { log, photos };
};
