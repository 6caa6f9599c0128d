import { Point } from '@influxdata/influxdb-client';
import { parseChannelId } from '../../rules/channel.js';
import type { Database } from '../journal/database.js';
import type { StoredReading } from '../journal/readings.js';
import { tagOf } from './influx-address.js';

/** How a reading is called in a history database: the same at every time of asking, so that written twice it is one point. */
export type Points = (readings: readonly StoredReading[]) => readonly Point[];

type Named = {
  readonly source_id: number;
  readonly from_ms: number;
  readonly recorded_ms: number;
  readonly channel_id: string | null;
};

/** The measurement and its fields; `refused` only where a board's own stamp was not accepted. */
export const MEASUREMENT = 'reading';

/**
 * Tags say tank and channel as they were named when the reading landed: rows of the mapping recorded by then. Those are
 * only appended, so that a reading sent again after a later naming is still the same point.
 */
export const preparePoints = (journal: Database, site: string): Points => {
  const keys = journal.prepare<[], [id: number, key: string]>('SELECT id, key FROM source').raw();
  const named = journal.prepare<[], Named>(
    'SELECT source_id, from_ms, recorded_ms, channel_id FROM mapping ORDER BY source_id, from_ms DESC, sequence DESC',
  );
  return (readings) => {
    const keyOf = new Map(keys.all());
    const rows = new Map<number, Named[]>();
    for (const row of named.all()) rows.set(row.source_id, [...(rows.get(row.source_id) ?? []), row]);
    return readings.map((reading) => {
      const { sourceId, deviceMs, arrivalMs } = reading;
      const ruling = rows
        .get(sourceId)
        ?.find(({ from_ms, recorded_ms }) => from_ms <= deviceMs && recorded_ms <= arrivalMs);
      return pointOf(
        reading,
        { site, source: keyOf.get(sourceId) ?? String(sourceId) },
        ruling?.channel_id ?? undefined,
      );
    });
  };
};

const pointOf = (
  { deviceMs, arrivalMs, variant, raw, flags, refusedMs }: StoredReading,
  { site, source }: { readonly site: string; readonly source: string },
  channelId: string | undefined,
): Point => {
  const point = new Point(MEASUREMENT)
    .tag('site', tagOf(site))
    .tag('source', tagOf(source))
    .tag('variant', String(variant))
    .floatField('raw', raw)
    .intField('flags', flags)
    .intField('arrival', arrivalMs)
    .timestamp(deviceMs);
  if (refusedMs !== undefined) point.intField('refused', refusedMs);
  if (channelId === undefined) return point;
  const placeId = parseChannelId(channelId)?.placeId;
  return (placeId === undefined ? point : point.tag('tank', tagOf(placeId))).tag('channel', tagOf(channelId));
};
