import type { Span } from './flag.js';
import type { FlatSettings } from './flat-run.js';
import type { RateSettings } from './rate-of-change.js';
import type { SpikeLines } from './spike.js';
import type { QualityTest } from './verdict.js';

/**
 * What one probe is judged by, in the canonical unit of its quantity. Undefined is a test that is off; 0 is a line.
 * `off` says why a test is off, where that is known.
 */
export type QualitySettings = {
  readonly periodMs: number;
  /** Smallest step the probe reports. Documents the lines; no test reads it. */
  readonly resolution: number;
  readonly sensorSpan: Span;
  readonly userSpan?: Span | undefined;
  /** Values that the probe or its converter sends instead of a measurement, before any calibration. */
  readonly faultValues: readonly number[];
  /** From this value and above, exactly 0 within three periods is a probe that has died, not water: before any calibration. */
  readonly deadFrom?: number | undefined;
  /** What the recipe of the tank allows now, in place of climatology. */
  readonly recipeBand?: Span | undefined;
  readonly spike?: SpikeLines | undefined;
  readonly rate?: RateSettings | undefined;
  readonly flat?: FlatSettings | undefined;
  readonly off?: Readonly<Partial<Record<QualityTest, OffReason>>> | undefined;
};

/** Why a test is not run; QARTOD asks that this be written down for every test of its groups 2 and 3. */
export type OffReason =
  | 'no-line-set'
  | 'no-recipe'
  | 'only-two-states'
  | 'steps-are-normal'
  | 'honestly-constant'
  | 'declared-work'
  | 'settling-after-work'
  | 'told-elsewhere';

/** The tests that these settings leave out, each with its reason. */
export const testsOff = (settings: QualitySettings): Readonly<Partial<Record<QualityTest, OffReason>>> => ({
  gap: 'told-elsewhere',
  multivariate: 'told-elsewhere',
  neighbour: 'told-elsewhere',
  attenuated: 'no-line-set',
  ...(settings.recipeBand === undefined ? { climatology: settings.off?.climatology ?? 'no-recipe' } : {}),
  ...(settings.spike === undefined ? { spike: settings.off?.spike ?? 'no-line-set' } : {}),
  ...(settings.rate === undefined ? { 'rate-of-change': settings.off?.['rate-of-change'] ?? 'no-line-set' } : {}),
  ...(settings.flat === undefined ? { 'flat-line': settings.off?.['flat-line'] ?? 'no-line-set' } : {}),
});
