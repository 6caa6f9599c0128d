import type { Hatchery, Mapping } from '../hatchery.js';
import type { Place } from '../place.js';

type Channel = { readonly id: string; readonly place: number; readonly computed: boolean };

/** Who shares what, worked out once when the settings change. */
export type Relations = {
  readonly placeOf: ReadonlyMap<string, number>;
  /** Places by their line, air main, circuit and room. */
  readonly sharing: ReadonlyMap<string, readonly number[]>;
  /** Channels by the board of their ruling probe, and the other way round; what is computed falls silent with its place. */
  readonly channelsOf: ReadonlyMap<string, readonly number[]>;
  readonly boardsOf: ReadonlyMap<string, readonly string[]>;
};

/** Values by their key, each once, in the order of their coming. */
export const gathered = <K, T>(pairs: Iterable<readonly [key: K, value: T]>): ReadonlyMap<K, readonly T[]> => {
  const groups = new Map<K, T[]>();
  for (const [key, value] of pairs) {
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [value]);
    else if (!group.includes(value)) group.push(value);
  }
  return groups;
};

/** The boards of a place's probes, for what is computed from them: any of them may silence it. */
const boardsOfComputed = (
  channels: readonly Channel[],
  onBoard: readonly (readonly [board: string, channel: number])[],
): readonly (readonly [id: string, board: string])[] =>
  channels.flatMap(({ id, place, computed }) =>
    computed
      ? onBoard.flatMap(([board, channel]) => (channels[channel]?.place === place ? [[id, board] as const] : []))
      : [],
  );

export const suppliesOf = ({ lineId, airMainId, circuitId, roomId }: Place): readonly string[] =>
  [lineId, airMainId, circuitId, roomId].filter((id) => id !== undefined);

export const relationsOf = (
  { places }: Hatchery,
  mappings: readonly Mapping[],
  channels: readonly Channel[],
): Relations => {
  const order = places.map((_, index) => index).sort((a, b) => (places[a]?.order ?? 0) - (places[b]?.order ?? 0));
  const channelOf = new Map(channels.map(({ id }, index) => [id, index]));
  const onBoard = mappings.flatMap(({ channelId, board, ruling }) => {
    const channel = channelOf.get(channelId);
    return board === undefined || channel === undefined || !ruling ? [] : [[board, channel] as const];
  });
  return {
    placeOf: new Map(places.map(({ id }, index) => [id, index])),
    sharing: gathered(
      order.flatMap((index) => {
        const place = places[index];
        return place === undefined ? [] : suppliesOf(place).map((id) => [id, index] as const);
      }),
    ),
    channelsOf: gathered(onBoard),
    boardsOf: gathered([
      ...onBoard.map(([board, channel]) => [channels[channel]?.id ?? '', board] as const),
      ...boardsOfComputed(channels, onBoard),
    ]),
  };
};
