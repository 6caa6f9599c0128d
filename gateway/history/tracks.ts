import { makeChannelId, parseChannelId } from '../../rules/channel.js';
import type { Site } from '../../rules/hatchery.js';
import type { Quantity } from '../../rules/quantity.js';
import { airPressureKpaFromAltitude } from '../../rules/seawater/air-pressure.js';
import { ATMOSPHERE_KPA } from '../../rules/seawater/range.js';
import { prepareCalibrations } from '../journal/calibrations.js';
import type { Database } from '../journal/database.js';
import type { TimeSpan } from '../journal/gateway-runs.js';
import { HOUR_MS } from '../journal/hour.js';
import { prepareMappings } from '../journal/mappings.js';
import type { UseOfFlags } from '../journal/use.js';
import { buildComputedTrack } from './computed.js';
import { buildHourStamps, prepareComputedHours } from './computed-hours.js';
import { buildMeasuredTrack } from './measured.js';
import type { OlderDays } from './older-days.js';
import { type Piece, piecesOf, type Rulings } from './pieces.js';
import { recipeFor } from './recipe.js';
import { prepareSourceRows } from './source-rows.js';
import type { Track } from './track.js';

export type Tracks = {
  /** The channel's past within a span; without a source it is a track that was never covered. */
  of(channelId: string, span: TimeSpan): Track;
  /** Every piece of every source that the channel is read from: its own, or those that it is computed from. */
  pieces(channelId: string, span: TimeSpan): readonly Piece[];
};

export type TracksParts = {
  readonly journal: Database;
  readonly memory: Database;
  readonly useOfFlags: UseOfFlags;
  /** What was fetched from a history database. */
  readonly older: OlderDays;
};

export const prepareTracks = ({ journal, memory, useOfFlags, older }: TracksParts): Tracks => {
  const rows = prepareSourceRows(journal, older);
  const [mappings, calibrations] = [prepareMappings(journal), prepareCalibrations(journal)];
  const pressureKpa = preparePressure(journal);
  const hoursOf = prepareComputedHours(memory);
  return {
    of: (channelId, span) => {
      const address = parseChannelId(channelId);
      if (address === undefined) throw new Error(`Not a channel id: ${channelId}`);
      const rulings = { mappings: mappings(), calibrations: calibrations() };
      const { placeId, quantity } = address;
      if (address.computed !== true) {
        return buildMeasuredTrack({ rows, useOfFlags, quantity, pieces: piecesOf(rulings, channelId, quantity, span) });
      }
      const recipe = recipeFor(quantity, measuredAt(rulings, placeId, span, quantity));
      if (recipe === undefined) return buildMeasuredTrack({ rows, useOfFlags, quantity, pieces: [] });
      const inputs = recipe.inputs.map((input) => ({
        quantity: input,
        pieces: inputPieces(rulings, placeId, input, span),
      }));
      const kPa = pressureKpa();
      const stamps = buildHourStamps(rows, inputs, kPa);
      const hours = hoursOf(channelId);
      return buildComputedTrack({ rows, useOfFlags, quantity, recipe, inputs, pressureKpa: kPa, hours, stamps });
    },
    pieces: (channelId, span) => {
      const address = parseChannelId(channelId);
      if (address === undefined) return [];
      const rulings = { mappings: mappings(), calibrations: calibrations() };
      const { placeId, quantity } = address;
      if (address.computed !== true) return piecesOf(rulings, channelId, quantity, span);
      const recipe = recipeFor(quantity, measuredAt(rulings, placeId, span, quantity));
      // The first companions lie before the span.
      const wider = { fromMs: span.fromMs - HOUR_MS, toMs: span.toMs };
      return (recipe?.inputs ?? []).flatMap((input) => inputPieces(rulings, placeId, input, wider));
    },
  };
};

/** What was measured at a place itself within a span, at no special position, beside what is to be computed. */
const measuredAt = ({ mappings }: Rulings, placeId: string, span: TimeSpan, wanted: Quantity): ReadonlySet<Quantity> =>
  new Set(
    mappings.flatMap(({ channelId, ruling, fromMs, toMs }) => {
      const address = parseChannelId(channelId);
      if (!ruling || address?.placeId !== placeId || address.position !== undefined) return [];
      const touches = fromMs < span.toMs && (toMs === undefined || toMs > span.fromMs);
      return touches && address.quantity !== wanted ? [address.quantity] : [];
    }),
  );

/** In whole hours and one before: so an hour is computed from the same pieces whatever span is asked for. */
const inputPieces = (rulings: Rulings, placeId: string, quantity: Quantity, span: TimeSpan): readonly Piece[] => {
  const fromMs = (Math.floor(span.fromMs / HOUR_MS) - 1) * HOUR_MS;
  const toMs = Math.ceil(span.toMs / HOUR_MS) * HOUR_MS;
  return piecesOf(rulings, makeChannelId({ placeId, quantity }), quantity, { fromMs, toMs });
};

/** From the site's height as it is set now; a barometer's readings are not used. */
const preparePressure = (journal: Database): (() => number) => {
  const site = journal
    .prepare<[], string | null>(
      "SELECT body FROM setting WHERE entity = 'site' ORDER BY effective_ms DESC, version DESC LIMIT 1",
    )
    .pluck();
  return () => {
    const { altitudeM } = JSON.parse(site.get() ?? '{}') as Partial<Site>;
    const pressure = altitudeM === undefined ? undefined : airPressureKpaFromAltitude({ altitudeM });
    return pressure?.ok === true ? pressure.value : ATMOSPHERE_KPA;
  };
};
