import type { Hatchery as Told } from '../../rules/hatchery.js';
import type { DeclaredWork } from '../../rules/work.js';
import type { Event } from '../event.js';
import type { Hatchery } from '../hatchery.js';
import { randomFrom, seedFrom } from '../random.js';
import { drawFailure, type Failure } from './failure.js';
import { drawEvening } from './ordinary.js';
import { drawPlant } from './plant.js';
import { HOUR_MS, type Hours, hoursOf, type Span } from './span.js';
import { toldOf } from './told.js';
import { drawTrouble } from './trouble.js';

/** One night: how the hatchery really is, what it told the watch, what people do, what goes wrong. */
export type Night = {
  readonly seed: number;
  readonly hours: Hours;
  readonly plant: Hatchery;
  readonly told: Told;
  /** Ordinary work and the troubles of probes and boards; the failure's own events are with it. */
  readonly events: readonly Event[];
  readonly failure?: Failure;
  readonly work: readonly DeclaredWork[];
  /** When somebody walks among the tanks: an alarm then rings on the wall and wakes nobody. */
  readonly onSite: readonly Span[];
};

/**
 * One night in four has a real failure: far more than in any hatchery, so that each kind comes often enough to be
 * measured. Wakings without cause are counted per tank and night and do not depend on it.
 */
const FAILURE_SHARE = 0.25;

/** Evenings spread over two years. */
const FIRST_EVENING_MS = Date.UTC(2026, 0, 1, 20);
const DAYS = 730;

export const makeNight = (seed: number): Night => {
  const random = randomFrom(seedFrom(seed, 'night'));
  const hours = hoursOf(FIRST_EVENING_MS + Math.floor(random.uniform(0, DAYS)) * 24 * HOUR_MS);
  const plant = drawPlant(seed, random.fork('plant'));
  const evening = drawEvening(plant, random.fork('evening'), hours);
  const failure = random.chance(FAILURE_SHARE) ? drawFailure(plant, random.fork('failure'), hours) : undefined;
  // Nobody aerates an embryo tank (common practice): its stone is shut from the start.
  const still = plant.tanks
    .filter(({ stage }) => stage === 'embryo')
    .map(({ id }): Event => ({ kind: 'air-stone-blocked', tank: id, fromMs: 0, toMs: Number.MAX_SAFE_INTEGER }));
  return {
    seed,
    hours,
    plant,
    told: toldOf(plant, random.fork('told'), hours.startMs),
    events: [...still, ...evening.events, ...drawTrouble(plant, random.fork('trouble'), hours)],
    ...(failure === undefined ? {} : { failure }),
    work: evening.work,
    onSite: evening.onSite,
  };
};
