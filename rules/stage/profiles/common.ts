import { band, figure, span } from '../figure.js';
import type { StageProfile } from '../profile.js';

/** Figures that hold in most groups; a group's own figures stand over them. */
export const COMMON_CONDITIONING = {
  algaeCellsMl: band(
    span(20_000, 50_000, 'practice', {
      note: 'residual kept in the tank; the ration itself is set by dry weight, see rationPctDryMeatPerDay',
    }),
    span(5000, 200_000, 'placeholder'),
  ),
  stocking: {
    flowMlMinPerAdult: figure(25, 'memory', {
      source: 'FAO471',
      where: '4.1.2',
      note: 'minimum for adults of about 60-100 g live weight',
    }),
    biomassKgM3: band(span(undefined, 20, 'placeholder'), span(undefined, 40, 'placeholder')),
  },
  waterChange: { standing: 'practice', note: 'flow-through; drain-down and wash-down once or twice a week' },
  cleaning: { everyH: 84, standing: 'practice', note: 'twice a week' },
  substrate: { need: 'none', standing: 'practice' },
  rationPctDryMeatPerDay: band(
    span(2, 4, 'memory', { source: 'FAO471', where: '4.1.2' }),
    span(1, 6, 'memory', { source: 'FAO471', where: '4.1.2' }),
  ),
  rationExamplePctDryMeatPerDay: figure(3, 'confirmed-secondary', {
    source: 'FAO471',
    where: '4.1.2',
    note: '3 % of 0.75 g dry meat = 0.0225 g algae dry weight per adult per day',
  }),
  warmingCPerDay: span(undefined, 1, 'practice', { note: 'broodstock warmed in steps' }),
} satisfies Partial<StageProfile>;

export const COMMON_SPAWNING = {
  algaeCellsMl: band(span(20_000, 50_000, 'practice'), span(0, 200_000, 'placeholder')),
  stocking: {
    animalsPerTray: band(
      span(20, 60, 'practice', { note: 'tray of 150 x 50 x 15 cm, water 10 cm deep (FAO471 4.2.4.1, confirmed)' }),
      span(undefined, 100, 'placeholder'),
    ),
  },
  waterChange: { everyH: 0.5, standing: 'practice' },
  cleaning: { standing: 'practice', note: 'none' },
  substrate: { need: 'none', standing: 'practice' },
  durationD: span(0.1, 0.4, 'practice'),
} satisfies Partial<StageProfile>;

export const COMMON_EMBRYO = {
  algaeCellsMl: band(
    span(0, 0, 'memory', { source: 'FAO471', where: '5.1.2', note: 'embryos do not feed' }),
    span(0, 5000, 'placeholder'),
  ),
  waterChange: { standing: 'practice', note: 'none until D-larvae are collected' },
  cleaning: { standing: 'practice', note: 'none' },
  substrate: { need: 'none', standing: 'practice' },
} satisfies Partial<StageProfile>;

export const COMMON_LARVA = {
  waterChange: {
    everyH: 48,
    standing: 'confirmed',
    source: 'FAO471',
    where: '5.1.3',
    note: 'every 48 h or three times a week (Mon-Wed-Fri)',
  },
  cleaning: { everyH: 48, standing: 'practice', note: 'tank scrubbed at every water change' },
  substrate: { need: 'none', standing: 'practice' },
} satisfies Partial<StageProfile>;

export const COMMON_SETTING = {
  algaeCellsMl: band(span(50_000, 100_000, 'practice'), span(10_000, 200_000, 'placeholder')),
  stocking: {
    larvaePerCm2: band(
      span(20, 320, 'analogy', {
        source: 'COCKLE',
        note: 'metamorphosis unaffected over this range in the basket cockle',
      }),
      span(undefined, 400, 'placeholder'),
    ),
  },
  waterChange: { everyH: 24, standing: 'practice', note: 'daily partial or full change; FAO/notebooks give 24-48 h' },
  cleaning: { everyH: 24, standing: 'practice', note: 'daily rinse of screens' },
} satisfies Partial<StageProfile>;

export const COMMON_POST_SET = {
  algaeCellsMl: band(
    span(30_000, 100_000, 'practice', { note: 'better set as a weekly ration by live weight' }),
    span(5000, 250_000, 'placeholder'),
  ),
  stocking: {
    coverPctOfScreen: band(
      span(undefined, 100, 'analogy', {
        source: 'COCKLE',
        note: 'growth kept up whatever the size while less than about 100 % of the bottom was covered',
      }),
      span(undefined, 150, 'placeholder'),
    ),
  },
  waterChange: {
    everyH: 48,
    standing: 'practice',
    note: 'reservoir of a closed downweller or upweller changed 2-3 times a week',
  },
  cleaning: {
    everyH: 24,
    standing: 'practice',
    note: 'daily rinse from below or above; full drain-down and screening weekly',
  },
  rationOrganicGPerLiveGPerWeek: band(
    span(0.3, 0.5, 'confirmed', {
      source: 'LAING98',
      note: '0.3 was the cultured-algae control; 0.5 and above gave no further gain with bloomed algae (Pacific oyster)',
    }),
    span(0.1, 0.8, 'placeholder'),
  ),
} satisfies Partial<StageProfile>;

export const COMMON_NURSERY = {
  algaeCellsMl: band(
    span(5000, 50_000, 'practice', {
      note: 'natural or pond bloom water; flow and biomass matter more than the count',
    }),
    span(1000, undefined, 'placeholder'),
  ),
  stocking: {
    liveKgM2: band(
      span(undefined, 60, 'placeholder'),
      span(undefined, 120, 'confirmed', { source: 'FAO471', where: '6.6.2' }),
    ),
    flowLMinPerKg: band(
      span(10, 20, 'confirmed', { source: 'FAO471', where: '6.6.2' }),
      span(5, undefined, 'placeholder'),
    ),
  },
  waterChange: { standing: 'practice', note: 'flow-through' },
  cleaning: {
    everyH: 72,
    standing: 'practice',
    note: 'rinse every 1-3 days in the growing season, sooner in silt or bloom',
  },
} satisfies Partial<StageProfile>;

export const RAMP_MIN = span(5, 30, 'practice', {
  note: 'as fast as two supplies allow; a jump by water replacement takes minutes, a heater ramp 15-30 min',
});

export const HOLD_MIN = span(20, 40, 'memory', {
  source: 'FAO471',
  where: '4.2.4.1',
  note: 'about half an hour in each phase',
});

export const CYCLES_MAX = figure(4, 'practice', {
  note: 'stop after about four warm phases or 3-4 h; unripe stock does not answer (FAO471 4.2.4 says as much, confirmed in substance)',
});
