import type { Place } from '../../../rules/place.js';
import { larvae, NIGHT_MS, site, WATER } from '../../support/watch.js';
import { northLine, one, type Scenario, supply } from './scenario.js';

/** °C an hour that 1 kW makes in 500 L: 1 × 3600 / (500 × 1.023 × 3.99) = 1.76. */
const FULL_C_PER_H = 1.76;

const bedded: Partial<Place> = {
  stage: 'conditioning',
  regime: 'flow-through',
  bed: { kind: 'sand', depthM: 0.1, throughFlowLM2H: 40 },
};

/** Trouble with water, supply and animals. */
export const OF_WATER: readonly Scenario[] = [
  {
    code: 'heater-stuck-on',
    subject: 'l1.temperature',
    settings: one(),
    calm: 180,
    trouble: { minutes: 75, courses: { 'l1.temperature': (minute) => 24 + (FULL_C_PER_H * minute) / 60 } },
    mended: { minutes: 40, courses: { 'l1.temperature': (minute) => 26.2 - minute / 40 } },
    eye: 'l1.temperature',
  },
  {
    code: 'heading-for-ceiling',
    subject: 'l1.temperature',
    settings: site([larvae('l1', { heaterW: 0 })], { l1: { probes: WATER } }),
    calm: 180,
    trouble: { minutes: 45, courses: { 'l1.temperature': (minute) => 24 + minute * 0.1 } },
    mended: { minutes: 40, courses: { 'l1.temperature': 25 } },
    eye: 'l1.temperature',
  },
  {
    code: 'heat-lost',
    subject: 'l1.temperature',
    settings: one(),
    calm: 180,
    trouble: { minutes: 150, courses: { 'l1.temperature': (minute) => 17 + 7 * Math.exp(-minute / 600) } },
    mended: { minutes: 90, courses: { 'l1.temperature': 24 } },
    eye: 'l1.temperature',
  },
  {
    code: 'cooling-lost',
    subject: 'l1.temperature',
    settings: one({ heaterW: 0, chilled: true }),
    calm: 180,
    trouble: { minutes: 150, courses: { 'l1.temperature': (minute) => 32 - 8 * Math.exp(-minute / 600) } },
    mended: { minutes: 90, courses: { 'l1.temperature': 24 } },
    eye: 'l1.temperature',
  },
  {
    code: 'oxygen-falling',
    subject: 'l1.oxygen-mg-l',
    settings: one(),
    calm: 120,
    trouble: { minutes: 50, courses: { 'l1.oxygen-mg-l': (minute) => 6.8 - (1.4 * minute) / 60 } },
    mended: { minutes: 60, courses: { 'l1.oxygen-mg-l': 6.7 } },
    eye: 'l1.oxygen-mg-l',
  },
  {
    code: 'air-lost',
    subject: 'air-a',
    settings: northLine,
    calm: 120,
    trouble: {
      minutes: 50,
      courses: Object.fromEntries(
        ['s1', 's2', 's3'].map((id, index) => [
          `${id}.oxygen-mg-l`,
          (minute: number) => 6.8 - ((1.2 + index / 4) * minute) / 60,
        ]),
      ),
    },
    mended: { minutes: 60, courses: {} },
    eye: 's1.oxygen-mg-l',
  },
  {
    code: 'line-moved-together',
    subject: 'north',
    settings: northLine,
    calm: 120,
    trouble: {
      minutes: 50,
      courses: Object.fromEntries(
        ['s1', 's2', 's3'].map((id) => [`${id}.salinity`, (minute: number) => 31 - minute * 0.06]),
      ),
    },
    mended: { minutes: 60, courses: {} },
  },
  {
    code: 'salinity-shift',
    subject: 'l1.salinity',
    settings: one(),
    calm: 120,
    trouble: {
      minutes: 20,
      courses: { 'l1.salinity': (minute) => 31 - 0.25 * minute, 'l1.temperature': (minute) => 24 - 0.1 * minute },
    },
    mended: { minutes: 90, courses: { 'l1.salinity': 31 } },
    eye: 'l1.salinity',
  },
  {
    code: 'too-fast',
    subject: 'l1.temperature',
    settings: one({ stage: 'ripe', heaterW: 0 }),
    calm: 120,
    trouble: { minutes: 60, courses: { 'l1.temperature': (minute) => 24 - minute * 0.025 } },
    mended: { minutes: 120, courses: { 'l1.temperature': 22.5 } },
    eye: 'l1.temperature',
  },
  {
    code: 'flow-lost',
    subject: 'l1.flow',
    settings: one({ regime: 'flow-through', flowLMin: 6, stage: 'nursery' }, [...WATER, 'flow']),
    calm: 30,
    trouble: { minutes: 10, courses: { 'l1.flow': 0.1 } },
    mended: { minutes: 10, courses: {} },
    eye: 'l1.flow',
  },
  {
    code: 'mains-lost',
    subject: 'circuit-1',
    settings: site([supply('circuit-1', 'circuit'), larvae('l1', { circuitId: 'circuit-1' })], {
      'circuit-1': { probes: ['contact'] },
      l1: { probes: WATER },
    }),
    calm: 10,
    trouble: { minutes: 5, courses: { 'circuit-1.contact': 0 } },
    mended: { minutes: 5, courses: {} },
  },
  {
    code: 'wet-floor',
    subject: 'l1.contact.wet-floor',
    settings: one({}, [...WATER, 'contact.wet-floor']),
    calm: 10,
    quiet: { 'l1.contact.wet-floor': 0 },
    trouble: { minutes: 5, courses: {} },
    mended: { minutes: 5, courses: { 'l1.contact.wet-floor': 0 } },
  },
  {
    code: 'level-falling',
    subject: 'l1',
    settings: one({ depthM: 0.9 }, [...WATER, 'level']),
    calm: 120,
    trouble: { minutes: 20, courses: { 'l1.level': (minute) => 0.9 - 0.01 * minute } },
    mended: { minutes: 20, courses: {} },
    eye: 'l1.level',
  },
  {
    code: 'probe-in-air',
    subject: 'l1',
    settings: one(),
    calm: 30,
    trouble: { minutes: 8, courses: { 'l1.salinity': 0.1, 'l1.oxygen-mg-l': 8.2 } },
    mended: { minutes: 10, courses: {} },
    eye: 'l1.salinity',
  },
  {
    code: 'bed-anoxia',
    subject: 'l1',
    settings: one(bedded, [...WATER, 'flow.bed']),
    calm: 60,
    trouble: { minutes: 45, courses: { 'l1.flow.bed': 0 } },
    mended: { minutes: 60, courses: {} },
    eye: 'l1.flow.bed',
  },
  {
    code: 'off-schedule',
    subject: 'l1.temperature',
    settings: one({
      heaterW: 0,
      wants: {
        temperature: {
          limitLow: 15,
          limitHigh: 28,
          confirmed: true,
          course: {
            kind: 'schedule',
            within: 0.7,
            points: [
              { atMs: NIGHT_MS - 24 * 3_600_000, target: 23 },
              { atMs: NIGHT_MS + 24 * 3_600_000, target: 25 },
            ],
          },
        },
      },
    }),
    calm: 60,
    trouble: { minutes: 90, courses: { 'l1.temperature': (minute) => 24 - Math.min(1, minute / 30) } },
    mended: { minutes: 60, courses: { 'l1.temperature': 24 } },
    eye: 'l1.temperature',
  },
];
