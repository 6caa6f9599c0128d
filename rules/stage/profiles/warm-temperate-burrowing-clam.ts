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
  span(30, 35, 'analogy', {
    source: 'MESODESMA',
    note: 'surf-beach clam: 25-35 tolerated, 30-35 best; open-coast clams want oceanic salinity',
  }),
  span(25, 38, 'placeholder'),
);

export const WARM_TEMPERATE_BURROWING_CLAM = {
  id: 'warm-temperate-burrowing-clam',
  name: 'Warm-temperate burrowing clam (general)',
  scientificNames: ['Tivela stultorum', 'Mesodesma mactroides', 'Meretrix spp.', 'similar open-coast or bay clams'],
  note: 'A general profile for a clam with little published hatchery practice. Most limits are placeholders: the hatchery confirms each limit from its own records.',
  stages: {
    conditioning: {
      ...COMMON_CONDITIONING,
      temperatureC: band(span(18.3, 23.9, 'practice'), span(13, 24, 'placeholder'), figure(30, 'practice')),
      salinity: band(span(28, 30, 'practice'), span(25, 38, 'placeholder')),
      oxygenSaturationPct: aerated(60),
      oxygenMgL: ofAirSaturation({ airMgL: 7.509, temperatureC: 21.1, salinity: 29, limitPct: 60 }),
      stocking: {
        flowMlMinPerAdult: figure(1000, 'confirmed', {
          source: 'TIVELA24',
          note: 'adult Pismo clams reached full clearance, 300-400 mL/min, only at 1,000-2,000 mL/min through the chamber; many hatcheries give far less and must then feed more',
        }),
        biomassKgM3: band(span(undefined, 20, 'placeholder'), span(undefined, 40, 'placeholder')),
      },
      substrate: {
        need: 'optional',
        standing: 'confirmed',
        source: 'TIVELA24',
        note: 'adult Pismo clams cleared as much when pressed together on their sides without sand as when burrowed, over 40 days; other burrowers may gape without sand or a band',
      },
      durationD: span(28, 70, 'placeholder'),
      algaeBestCellsMl: span(50_000, 200_000, 'confirmed', {
        source: 'TIVELA24',
        note: 'clearance steady over 50-200 cells per µL, falling above',
      }),
    },
    spawning: {
      ...COMMON_SPAWNING,
      temperatureC: band(span(18, 28, 'placeholder'), span(14, 30, 'placeholder'), figure(30, 'practice')),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(60),
      oxygenMgL: ofAirSaturation({ airMgL: 6.585, temperatureC: 27, salinity: 34, limitPct: 60 }),
      algaeCellsMl: band(
        span(20_000, 50_000, 'practice', { note: 'a little algae starts them pumping' }),
        span(0, 200_000, 'placeholder'),
      ),
      waterChange: { everyH: 0.5, standing: 'practice', note: 'the water is replaced at each phase change' },
      thermalCycle: {
        ambientC: span(21, 21, 'practice'),
        coolC: span(15, 18, 'placeholder'),
        peakC: span(26.6, 32.1, 'derived', {
          note: '21 °C and the rise; the upper end passes the ceiling of 30 °C, so a plan that uses it is refused or argued for',
        }),
        riseC: span(5.6, 11.1, 'practice'),
        rampMin: RAMP_MIN,
        holdMin: HOLD_MIN,
        cyclesMax: CYCLES_MAX,
        note: 'start low: the smallest rise that works is the right one',
      },
    },
    embryo: {
      ...COMMON_EMBRYO,
      temperatureC: band(span(19, 23, 'placeholder'), span(16, 26, 'placeholder')),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(70),
      oxygenMgL: ofAirSaturation({ airMgL: 7.306, temperatureC: 21, salinity: 34, limitPct: 70 }),
      stocking: { embryosPerMl: band(span(1, 2, 'practice'), span(undefined, 80, 'placeholder')) },
      durationD: span(1, 2, 'practice'),
      shelledAndFeedingH: figure(24, 'practice'),
    },
    larva: {
      ...COMMON_LARVA,
      temperatureC: band(
        span(22.2, 30, 'practice'),
        span(17, 30, 'placeholder', {
          note: 'upper end moved from 27 °C to the upper end of the target: an alarm line cannot lie inside the wanted band',
        }),
      ),
      salinity: band(span(28, 35, 'practice'), span(25, 38, 'placeholder')),
      oxygenSaturationPct: aerated(60),
      oxygenMgL: ofAirSaturation({ airMgL: 6.78, temperatureC: 26.1, salinity: 31.5, limitPct: 60 }),
      algaeCellsMl: band(
        span(50_000, 100_000, 'practice'),
        span(10_000, 150_000, 'placeholder', {
          note: 'above the upper figure ungrazed algae foul the tank; below the lower the larvae starve',
        }),
      ),
      stocking: {
        earlyLarvaePerMl: band(span(10, 20, 'analogy', { source: 'LIU06' }), span(undefined, 20, 'placeholder')),
        lateLarvaePerMl: band(span(1, 5, 'practice'), span(undefined, 10, 'placeholder')),
      },
      waterChange: { everyH: 24, standing: 'practice', note: 'changed daily' },
      cleaning: { everyH: 48, standing: 'practice', note: 'tank scrubbed at every second daily change' },
      durationD: mixed(6, 'practice', 28, 'analogy', {
        source: 'MESODESMA',
        note: 'ready to set at day 6-9 by common practice; Meretrix settled in about a week (LIU06), Mesodesma in about 27 days',
      }),
      settleLengthUm: span(200, 220, 'practice'),
      readyToSetD: span(6, 9, 'practice'),
    },
    setting: {
      ...COMMON_SETTING,
      temperatureC: band(span(20, 24, 'placeholder'), span(17, 27, 'placeholder')),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(60),
      oxygenMgL: ofAirSaturation({ airMgL: 7.176, temperatureC: 22, salinity: 34, limitPct: 60 }),
      algaeCellsMl: band(span(100_000, 150_000, 'practice'), span(10_000, 200_000, 'placeholder')),
      stocking: {
        larvaePerCm2: band(
          span(2.15, 3.23, 'practice', { note: '21,500-32,300 per m²' }),
          span(undefined, 400, 'placeholder'),
        ),
      },
      substrate: {
        need: 'optional',
        grainUm: [200, 500],
        standing: 'practice',
        note: 'thin layer of washed sand helps some burrowers; bare mesh is easier to clean',
      },
      durationD: span(3, 10, 'practice'),
    },
    'post-set': {
      ...COMMON_POST_SET,
      temperatureC: band(span(20, 25, 'placeholder'), span(15, 27, 'placeholder')),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(60),
      oxygenMgL: ofAirSaturation({ airMgL: 7.05, temperatureC: 23, salinity: 34, limitPct: 60 }),
      substrate: { need: 'optional', grainUm: [200, 1000], standing: 'practice' },
      durationD: span(30, 90, 'placeholder'),
    },
    nursery: {
      ...COMMON_NURSERY,
      temperatureC: band(span(16, 25, 'placeholder'), span(10, 28, 'placeholder')),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(50),
      oxygenMgL: ofAirSaturation({ airMgL: 7.176, temperatureC: 22, salinity: 34, limitPct: 50 }),
      substrate: {
        need: 'needed',
        grainUm: [300, 2000],
        standing: 'practice',
        note: 'most burrowers want sand from about 2-4 mm',
      },
      durationD: span(60, 240, 'placeholder'),
    },
  },
} as const satisfies SpeciesGroup;
