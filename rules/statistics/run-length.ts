import { type Answer, impossible, refusalFor, refuse } from '../answer.js';
import { ok } from '../result.js';
import { type GaussNode, gaussNodes, solve } from './integral.js';
import { normalBelow, normalDensity } from './normal.js';

/**
 * How many samples a chart runs on average before it signals: with no shift, the price in false alarms.
 * For independent normal samples with known sigma only. Readings minutes apart are far from independent:
 * on such a stream the false alarms come many times more often.
 */

const RANGES = {
  slackSigma: [0, 3],
  limitSigma: [0.5, 10],
  shiftSigma: [-10, 10],
  lambda: [0.02, 1],
  width: [0.5, 4],
} as const;

const NODES = 60;

/**
 * Two-sided tabular CUSUM from zero, all in sigmas.
 * Answers for a slack of 0 to 3, a limit of 0.5 to 10, a shift of -10 to 10, and a result up to ten million samples.
 * Source: Page's integral equation; the two sides by 1/L = 1/L+ + 1/L-.
 * Check: slack 0.5, limit 4: 168 samples without shift, 8.38 at a shift of 1 (Lucas and Crosier 1982).
 */
export const cusumRunLength = (given: {
  readonly slackSigma: number;
  readonly limitSigma: number;
  readonly shiftSigma: number;
}): Answer => {
  const refusal = refusalFor(given, RANGES);
  if (refusal !== undefined) return refuse(refusal);
  const { slackSigma, limitSigma, shiftSigma } = given;
  const sides = [shiftSigma, -shiftSigma].map((shift) => oneSided(slackSigma - shift, limitSigma));
  return asRunLength(1 / sides.reduce((sum, length) => sum + 1 / length, 0));
};

/** L(z) = 1 + L(0) P(x <= k - z) + integral of L(y) density(y + k - z) over 0 to h; k already less the shift. */
const oneSided = (slack: number, limit: number): number => {
  const nodes = gaussNodes(NODES, 0, limit);
  const from = [{ at: 0, weight: 0 }, ...nodes];
  const matrix = from.map((row, i) =>
    from.map((column, j) => {
      const flow = j === 0 ? normalBelow(slack - row.at) : column.weight * normalDensity(column.at + slack - row.at);
      return (i === j ? 1 : 0) - flow;
    }),
  );
  return solve(matrix)[0] ?? 0;
};

/**
 * Two-sided EWMA with steady limits, from the centre.
 * Answers for lambda 0.02 to 1, a width of 0.5 to 4, a shift of -10 to 10 sigmas, and up to ten million samples.
 * Source: the integral equation of the chart (Crowder's form).
 * Check: lambda 0.5, width 3.071: 500 samples without shift, 17.5 at a shift of 1 (Lucas and Saccucci 1990).
 */
export const ewmaRunLength = (given: {
  readonly lambda: number;
  readonly width: number;
  readonly shiftSigma: number;
}): Answer => {
  const refusal = refusalFor(given, RANGES);
  if (refusal !== undefined) return refuse(refusal);
  const { lambda, width, shiftSigma } = given;
  const reach = width * Math.sqrt(lambda / (2 - lambda));
  const nodes = gaussNodes(NODES, -reach, reach);
  const flow = (from: number, { at, weight }: GaussNode): number =>
    (weight / lambda) * normalDensity((at - (1 - lambda) * from) / lambda - shiftSigma);
  const lengths = solve(nodes.map((row, i) => nodes.map((column, j) => (i === j ? 1 : 0) - flow(row.at, column))));
  return asRunLength(1 + nodes.reduce((sum, node, i) => sum + flow(0, node) * (lengths[i] ?? 0), 0));
};

/** Beyond ten million samples the equations are too near to singular for the digits to be believed. */
const asRunLength = (length: number): Answer =>
  length >= 1 && length <= 1e7 ? ok(length) : impossible('run-length-too-long');
