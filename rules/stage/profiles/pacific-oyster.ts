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

const SALINITY = band(span(25, 32, 'memory', { source: 'FAO471' }), span(20, 35, 'placeholder'));

export const PACIFIC_OYSTER = {
  id: 'pacific-oyster',
  name: 'Pacific oyster',
  scientificNames: ['Magallana gigas', 'Crassostrea gigas'],
  stages: {
    conditioning: {
      ...COMMON_CONDITIONING,
      temperatureC: band(
        span(19, 22, 'confirmed', {
          source: 'CHAVEZ02',
          note: 'first ripe oocytes on day 27, 23, 19 and 22 at 16, 19, 22 and 25 °C: 25 was no faster than 22',
        }),
        span(15, 25, 'placeholder'),
      ),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(50),
      oxygenMgL: ofAirSaturation({ airMgL: 7.617, temperatureC: 20, salinity: 30, limitPct: 50 }),
      durationD: span(28, 56, 'memory', { source: 'FAO471' }),
      degreeDayThresholdC: figure(10.55, 'memory', { source: 'MANN79' }),
      degreeDaysToRipe: figure(592, 'memory', { source: 'MANN79' }),
    },
    spawning: {
      ...COMMON_SPAWNING,
      temperatureC: band(
        span(12, 28, 'confirmed', { source: 'FAO471', where: '4.2.4.1' }),
        span(10, 32, 'placeholder'),
        figure(32, 'placeholder'),
      ),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(50),
      oxygenMgL: ofAirSaturation({ airMgL: 6.735, temperatureC: 27, salinity: 30, limitPct: 50 }),
      thermalCycle: {
        ambientC: span(19, 22, 'confirmed', { source: 'CHAVEZ02' }),
        coolC: span(12, 15, 'confirmed', { source: 'FAO471', where: '4.2.4.1' }),
        peakC: span(25, 28, 'confirmed', { source: 'FAO471', where: '4.2.4.1' }),
        riseC: span(4, 8, 'derived'),
        rampMin: RAMP_MIN,
        holdMin: HOLD_MIN,
        cyclesMax: CYCLES_MAX,
        note: 'many hatcheries strip this species instead, and then hold eggs at 25-27 °C (NB-OYSTER24, confirmed)',
      },
    },
    embryo: {
      ...COMMON_EMBRYO,
      temperatureC: band(
        span(24, 28, 'memory', {
          source: 'FAO471',
          note: 'one production routine keeps 25-30 °C for the first three days (NB-OYSTER24, confirmed)',
        }),
        span(20, 30, 'placeholder'),
      ),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(60),
      oxygenMgL: ofAirSaturation({ airMgL: 6.849, temperatureC: 26, salinity: 30, limitPct: 60 }),
      stocking: {
        embryosPerMl: band(
          span(20, 60, 'memory', {
            source: 'FAO471',
            where: '5.1.2',
            note: '20 per mL read in one production routine (NB-OYSTER24, confirmed: 100 million in 5,000 L); 5-50 per mL made no difference to yield in a scallop (HEASMAN96, analogy)',
          }),
          span(undefined, 80, 'placeholder'),
        ),
      },
      durationD: span(1, 3, 'confirmed', { source: 'NB-OYSTER24', note: 'dropped onto 60-70 µm on day 3' }),
    },
    larva: {
      ...COMMON_LARVA,
      temperatureC: band(
        span(22, 26, 'confirmed', { source: 'FAO471', where: '5.1.5', note: '24 ± 2; many run 25-28 (practice)' }),
        span(19, 31, 'placeholder'),
      ),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(60),
      oxygenMgL: ofAirSaturation({ airMgL: 6.967, temperatureC: 25, salinity: 30, limitPct: 60 }),
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
      durationD: span(14, 24, 'memory', { source: 'FAO471' }),
      settleLengthUm: span(320, 340, 'confirmed', { source: 'FAO471', where: '5.1.5' }),
      survivalPctToMetamorphosis: span(50, 70, 'confirmed', { source: 'FAO471', where: '5.1.5' }),
    },
    setting: {
      ...COMMON_SETTING,
      temperatureC: band(
        mixed(25, 'practice', 30, 'confirmed', {
          source: 'HENDERSON83',
          note: 'settlement best at 30 °C and 30 psu; temperature mattered more than salinity',
        }),
        span(20, 33, 'placeholder'),
      ),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(60),
      oxygenMgL: ofAirSaturation({ airMgL: 6.735, temperatureC: 27, salinity: 30, limitPct: 60 }),
      stocking: {
        larvaePerCultchShell: band(
          span(50, 150, 'memory', {
            note: 'remote-setting guides; hatchery larvae set 7-32 % in 24 h (BAKER94, confirmed)',
          }),
          span(undefined, 300, 'placeholder'),
        ),
        larvaePerCm2OnMicrocultch: band(span(100, 300, 'practice'), span(undefined, 500, 'placeholder')),
      },
      substrate: {
        need: 'needed',
        grainUm: [220, 350],
        standing: 'practice',
        note: 'whole-shell cultch, or crushed shell (microcultch) of about larval size for single seed',
      },
      durationD: span(2, 5, 'practice'),
      coldDampStorageD: span(undefined, 8, 'confirmed', {
        source: 'HENDERSON83',
        note: 'ripe larvae kept cold and damp, up to 8 days at 5 °C',
      }),
    },
    'post-set': {
      ...COMMON_POST_SET,
      temperatureC: band(span(22, 25, 'confirmed', { source: 'FAO471', where: '6.3.4' }), span(16, 29, 'placeholder')),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(50),
      oxygenMgL: ofAirSaturation({ airMgL: 7.089, temperatureC: 24, salinity: 30, limitPct: 50 }),
      stocking: {
        liveGPerCylinderAtWeekStart: figure(60, 'confirmed', {
          source: 'FAO471',
          where: '6.3.4',
          note: 'closed upweller, ten cylinders in about 3 m³',
        }),
        coverPctOfScreen: band(
          span(undefined, 100, 'analogy', { source: 'COCKLE' }),
          span(undefined, 200, 'placeholder', { note: 'upwelled oyster spat may lie in layers' }),
        ),
      },
      substrate: { need: 'on-chip', standing: 'practice' },
      durationD: span(14, 42, 'practice'),
      lengthMmAt21D: figure(3.4, 'confirmed', { source: 'FAO471', where: '6.5.1' }),
      liveMgAt1Mm: figure(0.3, 'confirmed', { source: 'FAO471', where: '6.1' }),
    },
    nursery: {
      ...COMMON_NURSERY,
      temperatureC: band(
        span(12, 25, 'practice'),
        mixed(4, 'placeholder', 30, 'confirmed-secondary', {
          source: 'BOUGRIER95',
          note: 'upper figure: about the highest survived for more than a week',
        }),
      ),
      salinity: band(span(20, 33, 'practice'), span(10, 38, 'placeholder')),
      oxygenSaturationPct: aerated(40),
      oxygenMgL: ofAirSaturation({ airMgL: 7.617, temperatureC: 20, salinity: 30, limitPct: 40 }),
      substrate: { need: 'none', standing: 'practice' },
      durationD: span(30, 120, 'practice'),
    },
  },
} as const satisfies SpeciesGroup;
