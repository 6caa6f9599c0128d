import { calibrateBed } from '../bed/calibration.js';
import { BED_DEFAULTS } from '../bed/defaults.js';
import { DIFFUSIVITY_RANGES, oxygenDiffusivity } from '../bed/diffusivity.js';
import { forecastThinning, type Thinning } from '../bed/forecast.js';
import { daysUntilLoad, LOAD_RANGES, loadAfterCleaningMmolCM2, loadAfterMmolCM2 } from '../bed/load.js';
import { oxygenPenetration, poreOxygenMinutes } from '../bed/penetration.js';
import { POROSITY_RANGE, tortuositySquared } from '../bed/tortuosity.js';
import { ok } from '../result.js';
import { exactly } from '../statistics/interval.js';
import { BED_OPTIONS, bedNow, transport } from './bed-now.js';
import type { Calculation } from './calculation.js';
import { assumed, choice, define, needed } from './define.js';

const LAYER =
  'oxygen demand constant with depth (Bouldin 1968, from memory), diffusivity Boudreau 1997, tortuosity Boudreau 1996';
const LEAST_CERTAIN = `${LAYER}; an estimate that can be 3 to 10 times off until the bed is calibrated by a sight of the layer`;
const LOAD = 'first-order decay; rate for mussel deposits, Giles and Pilditch 2006 (abstract)';

const thinningWords = (thinning: Thinning | undefined): string | number | undefined => {
  if (thinning === undefined) return undefined;
  if (thinning.kind === 'reaches') return thinning.hours;
  return thinning.kind;
};

/** The oxygenated layer of a bed of sand. */
export const BED_CALCULATIONS: readonly Calculation[] = [
  define({
    name: 'bed-oxygen-depth',
    purpose: 'Estimated depth to which a bed holds oxygen, with its range, and as a share of the same bed clean.',
    options: [...BED_OPTIONS, transport],
    gives: {
      lowMm: ['from', 'mm'],
      midMm: ['likely', 'mm'],
      highMm: ['to', 'mm'],
      shareOfClean: ['of the depth when clean', '1'],
      flags: ['to be kept in mind', ''],
    },
    digits: 2,
    source: LEAST_CERTAIN,
    run: ({ transport: atTransport, ...values }) => {
      const now = bedNow(values, atTransport);
      if (!now.ok) return now;
      const answer = oxygenPenetration(now.value);
      if (!answer.ok) return answer;
      const { depthMm, shareOfClean, flags } = answer.value;
      const midMm = answer.value.kind === 'calibrated' ? answer.value.depthMm.mid : undefined;
      const uncalibrated = answer.value.kind === 'uncalibrated' ? [answer.value.why] : [];
      return ok({ lowMm: depthMm.low, midMm, highMm: depthMm.high, shareOfClean, flags: [...uncalibrated, ...flags] });
    },
  }),
  define({
    name: 'bed-transport',
    purpose: 'Calibrates a bed from a sight of its layer: how much more than still diffusion moves oxygen in it.',
    options: [
      ...BED_OPTIONS,
      needed('seenDepthMm', 'mm', [0.1, 2000]),
      choice('seenAs', ['core', 'black-edge'], 'core'),
    ],
    gives: { transport: ['transport', '1'], doubts: ['to be kept in mind', ''] },
    source: LAYER,
    run: ({ seenDepthMm, seenAs, ...values }) => {
      const now = bedNow(values);
      if (!now.ok) return now;
      const sight = { kind: seenAs, depthMm: seenDepthMm, atMs: 0 };
      const answer = calibrateBed({ bed: now.value.bed, water: now.value.water, sight });
      return answer.ok ? ok({ transport: answer.value.transport, doubts: answer.value.doubts }) : answer;
    },
  }),
  define({
    name: 'bed-thinning',
    purpose: 'Hours until the oxygenated layer is thinner than a depth, by falling oxygen or growing waste.',
    options: [
      ...BED_OPTIONS,
      transport,
      needed('limitDepthMm', 'mm', [0.01, 2000]),
      assumed('slopeMgLPerH', 'mg/L/h', [-10_000, 10_000], 0),
    ],
    gives: { soonestHours: ['soonest', 'h'], likelyHours: ['likely', 'h'], latestHours: ['latest', 'h'] },
    digits: 2,
    source: LEAST_CERTAIN,
    run: ({ transport: atTransport, limitDepthMm, slopeMgLPerH, ...values }) => {
      const now = bedNow(values, atTransport);
      if (!now.ok) return now;
      const course = { kind: 'slope', slopeMgLPerH: exactly(slopeMgLPerH) } as const;
      const answer = forecastThinning({ ...now.value, limitDepthMm, course });
      if (!answer.ok) return answer;
      return ok({
        soonestHours: thinningWords(answer.value.soonest),
        likelyHours: thinningWords(answer.value.kind === 'calibrated' ? answer.value.likely : undefined),
        latestHours: thinningWords(answer.value.latest),
      });
    },
  }),
  define({
    name: 'bed-pore-oxygen',
    purpose: 'How long the oxygen in the pores lasts when the pump through the bed stops.',
    options: [...BED_OPTIONS, transport],
    gives: { lowMin: ['from', 'min'], highMin: ['to', 'min'] },
    digits: 2,
    source: LEAST_CERTAIN,
    run: ({ transport: atTransport, ...values }) => {
      const now = bedNow(values, atTransport);
      if (!now.ok) return now;
      const answer = poreOxygenMinutes(now.value);
      // A quicker bed uses its pores sooner: the ends may come the other way round.
      return answer.ok
        ? ok({
            lowMin: Math.min(answer.value.low, answer.value.high),
            highMin: Math.max(answer.value.low, answer.value.high),
          })
        : answer;
    },
  }),
  define({
    name: 'bed-load',
    purpose: 'Organic waste on a bed some days after cleaning.',
    options: [
      assumed('loadMmolCM2', 'mmol C/m2', LOAD_RANGES.loadMmolCM2, 0),
      needed('supplyMmolCM2Day', 'mmol C/m2/day', LOAD_RANGES.supplyMmolCM2Day),
      assumed('decayPerDay', '1/day', LOAD_RANGES.decayPerDay, BED_DEFAULTS.decayPerDay20.value),
      needed('days', 'days', LOAD_RANGES.days),
    ],
    gives: 'mmol C/m2',
    source: LOAD,
    run: loadAfterMmolCM2,
  }),
  define({
    name: 'bed-load-days',
    purpose: 'Days until the waste on a bed has grown to an amount.',
    options: [
      assumed('loadMmolCM2', 'mmol C/m2', LOAD_RANGES.loadMmolCM2, 0),
      needed('supplyMmolCM2Day', 'mmol C/m2/day', LOAD_RANGES.supplyMmolCM2Day),
      assumed('decayPerDay', '1/day', LOAD_RANGES.decayPerDay, BED_DEFAULTS.decayPerDay20.value),
      needed('criticalMmolCM2', 'mmol C/m2', LOAD_RANGES.criticalMmolCM2),
    ],
    gives: { reached: ['reached at all', ''], days: ['after', 'days'] },
    source: LOAD,
    run: (values) => {
      const answer = daysUntilLoad(values);
      if (!answer.ok) return answer;
      return ok(answer.value.kind === 'never' ? { reached: false } : { reached: true, days: answer.value.days });
    },
  }),
  define({
    name: 'bed-load-after-cleaning',
    purpose: 'Organic waste that a cleaning leaves on a bed.',
    options: [
      needed('loadMmolCM2', 'mmol C/m2', LOAD_RANGES.loadMmolCM2),
      needed('removedShare', '1', LOAD_RANGES.removedShare),
    ],
    gives: 'mmol C/m2',
    source: 'arithmetic',
    run: loadAfterCleaningMmolCM2,
  }),
  define({
    name: 'oxygen-diffusivity',
    purpose: 'Diffusivity of oxygen in seawater.',
    options: [
      needed('temperatureC', '°C', DIFFUSIVITY_RANGES.temperatureC),
      needed('salinity', '1', DIFFUSIVITY_RANGES.salinity),
    ],
    gives: { m2PerS: ['diffusivity', 'm2/s'], beyondFit: ['warmer than it was fitted for', ''] },
    source: 'Boudreau 1997',
    run: oxygenDiffusivity,
  }),
  define({
    name: 'tortuosity-squared',
    purpose: 'How much longer the way through the pores of a bed is, squared.',
    options: [needed('porosity', '1', POROSITY_RANGE)],
    gives: '1',
    source: 'Boudreau 1996',
    run: tortuositySquared,
  }),
];
