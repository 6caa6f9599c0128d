import { aerated, band, figure, mixed, ofAirSaturation, span } from '../figure.js';
import type { SpeciesGroup } from '../profile.js';
import {
  COMMON_CONDITIONING,
  COMMON_EMBRYO,
  COMMON_LARVA,
  COMMON_NURSERY,
  COMMON_POST_SET,
  COMMON_SETTING,
  COMMON_SPAWNING,
  CYCLES_MAX,
  HOLD_MIN,
  RAMP_MIN,
} from './common.js';

const SALINITY = band(
  span(28, 31, 'derived', {
    source: 'MARSHALL12',
    note: 'a band round 29, where gonads improved and did not at 24 (confirmed)',
  }),
  span(24, 34, 'placeholder', {
    source: 'MARSHALL12',
    note: '17 and 20 (confirmed) brought fungus and high mortality after 26 days; limit set above',
  }),
);

export const GEODUCK = {
  id: 'geoduck',
  name: 'Geoduck (cool-water burrowing clam)',
  scientificNames: ['Panopea generosa', 'Panopea zelandica (larval figures)'],
  note: 'Breaks every warm-water default: 19 °C, a normal conditioning temperature for the others, destroys the gonad.',
  stages: {
    conditioning: {
      ...COMMON_CONDITIONING,
      temperatureC: band(
        span(10, 12, 'derived', {
          source: 'MARSHALL12',
          note: 'a band round 11 °C, the best of 7, 11, 15 and 19 °C (confirmed)',
        }),
        span(7, 15, 'derived', { source: 'MARSHALL12', note: 'gonads degenerated at 19 °C' }),
      ),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(60),
      oxygenMgL: ofAirSaturation({ airMgL: 9.175, temperatureC: 11, salinity: 29, limitPct: 60 }),
      stocking: {
        flowMlMinPerAdult: figure(100, 'memory', {
          source: 'FAO471',
          where: '4.1.2',
          note: 'placeholder for a very large clam',
        }),
        biomassKgM3: band(span(undefined, 20, 'placeholder'), span(undefined, 40, 'placeholder')),
      },
      substrate: {
        need: 'preferred',
        grainUm: [300, 2000],
        standing: 'practice',
        note: 'sand, or a band round the shell',
      },
      durationD: span(60, 120, 'confirmed', { source: 'MARSHALL12', note: 'spawning peaked in weeks 15-17 at 11 °C' }),
      rationCellsPerAnimalPerDayMax: figure(7_200_000_000, 'confirmed', {
        source: 'MARSHALL12',
        note: '7.2e9 was good, 10e9 raised mortality: overfeeding kills',
      }),
    },
    spawning: {
      ...COMMON_SPAWNING,
      temperatureC: band(
        mixed(12, 'practice', 16, 'confirmed', {
          source: 'NB-GEODUCK17',
          note: 'a rise of 2 °C, 14 to 16, with extra algae and repeated drain and refill was enough',
        }),
        span(10, 18, 'placeholder'),
        figure(18, 'placeholder'),
      ),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(60),
      oxygenMgL: ofAirSaturation({ airMgL: 8.44, temperatureC: 15, salinity: 29, limitPct: 60 }),
      algaeCellsMl: band(span(20_000, 80_000, 'practice'), span(0, 200_000, 'placeholder')),
      waterChange: { everyH: 1, standing: 'practice' },
      durationD: span(0.1, 0.5, 'practice'),
      thermalCycle: {
        ambientC: mixed(10, 'practice', 14, 'confirmed', { source: 'NB-GEODUCK17' }),
        coolC: span(10, 14, 'practice'),
        peakC: span(15, 17, 'derived', { source: 'NB-GEODUCK17', note: '16 °C worked (confirmed)' }),
        riseC: mixed(2, 'confirmed', 5, 'placeholder', { source: 'NB-GEODUCK17' }),
        rampMin: RAMP_MIN,
        holdMin: HOLD_MIN,
        cyclesMax: CYCLES_MAX,
      },
    },
    embryo: {
      ...COMMON_EMBRYO,
      temperatureC: band(
        span(13, 16, 'derived', { source: 'NB-GEODUCK17', note: '14 °C in use (confirmed)' }),
        span(10, 18, 'placeholder'),
      ),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(70),
      oxygenMgL: ofAirSaturation({ airMgL: 8.614, temperatureC: 14, salinity: 29, limitPct: 70 }),
      stocking: {
        embryosPerMl: band(
          span(10, 30, 'memory', {
            source: 'FAO471',
            where: '5.1.2',
            note: '20 per mL read in one production routine (NB-OYSTER24, confirmed: 100 million in 5,000 L); 5-50 per mL made no difference to yield in a scallop (HEASMAN96, analogy)',
          }),
          span(undefined, 80, 'placeholder'),
        ),
      },
      durationD: mixed(2, 'confirmed', 3, 'practice', { source: 'NB-GEODUCK17' }),
    },
    larva: {
      ...COMMON_LARVA,
      temperatureC: band(
        span(14, 17, 'confirmed', { source: 'ZELANDICA', note: '17 °C for P. zelandica; 14 °C in NB-GEODUCK17' }),
        span(11, 19, 'placeholder'),
      ),
      salinity: band(mixed(29, 'practice', 35, 'confirmed', { source: 'ZELANDICA' }), span(25, 36, 'placeholder')),
      oxygenSaturationPct: aerated(70),
      oxygenMgL: ofAirSaturation({ airMgL: 8.286, temperatureC: 15, salinity: 32, limitPct: 70 }),
      algaeCellsMl: band(
        span(20_000, 80_000, 'confirmed', { source: 'ZELANDICA', note: 'residual in flow-through' }),
        span(10_000, 120_000, 'placeholder'),
      ),
      stocking: {
        earlyLarvaePerMl: band(
          mixed(5, 'practice', 100, 'confirmed', {
            source: 'ZELANDICA',
            note: '100 per mL only in flow-through with continuous feed; static tanks 5-10 (practice)',
          }),
          span(undefined, 200, 'placeholder'),
        ),
        lateLarvaePerMl: band(span(1, 20, 'placeholder'), span(undefined, 100, 'placeholder')),
      },
      waterChange: { everyH: 56, standing: 'confirmed', source: 'NB-GEODUCK17', note: 'Monday-Wednesday-Friday' },
      cleaning: { everyH: 56, standing: 'practice' },
      durationD: mixed(16, 'confirmed', 30, 'practice', { source: 'ZELANDICA', note: '16-19 days at 17 °C' }),
      settleLengthUm: span(300, 375, 'confirmed', { source: 'ZELANDICA' }),
      growthUmPerDay: figure(15, 'confirmed', { source: 'ZELANDICA' }),
      survivalPctToMetamorphosis: span(76, 76, 'confirmed', { source: 'ZELANDICA', note: 'best batch' }),
    },
    setting: {
      ...COMMON_SETTING,
      temperatureC: band(span(14, 17, 'practice'), span(11, 19, 'placeholder')),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(70),
      oxygenMgL: ofAirSaturation({ airMgL: 8.44, temperatureC: 15, salinity: 29, limitPct: 70 }),
      substrate: { need: 'preferred', grainUm: [200, 500], standing: 'practice' },
      durationD: span(5, 14, 'practice'),
    },
    'post-set': {
      ...COMMON_POST_SET,
      temperatureC: band(span(14, 18, 'practice'), span(10, 20, 'placeholder')),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(60),
      oxygenMgL: ofAirSaturation({ airMgL: 8.44, temperatureC: 15, salinity: 29, limitPct: 60 }),
      substrate: { need: 'needed', grainUm: [300, 1000], standing: 'practice', note: 'sand from about 1.5 mm' },
      durationD: span(40, 120, 'practice'),
    },
    nursery: {
      ...COMMON_NURSERY,
      temperatureC: band(span(10, 17, 'practice'), span(6, 20, 'placeholder')),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(60),
      oxygenMgL: ofAirSaturation({ airMgL: 8.614, temperatureC: 14, salinity: 29, limitPct: 60 }),
      substrate: { need: 'needed', grainUm: [300, 2000], standing: 'practice' },
      durationD: span(90, 240, 'practice'),
    },
  },
} as const satisfies SpeciesGroup;
