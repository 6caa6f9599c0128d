import type { Entry } from '../../rules/log/entry.js';
import type { LogRecord } from '../../rules/log/record.js';
import type { LogLine } from '../../rules/wire/log.js';
import type { LogEntry } from '../journal/log.js';
import { entryFrom } from '../log-desk.js';

/** By the id of every version that counts no more, the one that counts. */
export type Replaced = ReadonlyMap<string, Entry>;

/** Every version of a corrected entry points at the last one. */
export const replacedIn = ({ written, ruling }: LogRecord): Replaced => {
  const replaced = new Map<string, Entry>();
  for (const last of ruling.standsFor.values()) {
    let version = written.get(last.corrects ?? '');
    while (version !== undefined && !replaced.has(version.id)) {
      replaced.set(version.id, last);
      version = written.get(version.corrects ?? '');
    }
  }
  return replaced;
};

export const lineOf = (row: LogEntry, replaced: Replaced): LogLine => {
  const last = replaced.get(row.id);
  return {
    entry: entryFrom(row),
    recordedMs: row.recordedMs,
    ...(last === undefined
      ? {}
      : last.kind === 'struck'
        ? { struck: true, replacedBy: last.id }
        : { replacedBy: last.id }),
  };
};

/** Whether an entry is about a batch: by its name, or because it moved its animals. */
export const isAbout = ({ stock }: LogRecord, batchId: string): ((entry: Entry) => boolean) => {
  const moved = new Set(
    stock.moves
      .filter(({ movements }) => movements.some((one) => one.batchId === batchId))
      .map(({ entry }) => entry.id),
  );
  return (entry) => moved.has(entry.id) || ('batchId' in entry.fields && entry.fields.batchId === batchId);
};
