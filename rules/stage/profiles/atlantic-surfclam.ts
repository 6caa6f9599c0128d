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

const SALINITY = band(span(28, 33, 'practice'), span(25, 35, 'placeholder'));

export const ATLANTIC_SURFCLAM = {
  id: 'atlantic-surfclam',
  name: 'Atlantic surfclam (cool-temperate burrowing clam)',
  scientificNames: ['Spisula solidissima'],
  note: 'Most heat-sensitive larvae of five species compared (WRIGHT83, confirmed).',
  stages: {
    conditioning: {
      ...COMMON_CONDITIONING,
      temperatureC: band(span(14, 17, 'placeholder'), span(10, 20, 'placeholder')),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(60),
      oxygenMgL: ofAirSaturation({ airMgL: 8.337, temperatureC: 15, salinity: 31, limitPct: 60 }),
      substrate: { need: 'preferred', standing: 'practice' },
      durationD: span(28, 70, 'placeholder'),
    },
    spawning: {
      ...COMMON_SPAWNING,
      temperatureC: band(span(15, 24, 'placeholder'), span(12, 26, 'placeholder'), figure(26, 'placeholder')),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(60),
      oxygenMgL: ofAirSaturation({ airMgL: 7.302, temperatureC: 22, salinity: 31, limitPct: 60 }),
      thermalCycle: {
        ambientC: span(14, 17, 'placeholder'),
        coolC: span(13, 16, 'placeholder'),
        peakC: span(20, 24, 'placeholder'),
        riseC: span(5, 8, 'placeholder'),
        rampMin: RAMP_MIN,
        holdMin: HOLD_MIN,
        cyclesMax: CYCLES_MAX,
        note: 'often stripped instead',
      },
    },
    embryo: {
      ...COMMON_EMBRYO,
      temperatureC: band(span(16, 20, 'placeholder'), span(13, 23, 'placeholder')),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(70),
      oxygenMgL: ofAirSaturation({ airMgL: 7.862, temperatureC: 18, salinity: 31, limitPct: 70 }),
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
      durationD: span(1, 3, 'practice'),
    },
    larva: {
      ...COMMON_LARVA,
      temperatureC: band(span(17, 21, 'placeholder'), span(14, 24, 'placeholder')),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(70),
      oxygenMgL: ofAirSaturation({ airMgL: 7.715, temperatureC: 19, salinity: 31, limitPct: 70 }),
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
      durationD: span(14, 28, 'placeholder'),
    },
    setting: {
      ...COMMON_SETTING,
      temperatureC: band(span(17, 21, 'placeholder'), span(14, 24, 'placeholder')),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(60),
      oxygenMgL: ofAirSaturation({ airMgL: 7.715, temperatureC: 19, salinity: 31, limitPct: 60 }),
      substrate: { need: 'optional', standing: 'practice' },
      durationD: span(5, 14, 'practice'),
    },
    'post-set': {
      ...COMMON_POST_SET,
      temperatureC: band(
        span(18, 22, 'derived', {
          source: 'ACQUA19',
          note: 'survival at 18 twice that at 26; growth best 20-24; advice about 20',
        }),
        mixed(14, 'placeholder', 24, 'confirmed', { source: 'ACQUA19' }),
      ),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(60),
      oxygenMgL: ofAirSaturation({ airMgL: 7.573, temperatureC: 20, salinity: 31, limitPct: 60 }),
      substrate: { need: 'later', standing: 'practice' },
      durationD: span(30, 60, 'practice'),
    },
    nursery: {
      ...COMMON_NURSERY,
      temperatureC: band(
        mixed(15, 'placeholder', 22, 'derived', { source: 'ACQUA19' }),
        mixed(8, 'placeholder', 26, 'derived', {
          source: 'ACQUA19',
          note: 'upper: most deaths followed a peak near 27 °C; lower figure placeholder',
        }),
      ),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(50),
      oxygenMgL: ofAirSaturation({ airMgL: 7.573, temperatureC: 20, salinity: 31, limitPct: 50 }),
      substrate: { need: 'needed', standing: 'practice' },
      durationD: mixed(60, 'practice', 160, 'practice', {
        source: 'ACQUA19',
        note: 'the study ran 140 days (confirmed)',
      }),
    },
  },
} as const satisfies SpeciesGroup;
