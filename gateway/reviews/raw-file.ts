import { UNIT } from '../../rules/quantity.js';
import type { Review } from '../../rules/review/review.js';
import type { RawStanding } from '../../rules/words/raw-file.js';
import type { HistoryRow } from '../history/history.js';
import { rawSpanOf } from '../history/review.js';
import { buildRowsSum, summedRow } from '../history/rows-sum.js';
import { exportHeaderOfMany, exportLine } from '../http/csv.js';
import type { AppParts } from '../http/parts.js';
import { buildLate } from './late-readings.js';
import { laterEdits } from './later.js';

type Parts = Pick<AppParts, 'journal' | 'history' | 'desk'>;

/** Every reading of a review's channels over its 14 days, channel after channel, a few thousand lines at a time. */
export async function* rawFile(
  { history, desk }: Parts,
  { channels, windows }: Review,
  see: (channelId: string, rows: readonly HistoryRow[]) => void = () => undefined,
): AsyncGenerator<string> {
  const { zone } = desk.site().site.body;
  const { fromMs, toMs } = rawSpanOf(windows);
  yield exportHeaderOfMany(zone);
  for (const { channelId, quantity } of channels) {
    for await (const rows of history.rows(channelId, fromMs, toMs)) {
      see(channelId, rows);
      yield rows.map((row) => `${channelId},${UNIT[quantity]},${exportLine(row, zone)}`).join('');
    }
  }
}

/** Takes the readings of the raw file as they are written, and says in the end which are no longer those that were frozen. */
export const buildRawStanding = (review: Review) => {
  const seen = new Map(
    review.channels.map(({ channelId }) => [channelId, { sum: buildRowsSum(), late: buildLate(review.frozenMs) }]),
  );
  return {
    see: (channelId: string, rows: readonly HistoryRow[]): void => {
      const own = seen.get(channelId);
      for (const row of rows) {
        own?.sum.add(summedRow(row));
        own?.late.add(row);
      }
    },
    standing: (journal: AppParts['journal']): RawStanding => {
      const told = review.channels.flatMap(({ channelId, rowsSha256 }) => {
        const own = seen.get(channelId);
        return own === undefined ? [] : [{ channelId, rowsSha256, sha256: own.sum.hex(), late: own.late.told() }];
      });
      const edits = laterEdits(journal, review).filter(({ kind }) => kind === 'calibration' || kind === 'naming');
      return {
        ...{ id: review.id, frozenMs: review.frozenMs, channels: told.length, edits },
        changed: told
          .filter(({ rowsSha256, sha256 }) => rowsSha256 !== undefined && rowsSha256 !== sha256)
          .map(({ channelId, late }) => ({ channelId, ...late })),
        unknown: told.flatMap(({ channelId, rowsSha256 }) => (rowsSha256 === undefined ? [channelId] : [])),
      };
    },
  };
};
