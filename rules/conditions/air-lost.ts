import type { CheckCode } from '../words/check.js';
import type { EvidenceCode } from '../words/evidence.js';
import type { Before, Condition, Opinion, Sight } from './condition.js';
import { contactAt, oncePast } from './contact.js';
import { declineOf } from './oxygen-decline.js';
import { holdsAnimals, wantsStillWater } from './tolerance.js';
import { isLive } from './trend.js';
import { channelAt, type Spot } from './view.js';

/** So many of the tanks on a main, and at least two, whose oxygen falls at once point to the main. */
const TOGETHER_SHARE = 0.5;
const FEWEST = 2;

/** Tanks on the main whose animals need its air. Embryos stand still on purpose, and a tank at work is seen to. */
const needsAir =
  (nowMs: number) =>
  ({ place, now, work }: Spot): boolean =>
    place.kind === 'tank' &&
    place.aerated !== false &&
    holdsAnimals(place) &&
    now.wet !== 'dry' &&
    work.length === 0 &&
    !wantsStillWater(place, nowMs);

const isFalling = (spot: Spot, nowMs: number): boolean | undefined => {
  const channel = channelAt(spot, 'oxygen-mg-l');
  if (channel === undefined || !isLive(channel.now, nowMs)) return undefined;
  return declineOf(channel.now, nowMs) !== undefined;
};

const isPressureLow = ({ place, view, nowMs }: Sight): boolean => {
  const channel = channelAt(view.spotOf(place.id), 'pressure');
  const low = channel?.wants?.limitLow;
  return channel !== undefined && low !== undefined && isLive(channel.now, nowMs) && channel.now.value < low;
};

const CHECKS: readonly CheckCode[] = ['blower-running', 'mains-and-standby', 'spare-air', 'air-running', 'hand-oxygen'];

const found = (
  evidence: readonly EvidenceCode[],
  tanks: readonly Spot[],
  shown: readonly Spot[],
  { priority, ...look }: ReturnType<typeof oncePast>,
): Opinion => ({
  raw: true,
  ...look,
  finding: {
    priority: tanks.length === 0 ? 'low' : priority,
    evidence,
    places: shown.map(({ place }) => place.id),
    ofPlaces: tanks.length,
    checks: CHECKS,
  },
});

/** A switch or a gauge tells at once: a blower that starts again by itself is for the wall. */
const told = (sight: Sight, before: Before, evidence: EvidenceCode, tanks: readonly Spot[]): Opinion =>
  found([evidence], tanks, tanks, oncePast(sight, before, 'high'));

/**
 * The air of a whole main: its switch or its pressure says so, or the oxygen of several of its tanks falls at once. A
 * switch is believed against the water, both ways: with the air there, falling oxygen is each tank's own.
 */
export const AIR_LOST: Condition = {
  code: 'air-lost',
  scope: 'place',
  everyMs: 30_000,
  atReadings: true,
  standsAt: ({ place }) => place.kind === 'air-main',
  timing: () => ({ onDelayMs: 5_000, offDelayMs: 30_000 }),
  judge: (sight, before) => {
    const { place, view, nowMs } = sight;
    const tanks = view.sharing(place.id).filter(needsAir(nowMs));
    const contact = contactAt(view.spotOf(place.id), 'air-pressure', nowMs);
    const seen = tanks.map((spot) => ({ spot, falls: isFalling(spot, nowMs) }));
    const falling = seen.filter(({ falls }) => falls === true).map(({ spot }) => spot);
    if (contact === false) return told(sight, before, 'contact-says-so', tanks);
    if (isPressureLow(sight)) return told(sight, before, 'pressure-low', tanks);
    if (contact === true) return { raw: false };
    const known = seen.filter(({ falls }) => falls !== undefined).length;
    if (known === 0) return { raw: before.on ? undefined : false };
    const enough = falling.length >= FEWEST && falling.length >= TOGETHER_SHARE * known;
    return enough ? found(['falling-together'], tanks, falling, { priority: 'high' }) : { raw: false };
  },
};
