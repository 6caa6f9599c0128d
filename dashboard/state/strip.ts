import type { AlarmPicture } from '../../rules/alarm/alarm.js';
import type { Quantity } from '../../rules/quantity.js';
import type { ChannelPicture, Picture, PlacePicture } from '../../rules/wire/picture.js';
import { openAlarms } from './live.js';

/** One tank (or other place with channels) in its strip. */
export type Cell = {
  readonly place: PlacePicture;
  /** First one per column of the strip, undefined where the place has no such channel; then what only this place has. */
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
  /** What most of its tanks have: the same column means the same quantity all along the line. */
  readonly columns: readonly Quantity[];
  readonly cells: readonly Cell[];
};

export const SUPPLY = '~supply';
export const LOOSE = '~tanks';

/** Quantities that are drawn in a strip, in this order; the others are on the tank's page. */
const DRAWN: readonly Quantity[] = [
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
const CHANNEL_LIMIT = 5;

/** The room as strips: one a supply line, in the order people gave; then tanks without a line; then supply and air. */
export const stripsOf = (picture: Picture): readonly Strip[] => {
  const byPlace = groupedBy(picture.channels, ({ placeId }) => placeId);
  const alarmsBy = groupedBy(openAlarms(picture.alarms), ({ subject }) => placeOf(subject));
  const inOrder = picture.places.toSorted((a, b) => a.order - b.order || (a.id < b.id ? -1 : 1));
  const part = (place: PlacePicture): Part => {
    const all = byPlace.get(place.id) ?? [];
    return { place, own: drawnOf(all), alarms: alarmsBy.get(place.id) ?? [], wanted: isWanted(place, all, alarmsBy) };
  };
  const strip = (id: string, name: string, places: readonly PlacePicture[]): Strip => {
    const parts = places.map(part).filter(isShown);
    const columns = columnsOf(parts);
    return { id, name, columns, cells: parts.map((one) => cellOf(one, columns)) };
  };
  const lines = inOrder.filter(({ kind }) => kind === 'line');
  const known = new Set(lines.map(({ id }) => id));
  const strips = lines.map((line) => {
    const members = inOrder.filter(({ kind, lineId }) => kind !== 'line' && lineId === line.id);
    return strip(line.id, line.name, [line, ...members]);
  });
  const loose = inOrder.filter(({ kind, lineId }) => kind === 'tank' && (lineId === undefined || !known.has(lineId)));
  const supply = inOrder.filter(({ kind, lineId }) => kind !== 'tank' && kind !== 'line' && lineId === undefined);
  return [...strips, strip(LOOSE, '', loose), strip(SUPPLY, '', supply)].filter(({ cells }) => cells.length > 0);
};

/** A place before its channels are put into columns. */
type Part = Omit<Cell, 'channels'> & { readonly own: ReadonlyMap<Quantity, ChannelPicture> };

/** Tanks always; a header, a room or an air main when something of it is watched or wants to be looked at. */
const isShown = ({ place, own, wanted }: Part): boolean =>
  place.kind === 'tank' || wanted || [...own.values()].some(({ notWatched }) => notWatched === undefined);

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

const isWanted = (
  place: PlacePicture,
  all: readonly ChannelPicture[],
  alarmsBy: ReadonlyMap<string, readonly AlarmPicture[]>,
): boolean =>
  alarmsBy.has(place.id) ||
  place.work !== undefined ||
  all.some(({ state, notWatched }) => state !== 'in-target' && (notWatched === undefined || isUnknown(state)));

const isUnknown = (state: ChannelPicture['state']): boolean => state === 'silent' || state === 'not-plausible';

/** The channels of a place that are drawn: of several probes of one quantity the worst, of two ways to say oxygen one. */
const drawnOf = (all: readonly ChannelPicture[]): ReadonlyMap<Quantity, ChannelPicture> => {
  const own = new Map<Quantity, ChannelPicture>();
  for (const quantity of DRAWN) {
    const worst = worstOf(all.filter((channel) => channel.quantity === quantity));
    if (worst !== undefined) own.set(quantity, worst);
  }
  const [percent, mgL] = [own.get('oxygen-saturation'), own.get('oxygen-mg-l')];
  if (percent !== undefined && mgL !== undefined)
    own.delete(percent.notWatched !== undefined && mgL.notWatched === undefined ? 'oxygen-saturation' : 'oxygen-mg-l');
  return own;
};

const cellOf = ({ place, own, alarms, wanted }: Part, columns: readonly Quantity[]): Cell => {
  const further = [...own].filter(([quantity, channel]) => !columns.includes(quantity) && isTold(channel, alarms));
  const channels = [...columns.map((quantity) => own.get(quantity)), ...further.map(([, channel]) => channel)];
  return { place, alarms, wanted, channels: channels.slice(0, CHANNEL_LIMIT) };
};

/** What only this place has is drawn when somebody would be woken for it, or should look at it. */
const isTold = (channel: ChannelPicture, alarms: readonly AlarmPicture[]): boolean =>
  channel.notWatched === undefined ||
  isUnknown(channel.state) ||
  alarms.some(({ finding }) => finding.channelId === channel.id);

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

/** The quantities that at least half of the tanks have. */
const columnsOf = (parts: readonly Part[]): readonly Quantity[] => {
  const tanks = parts.filter(({ place }) => place.kind === 'tank');
  const asked = tanks.length > 0 ? tanks : parts;
  return DRAWN.filter((quantity) => asked.filter(({ own }) => own.has(quantity)).length * 2 >= asked.length);
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
