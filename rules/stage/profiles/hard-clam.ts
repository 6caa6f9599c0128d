import { aerated, band, figure, ofAirSaturation, span } from '../figure.js';
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
  span(26, 32, 'memory', { source: 'CD70' }),
  span(20, 35, 'memory', { source: 'CD70', note: 'adults grow at 4-35 with best 24-28 (EVERSOLE87, confirmed)' }),
);

const SALINITY_EMBRYO_LARVA_SETTING = band(
  span(25, 30, 'memory', { source: 'LD63', note: 'larval optimum recalled as about 26.5-27.5' }),
  span(20, 33, 'memory', { source: 'LD63', note: 'embryos recalled as developing normally from about 20 to 32.5' }),
);

export const HARD_CLAM = {
  id: 'hard-clam',
  name: 'Hard clam (quahog)',
  scientificNames: ['Mercenaria mercenaria'],
  note: 'Best-documented clam of the western Atlantic.',
  stages: {
    conditioning: {
      ...COMMON_CONDITIONING,
      temperatureC: band(
        span(18, 22, 'memory', { source: 'LD63' }),
        span(14, 25, 'placeholder', { note: 'above about 23 °C they may spill gametes without warning' }),
      ),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(50),
      oxygenMgL: ofAirSaturation({ airMgL: 7.617, temperatureC: 20, salinity: 30, limitPct: 50 }),
      durationD: span(14, 56, 'memory', { source: 'LD63' }),
      adultFiltrationLPerH: span(7, 8, 'confirmed', { source: 'SRAC4301' }),
    },
    spawning: {
      ...COMMON_SPAWNING,
      temperatureC: band(
        span(20, 30, 'memory', { source: 'SRAC4301' }),
        span(18, 32, 'placeholder'),
        figure(32, 'placeholder', {
          note: 'a stop set well below the 40-41 °C that straight-hinge larvae stood for over 2 h (WRIGHT83, confirmed): adults and gametes were not tested so',
        }),
      ),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(50),
      oxygenMgL: ofAirSaturation({ airMgL: 6.624, temperatureC: 28, salinity: 30, limitPct: 50 }),
      thermalCycle: {
        ambientC: span(18, 22, 'memory', { source: 'LD63' }),
        coolC: span(20, 23, 'practice'),
        peakC: span(26, 30, 'memory', {
          source: 'SRAC4301',
          note: '26 °C given as the optimum for spawning (SRAC433, confirmed); natural spawning recorded at 16-30 °C (EVERSOLE87, confirmed)',
        }),
        riseC: span(5, 10, 'practice'),
        rampMin: RAMP_MIN,
        holdMin: HOLD_MIN,
        cyclesMax: CYCLES_MAX,
      },
    },
    embryo: {
      ...COMMON_EMBRYO,
      temperatureC: band(
        span(24, 28, 'memory', { source: 'LD63' }),
        span(20, 30, 'placeholder', {
          note: 'cold shock is real: embryos died more at temperatures below the one they were spawned at (WRIGHT83, confirmed)',
        }),
      ),
      salinity: SALINITY_EMBRYO_LARVA_SETTING,
      oxygenSaturationPct: aerated(60, { source: 'MORRISON71' }, 'memory'),
      oxygenMgL: ofAirSaturation({ airMgL: 6.927, temperatureC: 26, salinity: 28, limitPct: 60 }),
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
      durationD: span(1, 2, 'memory', { source: 'LD63' }),
    },
    larva: {
      ...COMMON_LARVA,
      temperatureC: band(
        span(24, 27, 'memory', {
          source: 'LD63',
          note: 'larvae survived and grew better at 24 than at 28 °C (TALMAGE11, confirmed)',
        }),
        span(20, 30, 'memory', { source: 'LD63' }),
      ),
      salinity: SALINITY_EMBRYO_LARVA_SETTING,
      oxygenSaturationPct: aerated(
        60,
        { source: 'MORRISON71', note: 'growth recalled as normal at 4.2 mg/L and poor at 2.4' },
        'memory',
      ),
      oxygenMgL: ofAirSaturation({ airMgL: 7.047, temperatureC: 25, salinity: 28, limitPct: 60 }),
      algaeCellsMl: band(
        span(10_000, 100_000, 'confirmed', { source: 'PILLAY', note: 'given as cells per mL per day' }),
        span(10_000, 150_000, 'placeholder', {
          note: 'above the upper figure ungrazed algae foul the tank; below the lower the larvae starve',
        }),
      ),
      stocking: {
        earlyLarvaePerMl: band(span(1, 15, 'confirmed', { source: 'PILLAY' }), span(undefined, 20, 'placeholder')),
        lateLarvaePerMl: band(span(1, 5, 'practice'), span(undefined, 10, 'placeholder')),
      },
      durationD: span(7, 21, 'confirmed', { source: 'SRAC4301', note: '6-8 days at about 25 °C (PILLAY, confirmed)' }),
      settleLengthUm: span(210, 230, 'confirmed', { source: 'FAO471', where: '5.1.5' }),
      survivalPctToMetamorphosis: span(50, 70, 'confirmed', {
        source: 'FAO471',
        where: '5.1.5',
        note: 'for clams and oysters on average, culls included',
      }),
    },
    setting: {
      ...COMMON_SETTING,
      temperatureC: band(span(22, 27, 'practice'), span(18, 30, 'placeholder')),
      salinity: SALINITY_EMBRYO_LARVA_SETTING,
      oxygenSaturationPct: aerated(60, {
        note: 'hypoxia raised early-stage deaths by about 30 % (GOBLER14, confirmed)',
      }),
      oxygenMgL: ofAirSaturation({ airMgL: 7.047, temperatureC: 25, salinity: 28, limitPct: 60 }),
      substrate: {
        need: 'optional',
        grainUm: [150, 300],
        standing: 'practice',
        note: 'many set them on bare 120-180 µm mesh',
      },
      durationD: span(3, 7, 'practice'),
    },
    'post-set': {
      ...COMMON_POST_SET,
      temperatureC: band(span(20, 27, 'practice'), span(15, 30, 'placeholder')),
      salinity: SALINITY,
      oxygenSaturationPct: aerated(50),
      oxygenMgL: ofAirSaturation({ airMgL: 7.089, temperatureC: 24, salinity: 30, limitPct: 50 }),
      substrate: { need: 'none', standing: 'practice' },
      durationD: span(30, 60, 'memory', { source: 'SRAC4301' }),
    },
    nursery: {
      ...COMMON_NURSERY,
      temperatureC: band(
        span(18, 27, 'practice'),
        span(9, 31, 'confirmed', { source: 'EVERSOLE87', note: 'range in which hard clams grow' }),
      ),
      salinity: band(
        span(24, 28, 'confirmed', { source: 'EVERSOLE87', note: 'best for adult growth' }),
        span(18, 36, 'memory', { source: 'SRAC433' }),
      ),
      oxygenSaturationPct: aerated(50),
      oxygenMgL: ofAirSaturation({ airMgL: 7.047, temperatureC: 25, salinity: 28, limitPct: 50 }),
      substrate: {
        need: 'later',
        grainUm: [300, 2000],
        standing: 'practice',
        note: 'sand raceway from about 4 mm, or upweller to 6-10 mm',
      },
      durationD: span(60, 180, 'practice'),
    },
  },
} as const satisfies SpeciesGroup;
