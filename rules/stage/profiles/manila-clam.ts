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

const SALINITY = band(span(25, 32, 'memory', { source: 'MAFF68' }), span(20, 35, 'placeholder'));

export const MANILA_CLAM = {
  id: 'manila-clam',
  name: 'Manila clam',
  scientificNames: ['Ruditapes philippinarum', 'Tapes/Venerupis philippinarum (older names)'],
  stages: {
    conditioning: {
      ...COMMON_CONDITIONING,
      temperatureC: band(span(18, 22, 'memory', { source: 'MAFF68' }), span(14, 24, 'placeholder')),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(50),
      oxygenMgL: ofAirSaturation({ airMgL: 7.617, temperatureC: 20, salinity: 30, limitPct: 50 }),
      durationD: span(28, 56, 'memory', { source: 'MAFF68' }),
    },
    spawning: {
      ...COMMON_SPAWNING,
      temperatureC: band(
        span(12, 28, 'confirmed', { source: 'FAO471', where: '4.2.4.1' }),
        span(10, 31, 'placeholder'),
        figure(31, 'placeholder', { note: 'adults died within 10 days at 34 °C (ISONO98, confirmed)' }),
      ),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(50),
      oxygenMgL: ofAirSaturation({ airMgL: 6.849, temperatureC: 26, salinity: 30, limitPct: 50 }),
      thermalCycle: {
        ambientC: span(18, 22, 'memory', { source: 'MAFF68' }),
        coolC: span(12, 15, 'confirmed', { source: 'FAO471', where: '4.2.4.1' }),
        peakC: span(25, 28, 'confirmed', { source: 'FAO471', where: '4.2.4.1' }),
        riseC: span(4, 8, 'derived'),
        rampMin: RAMP_MIN,
        holdMin: HOLD_MIN,
        cyclesMax: CYCLES_MAX,
      },
    },
    embryo: {
      ...COMMON_EMBRYO,
      temperatureC: band(span(22, 26, 'memory', { source: 'FAO471' }), span(18, 28, 'placeholder')),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(60),
      oxygenMgL: ofAirSaturation({ airMgL: 7.089, temperatureC: 24, salinity: 30, limitPct: 60 }),
      stocking: {
        embryosPerMl: band(
          span(20, 50, 'memory', {
            source: 'FAO471',
            where: '5.1.2',
            note: '20 per mL read in one production routine (NB-OYSTER24, confirmed: 100 million in 5,000 L); 5-50 per mL made no difference to yield in a scallop (HEASMAN96, analogy)',
          }),
          span(undefined, 80, 'placeholder'),
        ),
      },
      durationD: span(1, 2, 'memory', { source: 'FAO471' }),
    },
    larva: {
      ...COMMON_LARVA,
      temperatureC: band(
        span(22, 26, 'confirmed', {
          source: 'FAO471',
          where: '5.1.5',
          note: "24 ± 2 °C is the culture temperature of the manual's growth comparison",
        }),
        span(18, 28, 'placeholder'),
      ),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(60),
      oxygenMgL: ofAirSaturation({ airMgL: 7.089, temperatureC: 24, salinity: 30, limitPct: 60 }),
      algaeCellsMl: band(
        span(25_000, 100_000, 'memory', {
          source: 'FAO471',
          note: 'about 50 cells per µL for early larvae rising to about 100 for larvae over 120 µm, as small-flagellate equivalents',
        }),
        span(10_000, 150_000, 'placeholder', {
          note: 'above the upper figure ungrazed algae foul the tank; below the lower the larvae starve',
        }),
      ),
      stocking: {
        earlyLarvaePerMl: band(span(5, 15, 'memory', { source: 'FAO471' }), span(undefined, 20, 'placeholder')),
        lateLarvaePerMl: band(span(1, 5, 'memory', { source: 'FAO471' }), span(undefined, 10, 'placeholder')),
      },
      durationD: span(12, 21, 'memory', { source: 'FAO471' }),
      settleLengthUm: span(210, 230, 'confirmed', { source: 'FAO471', where: '5.1.5' }),
      survivalPctToMetamorphosis: span(50, 70, 'confirmed', { source: 'FAO471', where: '5.1.5' }),
    },
    setting: {
      ...COMMON_SETTING,
      temperatureC: band(span(21, 25, 'practice'), span(18, 28, 'placeholder')),
      salinity: band(
        span(20, 30, 'practice'),
        mixed(13, 'confirmed', 34, 'placeholder', {
          source: 'TEZUKA13',
          note: "settlement rose as salinity fell to 13, near the species' lower limit: do not treat a modest drop at setting as a fault",
        }),
      ),
      oxygenSaturationPct: aerated(60),
      oxygenMgL: ofAirSaturation({ airMgL: 7.299, temperatureC: 23, salinity: 28, limitPct: 60 }),
      substrate: {
        need: 'preferred',
        grainUm: [250, 500],
        standing: 'confirmed',
        source: 'TEZUKA13',
        note: 'settlement was very low without substrate; grains of 63-125 µm were unsuitable; yet many hatcheries set on bare mesh with success (practice)',
      },
      durationD: span(3, 10, 'practice'),
    },
    'post-set': {
      ...COMMON_POST_SET,
      temperatureC: band(
        span(22, 24, 'confirmed', { source: 'FAO471', where: '6.5.1', note: '23 ± 1 °C' }),
        span(15, 27, 'placeholder'),
      ),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(50),
      oxygenMgL: ofAirSaturation({ airMgL: 7.215, temperatureC: 23, salinity: 30, limitPct: 50 }),
      substrate: { need: 'none', standing: 'practice' },
      durationD: span(21, 60, 'practice'),
      lengthMmAt21D: figure(1.14, 'confirmed', { source: 'FAO471', where: '6.5.1' }),
      upwellFromMm: figure(0.5, 'confirmed', { source: 'FAO471', where: '6.3.4' }),
    },
    nursery: {
      ...COMMON_NURSERY,
      temperatureC: band(
        mixed(14, 'practice', 25, 'confirmed', {
          source: 'ISONO98',
          note: 'growth best near 25 °C, thermal stress above it',
        }),
        span(5, 30, 'placeholder', {
          note: 'a third died in two days of low-tide exposures to 36 °C in sediment (MACHO16, confirmed); all died within 10 days at a steady 34 °C (ISONO98)',
        }),
      ),
      salinity: band(span(24, 33, 'practice'), span(15, 36, 'placeholder')),
      oxygenSaturationPct: aerated(40, {
        note: 'adults: 20-day LC50 0.57 mg/L, LT50 422 h at 0.5 mg/L (LI19, confirmed): low oxygen here is first of all a sign of lost flow',
      }),
      oxygenMgL: ofAirSaturation({ airMgL: 7.345, temperatureC: 22, salinity: 30, limitPct: 40 }),
      substrate: { need: 'later', grainUm: [300, 2000], standing: 'practice' },
      durationD: span(60, 180, 'practice'),
    },
  },
} as const satisfies SpeciesGroup;
