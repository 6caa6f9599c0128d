import type { AlarmPicture } from '../../rules/alarm/alarm.js';
import { QUANTITIES, type Quantity } from '../../rules/quantity.js';
import type { ChannelPicture, Picture, PlacePicture } from '../../rules/wire/picture.js';
import { openAlarms } from './live.js';

/** One tank (or other place with channels) in its strip. */
export type Cell = {
  readonly place: PlacePicture;
  /** One per column of the strip; undefined where the place has no such channel. */
  readonly channels: readonly (ChannelPicture | undefined)[];
  /** Open alarms of this place, worst first. */
  readonly alarms: readonly AlarmPicture[];
  /** Somebody should look: it stays full size when the others fold. */
  readonly wanted: boolean;
};

/** A supply line with its tanks, or the places that have no line. */
export type Strip = {
  readonly id: string;
  readonly name: string;
  readonly columns: readonly Quantity[];
  readonly cells: readonly Cell[];
};

/** Quantities that have a column in a strip, in this order; the others are on the tank's page. */
const COLUMNS: readonly Quantity[] = [
  'temperature',
  'salinity',
  'oxygen-saturation',
  'oxygen-mg-l',
  'ph',
  'level',
  'flow',
  'contact',
  'pressure',
];
const COLUMN_LIMIT = 4;

/** The room as strips: one a supply line, in the order people gave; then tanks without a line; then supply and air. */
export const stripsOf = (picture: Picture): readonly Strip[] => {
  const byPlace = groupedBy(picture.channels, ({ placeId }) => placeId);
  const alarmsBy = groupedBy(openAlarms(picture.alarms), ({ subject }) => placeOf(subject));
  const inOrder = picture.places.toSorted((a, b) => a.order - b.order || (a.id < b.id ? -1 : 1));
  const strip = (id: string, name: string, places: readonly PlacePicture[]): Strip => {
    const columns = columnsOf(places.flatMap((place) => byPlace.get(place.id) ?? []));
    return { id, name, columns, cells: places.map((place) => cellOf(place, columns, byPlace, alarmsBy)) };
  };
  const lines = inOrder.filter(({ kind }) => kind === 'line');
  const isLine = new Set(lines.map(({ id }) => id));
  const strips = lines.map((line) => {
    const members = inOrder.filter(({ kind, lineId }) => kind !== 'line' && lineId === line.id);
    return strip(line.id, line.name, byPlace.has(line.id) ? [line, ...members] : members);
  });
  const loose = inOrder.filter(({ kind, lineId }) => kind === 'tank' && (lineId === undefined || !isLine.has(lineId)));
  const supply = inOrder.filter(
    ({ id, kind, lineId }) => kind !== 'tank' && kind !== 'line' && lineId === undefined && byPlace.has(id),
  );
  return [...strips, strip('~tanks', '', loose), strip('~supply', '', supply)].filter(({ cells }) => cells.length > 0);
};

/** The strips now, with every cell that did not change taken over from before: what hangs on it need not be drawn again. */
export const withKept = (before: readonly Strip[], now: readonly Strip[]): readonly Strip[] => {
  const kept = new Map(before.flatMap(({ cells }) => cells.map((cell) => [cell.place.id, cell] as const)));
  return now.map((strip) => ({
    ...strip,
    cells: strip.cells.map((cell) => {
      const old = kept.get(cell.place.id);
      return old !== undefined && isSameCell(old, cell) ? old : cell;
    }),
  }));
};

const isSameCell = (a: Cell, b: Cell): boolean =>
  a.place === b.place && isSameList(a.channels, b.channels) && isSameList(a.alarms, b.alarms);

const isSameList = (a: readonly unknown[], b: readonly unknown[]): boolean =>
  a.length === b.length && a.every((one, index) => one === b[index]);

/** A subject is a place or one of its channels (`l2`, `l2.temperature`). */
export const placeOf = (subject: string): string => subject.split('.')[0] ?? subject;

const cellOf = (
  place: PlacePicture,
  columns: readonly Quantity[],
  byPlace: ReadonlyMap<string, readonly ChannelPicture[]>,
  alarmsBy: ReadonlyMap<string, readonly AlarmPicture[]>,
): Cell => {
  const own = byPlace.get(place.id) ?? [];
  const alarms = alarmsBy.get(place.id) ?? [];
  const channels = columns.map((quantity) => worstOf(own.filter((channel) => channel.quantity === quantity)));
  const restless = own.some(({ state, notWatched }) => state !== 'in-target' && notWatched === undefined);
  const silent = own.some(({ state }) => state === 'silent' || state === 'not-plausible');
  return { place, channels, alarms, wanted: alarms.length > 0 || restless || silent || place.work !== undefined };
};

const SEVERITY: { readonly [state in ChannelPicture['state']]: number } = {
  'outside-limit': 5,
  'not-plausible': 4,
  silent: 3,
  'outside-target': 2,
  'out-of-water': 1,
  'in-target': 0,
};

/** Where a tank has several probes of one quantity (top, bottom, companions), the worst is drawn. */
const worstOf = (channels: readonly ChannelPicture[]): ChannelPicture | undefined =>
  channels.toSorted((a, b) => SEVERITY[b.state] - SEVERITY[a.state] || (a.id < b.id ? -1 : 1))[0];

/** At most four columns; percent of saturation stands for oxygen where both are measured. */
const columnsOf = (channels: readonly ChannelPicture[]): readonly Quantity[] => {
  const present = new Set(channels.map(({ quantity }) => quantity));
  if (present.has('oxygen-saturation')) present.delete('oxygen-mg-l');
  const named = COLUMNS.filter((quantity) => present.has(quantity));
  return (named.length > 0 ? named : QUANTITIES.filter((quantity) => present.has(quantity))).slice(0, COLUMN_LIMIT);
};

const groupedBy = <T>(all: readonly T[], key: (one: T) => string): ReadonlyMap<string, readonly T[]> => {
  const groups = new Map<string, T[]>();
  for (const one of all) {
    const group = groups.get(key(one));
    if (group === undefined) groups.set(key(one), [one]);
    else group.push(one);
  }
  return groups;
};
