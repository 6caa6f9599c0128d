import type { ByQuantity, Quantity } from '../quantity.js';
import type { Span } from './flag.js';
import type { OffReason, QualitySettings } from './settings.js';
import type { SpikeLines } from './spike.js';

/*
 * Starting lines for a probe that nobody has set yet, in canonical units. None of them is a published figure. Standing:
 *   practice     common practice among people who keep such records, no source
 *   data sheet   what common probes of the kind are said to measure, from memory; the probe's own sheet goes before it
 *   placeholder  chosen so that ordinary water passes; the hatchery should set its own
 * Spans reach a little below zero where a small offset of the calibration reads below zero in air or without oxygen:
 * the worst water must not be called a broken probe.
 */
type Start = {
  readonly resolution: number;
  readonly sensorSpan: Span;
  readonly userSpan?: Span;
  readonly faultValues?: readonly number[];
  /** Water cannot fall from here to exactly nothing within three periods: placeholder. */
  readonly deadFrom?: number;
  readonly spike: SpikeLines | OffReason;
  readonly ratePerHour: number | OffReason;
  readonly flatHours: { readonly suspect: number; readonly fail: number } | OffReason;
};

/** Conductance in air is zero and in any sea below 100 mS/cm: data sheet. Lines: placeholder. */
const CONDUCTANCE: Start = {
  resolution: 0.1,
  sensorSpan: [-1, 100],
  userSpan: [-0.5, 75],
  spike: { suspect: 2, fail: 5 },
  ratePerHour: 20,
  // Still water of one temperature has one conductivity for many hours: practice.
  flatHours: { suspect: 24, fail: 48 },
};

const START: ByQuantity<Start> = {
  temperature: {
    resolution: 0.1,
    // Narrower than the probe: water in a tank is neither frozen through nor near boiling. Placeholder.
    sensorSpan: [-5, 80],
    userSpan: [-2, 45],
    // Power-on value and read failure of the common one-wire digital thermometer: from memory.
    faultValues: [85, -127],
    deadFrom: 4,
    spike: { suspect: 1, fail: 3 },
    ratePerHour: 10,
    // A well-kept tank read to 0.1 °C is honestly flat for hours: practice asks for six or more before it fails.
    flatHours: { suspect: 6, fail: 12 },
  },
  conductivity: CONDUCTANCE,
  'specific-conductance': CONDUCTANCE,
  salinity: {
    resolution: 0.1,
    sensorSpan: [-1, 100],
    // PSS-78 ends at 42; brine beyond it is suspect, not impossible.
    userSpan: [-0.5, 42],
    spike: { suspect: 1, fail: 3 },
    ratePerHour: 15,
    flatHours: { suspect: 24, fail: 48 },
  },
  'oxygen-mg-l': {
    resolution: 0.1,
    sensorSpan: [-0.5, 50],
    userSpan: [-0.2, 25],
    deadFrom: 2,
    spike: { suspect: 1, fail: 2 },
    ratePerHour: 20,
    flatHours: { suspect: 6, fail: 12 },
  },
  'oxygen-saturation': {
    resolution: 0.5,
    sensorSpan: [-5, 500],
    userSpan: [-2, 250],
    deadFrom: 25,
    spike: { suspect: 10, fail: 20 },
    ratePerHour: 150,
    flatHours: { suspect: 6, fail: 12 },
  },
  ph: {
    resolution: 0.01,
    sensorSpan: [0, 14],
    userSpan: [6, 10],
    spike: { suspect: 0.3, fail: 1 },
    ratePerHour: 3,
    flatHours: { suspect: 6, fail: 12 },
  },
  orp: {
    resolution: 1,
    sensorSpan: [-2000, 2000],
    userSpan: [-500, 1000],
    spike: { suspect: 50, fail: 150 },
    ratePerHour: 600,
    flatHours: { suspect: 6, fail: 12 },
  },
  // Pumps and valves step, and a main that holds is flat: practice. Spans of pressure, level and flow: placeholders.
  pressure: {
    resolution: 0.1,
    sensorSpan: [-110, 2000],
    spike: 'steps-are-normal',
    ratePerHour: 'steps-are-normal',
    flatHours: 'honestly-constant',
  },
  level: {
    resolution: 0.001,
    sensorSpan: [-1, 50],
    spike: { suspect: 0.05, fail: 0.2 },
    ratePerHour: 'steps-are-normal',
    flatHours: 'honestly-constant',
  },
  flow: {
    resolution: 0.1,
    sensorSpan: [-100, 100_000],
    spike: 'steps-are-normal',
    ratePerHour: 'steps-are-normal',
    flatHours: 'honestly-constant',
  },
  contact: {
    resolution: 1,
    sensorSpan: [0, 1],
    spike: 'only-two-states',
    ratePerHour: 'only-two-states',
    flatHours: 'only-two-states',
  },
  battery: {
    resolution: 0.01,
    sensorSpan: [0, 100],
    spike: 'steps-are-normal',
    ratePerHour: 'steps-are-normal',
    flatHours: 'honestly-constant',
  },
};

const HOUR_MS = 3_600_000;

/**
 * The starting settings of a probe of this quantity that reads every `periodMs`. The rate looks over at least two
 * minutes or six periods, against a base of at least half of that, so that one step of the resolution stays below it.
 */
export const defaultQualitySettings = (quantity: Quantity, periodMs: number): QualitySettings => {
  const {
    resolution,
    sensorSpan,
    userSpan,
    faultValues = [],
    deadFrom,
    spike,
    ratePerHour,
    flatHours,
  } = START[quantity];
  const windowMs = Math.max(120_000, 6 * periodMs);
  return {
    periodMs,
    resolution,
    sensorSpan,
    userSpan,
    faultValues,
    deadFrom,
    spike: isOff(spike) ? undefined : spike,
    rate: isOff(ratePerHour) ? undefined : { perHour: ratePerHour, windowMs, minBaseMs: windowMs / 2 },
    flat: isOff(flatHours)
      ? undefined
      : { tolerance: 0, suspectMs: flatHours.suspect * HOUR_MS, failMs: flatHours.fail * HOUR_MS },
    off: {
      ...(isOff(spike) ? { spike } : {}),
      ...(isOff(ratePerHour) ? { 'rate-of-change': ratePerHour } : {}),
      ...(isOff(flatHours) ? { 'flat-line': flatHours } : {}),
    },
  };
};

const isOff = <T>(line: T | OffReason): line is OffReason => typeof line === 'string';
