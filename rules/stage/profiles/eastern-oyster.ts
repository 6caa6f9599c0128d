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
  span(15, 30, 'confirmed', { source: 'SRAC4302', note: 'supply salinity for a hatchery' }),
  mixed(10, 'confirmed', 35, 'placeholder', {
    source: 'SRAC4302',
    note: 'below 10 not conducive to spawning, larvae or early growth; upper figure placeholder',
  }),
);

const SALINITY_EMBRYO_LARVA = band(
  span(17, 27, 'memory', { source: 'LD63' }),
  span(10, 32, 'memory', { source: 'LD63' }),
);

export const EASTERN_OYSTER = {
  id: 'eastern-oyster',
  name: 'Eastern oyster',
  scientificNames: ['Crassostrea virginica'],
  stages: {
    conditioning: {
      ...COMMON_CONDITIONING,
      temperatureC: band(span(18, 22, 'memory', { source: 'LD63' }), span(14, 25, 'placeholder')),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(50),
      oxygenMgL: ofAirSaturation({ airMgL: 7.986, temperatureC: 20, salinity: 22, limitPct: 50 }),
      durationD: span(21, 56, 'memory', { source: 'LD63' }),
    },
    spawning: {
      ...COMMON_SPAWNING,
      temperatureC: band(
        span(20, 30, 'memory', { source: 'SRAC4302' }),
        span(18, 33, 'placeholder'),
        figure(33, 'placeholder'),
      ),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(50),
      oxygenMgL: ofAirSaturation({ airMgL: 6.925, temperatureC: 28, salinity: 22, limitPct: 50 }),
      thermalCycle: {
        ambientC: span(20, 24, 'practice'),
        coolC: span(20, 22, 'practice'),
        peakC: span(26, 30, 'memory', {
          source: 'SRAC4302',
          note: 'spring spawning once water passes 25 °C in the south (SRAC4302, confirmed)',
        }),
        riseC: span(5, 8, 'practice'),
        rampMin: RAMP_MIN,
        holdMin: HOLD_MIN,
        cyclesMax: CYCLES_MAX,
      },
    },
    embryo: {
      ...COMMON_EMBRYO,
      temperatureC: band(span(25, 28, 'memory', { source: 'SRAC4302' }), span(20, 31, 'placeholder')),
      salinity: SALINITY_EMBRYO_LARVA,
      oxygenSaturationPct: aerated(60),
      oxygenMgL: ofAirSaturation({ airMgL: 7.166, temperatureC: 26, salinity: 22, limitPct: 60 }),
      stocking: {
        embryosPerMl: band(
          span(10, 40, 'memory', {
            source: 'FAO471',
            where: '5.1.2',
            note: '20 per mL read in one production routine (NB-OYSTER24, confirmed: 100 million in 5,000 L); 5-50 per mL made no difference to yield in a scallop (HEASMAN96, analogy)',
          }),
          span(undefined, 80, 'placeholder'),
        ),
      },
      durationD: span(1, 2, 'practice'),
      yieldPctEggsToEarlyLarvae: figure(50, 'confirmed', {
        source: 'SRAC4302',
        note: '200 million eggs to 100 million early larvae',
      }),
    },
    larva: {
      ...COMMON_LARVA,
      temperatureC: band(span(25, 29, 'memory', { source: 'SRAC4302' }), span(20, 32, 'memory', { source: 'CD70' })),
      salinity: SALINITY_EMBRYO_LARVA,
      oxygenSaturationPct: aerated(60, {
        note: 'larvae of 82 µm half dead in 11 h without oxygen, 312 µm in 51 h (WIDDOWS89, confirmed)',
      }),
      oxygenMgL: ofAirSaturation({ airMgL: 7.044, temperatureC: 27, salinity: 22, limitPct: 60 }),
      algaeCellsMl: band(
        span(20_000, 100_000, 'memory', {
          source: 'SRAC4302',
          note: 'about 50 cells per µL for early larvae rising to about 100 for larvae over 120 µm, as small-flagellate equivalents',
        }),
        span(10_000, 150_000, 'placeholder', {
          note: 'above the upper figure ungrazed algae foul the tank; below the lower the larvae starve',
        }),
      ),
      stocking: {
        earlyLarvaePerMl: band(span(10, 10, 'confirmed', { source: 'SRAC4302' }), span(undefined, 20, 'placeholder')),
        lateLarvaePerMl: band(span(1, 3, 'memory', { source: 'SRAC4302' }), span(undefined, 10, 'placeholder')),
      },
      durationD: span(12, 20, 'memory', { source: 'SRAC4302' }),
      settleLengthUm: span(300, 340, 'memory', {
        source: 'FAO471',
        where: '5.1.5',
        note: '320-340 given for oviparous oysters as a group (confirmed)',
      }),
      yieldPctEarlyLarvaeToEyed: figure(25, 'confirmed', { source: 'SRAC4302' }),
    },
    setting: {
      ...COMMON_SETTING,
      temperatureC: band(span(25, 30, 'memory', { source: 'SRAC4302' }), span(20, 32, 'placeholder')),
      salinity: band(span(15, 25, 'practice'), span(9, 32, 'placeholder')),
      oxygenSaturationPct: aerated(60, {
        source: 'BAKER92',
        note: '79 % set in normal, 38 % in hypoxic, 4 % in anoxic water in 96 h',
      }),
      oxygenMgL: ofAirSaturation({ airMgL: 7.123, temperatureC: 27, salinity: 20, limitPct: 60 }),
      stocking: {
        larvaePerCultchShell: band(
          span(50, 150, 'memory', {
            note: 'remote-setting guides; hatchery larvae set 7-32 % in 24 h (BAKER94, confirmed)',
          }),
          span(undefined, 300, 'placeholder'),
        ),
        larvaePerCm2OnMicrocultch: band(span(100, 300, 'practice'), span(undefined, 500, 'placeholder')),
      },
      substrate: { need: 'needed', grainUm: [220, 350], standing: 'practice' },
      durationD: span(2, 5, 'practice'),
      yieldPctEyedToSpat: figure(40, 'confirmed', {
        source: 'SRAC4302',
        note: '25 million eyed larvae to about 10 million spat',
      }),
    },
    'post-set': {
      ...COMMON_POST_SET,
      temperatureC: band(span(22, 29, 'practice'), span(15, 32, 'placeholder')),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(50, {
        source: 'BAKER92',
        note: 'newly set juveniles half dead in 131 h hypoxic, 84 h anoxic',
      }),
      oxygenMgL: ofAirSaturation({ airMgL: 7.292, temperatureC: 25, salinity: 22, limitPct: 50 }),
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
    },
    nursery: {
      ...COMMON_NURSERY,
      temperatureC: band(span(18, 29, 'practice'), span(5, 33, 'placeholder')),
      salinity: band(span(12, 28, 'practice'), span(6, 35, 'placeholder')),
      oxygenSaturationPct: aerated(40, {
        note: 'shell growth falls with nightly dips to 0.5 mg/L and at steady 1.2-2.0 mg/L (KEPPEL16, confirmed)',
      }),
      oxygenMgL: ofAirSaturation({ airMgL: 7.247, temperatureC: 26, salinity: 20, limitPct: 40 }),
      substrate: { need: 'none', standing: 'practice' },
      durationD: span(30, 120, 'practice'),
    },
  },
} as const satisfies SpeciesGroup;
