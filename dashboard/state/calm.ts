import type { ChannelPicture, Picture, PlacePicture, WorkPicture } from '../../rules/wire/picture.js';
import { isWatched, wakesNobody } from './live.js';
import type { Cell, Strip } from './strip.js';

/** What can be said of a room without an open alarm. Only a room that is watched and known may be called well. */
export type Calm = {
  readonly kind: 'well' | 'no-alarm' | 'nothing-watched' | 'no-tank';
  readonly tanks: number;
  /** Tanks with at least one channel that would wake somebody. */
  readonly watched: number;
  /** Tanks with water beyond a limit, for which no alarm is open (yet). */
  readonly beyondLimit: number;
  /** Other tanks with water off its target. */
  readonly offTarget: number;
  /** Channels of which nobody knows: silent or not plausible. */
  readonly unknown: number;
  /** Channels that would wake nobody. */
  readonly unwatched: number;
  /** The declared work that ends first. */
  readonly next?: { readonly place: PlacePicture; readonly work: WorkPicture };
};

export const calmOf = (picture: Picture, strips: readonly Strip[]): Calm => {
  const tanks = picture.places.filter(({ kind }) => kind === 'tank');
  const awake = new Set(picture.channels.filter(isWatched).map(({ placeId }) => placeId));
  const watched = tanks.filter(({ id }) => awake.has(id)).length;
  const cells = strips.flatMap((strip) => strip.cells).filter(({ place }) => place.work === undefined);
  const has = (state: ChannelPicture['state']) => (cell: Cell) => cell.channels.some((one) => one?.state === state);
  const beyond = cells.filter(has('outside-limit'));
  const offTarget = cells.filter((cell) => has('outside-target')(cell) && !beyond.includes(cell)).length;
  const unknown = picture.channels.filter(({ state }) => state === 'silent' || state === 'not-plausible').length;
  const counts = {
    tanks: tanks.length,
    watched,
    beyondLimit: beyond.length,
    offTarget,
    unknown,
    unwatched: picture.channels.filter(wakesNobody).length,
  };
  const next = nextWork(tanks);
  return { kind: kindOf(counts), ...counts, ...(next === undefined ? {} : { next }) };
};

const kindOf = ({
  tanks,
  watched,
  beyondLimit,
  offTarget,
  unknown,
}: Pick<Calm, 'tanks' | 'watched' | 'beyondLimit' | 'offTarget' | 'unknown'>): Calm['kind'] => {
  if (tanks === 0) return 'no-tank';
  if (watched === 0) return 'nothing-watched';
  return watched === tanks && beyondLimit === 0 && offTarget === 0 && unknown === 0 ? 'well' : 'no-alarm';
};

const nextWork = (tanks: readonly PlacePicture[]): Calm['next'] =>
  tanks
    .flatMap((place) => (place.work === undefined ? [] : [{ place, work: place.work }]))
    .toSorted((a, b) => a.work.untilMs - b.work.untilMs)[0];
