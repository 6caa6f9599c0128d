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
  RAMP_MIN,
} from './common.js';

const SALINITY = band(span(27, 32, 'memory', { source: 'TR81' }), span(25, 35, 'placeholder'));

export const BAY_SCALLOP = {
  id: 'bay-scallop',
  name: 'Bay scallop',
  scientificNames: ['Argopecten irradians'],
  note: 'The most easily shocked of the warm group. Functional hermaphrodite: separate sperm and eggs at spawning.',
  stages: {
    conditioning: {
      ...COMMON_CONDITIONING,
      temperatureC: band(
        span(18, 21, 'memory', { note: 'published routines for the species; not seen' }),
        span(12, 24, 'placeholder'),
      ),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(60),
      oxygenMgL: ofAirSaturation({ airMgL: 7.761, temperatureC: 19, salinity: 30, limitPct: 60 }),
      durationD: span(28, 56, 'memory'),
    },
    spawning: {
      ...COMMON_SPAWNING,
      temperatureC: band(
        span(18, 27, 'memory'),
        span(16, 29, 'placeholder'),
        figure(29, 'placeholder', {
          note: 'greatest sensitivity of larvae to heat shock among estuarine bivalves that one laboratory had tested (WRIGHT84, confirmed)',
        }),
      ),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(60),
      oxygenMgL: ofAirSaturation({ airMgL: 6.967, temperatureC: 25, salinity: 30, limitPct: 60 }),
      algaeCellsMl: band(span(10_000, 30_000, 'practice'), span(0, 100_000, 'placeholder')),
      durationD: span(0.1, 0.3, 'practice'),
      thermalCycle: {
        ambientC: span(18, 21, 'memory'),
        coolC: span(18, 20, 'practice'),
        peakC: span(24, 27, 'memory'),
        riseC: span(4, 7, 'practice'),
        rampMin: RAMP_MIN,
        holdMin: span(15, 30, 'practice'),
        cyclesMax: figure(3, 'practice'),
        note: 'sperm usually comes first; move animals to clean beakers before eggs come',
      },
    },
    embryo: {
      ...COMMON_EMBRYO,
      temperatureC: band(
        span(20, 25, 'memory', { source: 'TR81' }),
        span(18, 26, 'placeholder', {
          note: 'cold shock below spawning temperature as well as heat (WRIGHT84, confirmed)',
        }),
      ),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(70),
      oxygenMgL: ofAirSaturation({ airMgL: 7.215, temperatureC: 23, salinity: 30, limitPct: 70 }),
      stocking: {
        embryosPerMl: band(
          span(5, 25, 'memory', {
            source: 'FAO471',
            where: '5.1.2',
            note: '20 per mL read in one production routine (NB-OYSTER24, confirmed: 100 million in 5,000 L); 5-50 per mL made no difference to yield in a scallop (HEASMAN96, analogy)',
          }),
          span(undefined, 80, 'placeholder'),
        ),
      },
      durationD: span(1, 2, 'memory', { source: 'TR81' }),
    },
    larva: {
      ...COMMON_LARVA,
      temperatureC: band(
        span(22, 25, 'memory', {
          source: 'TR81',
          note: 'survived and grew better at 24 than at 28 °C (TALMAGE11, confirmed)',
        }),
        span(18, 27, 'placeholder'),
      ),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(70, {
        source: 'GOBLER14',
        note: '30-50 uM (about 1.0-1.6 mg/L) halved growth and metamorphosis; limit set far above that',
      }),
      oxygenMgL: ofAirSaturation({ airMgL: 7.089, temperatureC: 24, salinity: 30, limitPct: 70 }),
      algaeCellsMl: band(
        span(10_000, 50_000, 'practice', {
          note: 'about 50 cells per µL for early larvae rising to about 100 for larvae over 120 µm, as small-flagellate equivalents',
        }),
        span(10_000, 150_000, 'placeholder', {
          note: 'above the upper figure ungrazed algae foul the tank; below the lower the larvae starve',
        }),
      ),
      stocking: {
        earlyLarvaePerMl: band(span(5, 10, 'practice'), span(undefined, 15, 'placeholder')),
        lateLarvaePerMl: band(span(1, 3, 'practice'), span(undefined, 10, 'placeholder')),
      },
      durationD: span(10, 19, 'memory'),
      settleLengthUm: span(180, 230, 'memory', {
        source: 'FAO471',
        where: '5.1.5',
        note: '210-230 given for scallops and clams as a group (confirmed)',
      }),
      survivalPctToMetamorphosis: span(15, 30, 'confirmed', {
        source: 'FAO471',
        where: '5.1.5',
        note: 'scallops as a group',
      }),
    },
    setting: {
      ...COMMON_SETTING,
      temperatureC: band(span(22, 25, 'practice'), span(18, 27, 'placeholder')),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(70),
      oxygenMgL: ofAirSaturation({ airMgL: 7.089, temperatureC: 24, salinity: 30, limitPct: 70 }),
      stocking: { larvaePerCm2: band(span(5, 50, 'practice'), span(undefined, 150, 'placeholder')) },
      substrate: {
        need: 'collector',
        standing: 'practice',
        note: 'byssal attachment to mesh or collectors; they move off if disturbed',
      },
      durationD: span(5, 14, 'practice'),
    },
    'post-set': {
      ...COMMON_POST_SET,
      temperatureC: band(span(20, 24, 'practice'), span(15, 27, 'placeholder')),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(60),
      oxygenMgL: ofAirSaturation({ airMgL: 7.345, temperatureC: 22, salinity: 30, limitPct: 60 }),
      substrate: { need: 'none', standing: 'practice' },
      durationD: span(21, 60, 'practice'),
    },
    nursery: {
      ...COMMON_NURSERY,
      temperatureC: band(
        span(15, 24, 'practice'),
        mixed(5, 'confirmed', 28, 'placeholder', {
          source: 'DAMARIS',
          note: 'lower figure: winter deaths went with mean water below 5 °C; upper figure placeholder',
        }),
      ),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(60),
      oxygenMgL: ofAirSaturation({ airMgL: 7.479, temperatureC: 21, salinity: 30, limitPct: 60 }),
      substrate: { need: 'none', standing: 'practice' },
      durationD: span(30, 90, 'practice'),
    },
  },
} as const satisfies SpeciesGroup;
