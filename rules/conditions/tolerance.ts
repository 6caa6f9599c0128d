import { SEAWATER_KG_L, SEAWATER_KJ_KG_K } from '../husbandry/heating.js';
import type { Place } from '../place.js';
import type { Quantity } from '../quantity.js';
import type { Stage } from '../stage/stage.js';

/*
 * How the stages differ where rules need to know. All figures: common practice, no source, but what is said at a line.
 */
type Animals = Exclude<Stage, 'empty'>;
const HOUR_MS = 3_600_000;
const MINUTE_MS = 60_000;

type Step = { readonly temperatureC: number; readonly salinity: number };

/** Change within an hour that the stage stands. Ripe adults spill their gametes and embryos stop; both are held tighter. */
const HOURLY_STEP: { readonly [stage in Animals]: Step } = {
  quarantine: { temperatureC: 3, salinity: 3 },
  'cold-hold': { temperatureC: 2, salinity: 3 },
  conditioning: { temperatureC: 2, salinity: 3 },
  ripe: { temperatureC: 1, salinity: 1.5 },
  spawning: { temperatureC: 12, salinity: 3 },
  embryo: { temperatureC: 1, salinity: 1 },
  larva: { temperatureC: 2, salinity: 2 },
  setting: { temperatureC: 2, salinity: 2 },
  'post-set': { temperatureC: 3, salinity: 3 },
  nursery: { temperatureC: 3, salinity: 4 },
};

/** How long oxygen may go unseen when air and flow might stop just then: seed in a bed has least, adults have hours. */
const OXYGEN_UNSEEN_MIN: { readonly [stage in Animals]: number } = {
  quarantine: 720,
  'cold-hold': 720,
  conditioning: 480,
  ripe: 480,
  spawning: 30,
  embryo: 480,
  larva: 240,
  setting: 180,
  'post-set': 60,
  nursery: 60,
};

/** Stages that cold hurts within hours; adults lose days, not lives. */
const TENDER: ReadonlySet<string> = new Set<Stage>(['spawning', 'embryo', 'larva', 'setting', 'post-set']);

/** Embryos want still water and no air until they are shelled and swimming. */
const STILL_WATER_MS = 48 * HOUR_MS;

const animalsIn = ({ stage }: Place): Animals | undefined => (stage === 'empty' ? undefined : stage);

export const hourlyStep = (place: Place): Step | undefined => {
  const stage = animalsIn(place);
  return stage === undefined ? undefined : HOURLY_STEP[stage];
};

export const isTender = ({ stage }: Place): boolean => stage !== undefined && TENDER.has(stage);

export const holdsAnimals = (place: Place): boolean => animalsIn(place) !== undefined;

export const wantsStillWater = ({ stage, stageSinceMs }: Place, nowMs: number): boolean =>
  stage === 'embryo' && nowMs - (stageSinceMs ?? nowMs) < STILL_WATER_MS;

/** Warming by the whole heater, °C per hour, without losses: kW 3600 / (V ρ cp). Check: 3 kW, 1,000 L: 2.646. */
export const fullHeatCPerHour = ({ heaterW, volumeL }: Place): number | undefined =>
  heaterW === undefined || volumeL === undefined || heaterW <= 0 || volumeL <= 0
    ? undefined
    : (heaterW * 3.6) / (volumeL * SEAWATER_KG_L * SEAWATER_KJ_KG_K);

/** A heater that nobody sees could take the water so far out of its band; that it sticks just then is rare. */
const BAND_C = 6;
const WARMTH_LEAST_MIN = 30;
const WARMTH_MOST_MIN = 360;
/** Without a heater warmth goes with the room: until the morning. */
const UNHEATED_MIN = 720;

/**
 * How long a quantity of a tank may go unseen before its animals may have come to harm: warmth by the heater and the
 * water, oxygen by the stage. Nothing else kills within a night unseen.
 */
export const unseenMs = (place: Place, quantity: Quantity | undefined): number => {
  const stage = animalsIn(place);
  if (place.stage === 'empty') return Number.POSITIVE_INFINITY;
  switch (quantity) {
    case 'temperature': {
      const heat = fullHeatCPerHour(place);
      if (heat === undefined) return UNHEATED_MIN * MINUTE_MS;
      const minutes = (BAND_C / heat) * 60;
      return Math.min(WARMTH_MOST_MIN, Math.max(WARMTH_LEAST_MIN, minutes)) * MINUTE_MS;
    }
    case 'oxygen-mg-l':
    case 'oxygen-saturation':
      return (stage === undefined ? WARMTH_MOST_MIN : OXYGEN_UNSEEN_MIN[stage]) * MINUTE_MS;
    default:
      return Number.POSITIVE_INFINITY;
  }
};
