/** Parameters of a refusal: see `impossible` in rules/answer.ts. */
type Parameters = Readonly<Record<string, number | string>>;

/** More than any of these is known to. */
export const WATER_DIGITS = 4;

/** The sentences for what the oxygen budget, the bed and the statistics call impossible; merged by refusal.ts. */
export const WATER_REFUSALS: Readonly<Record<string, (p: Parameters) => string>> = {
  'interval-out-of-order': (p) =>
    `The range of ${p.what} is out of order: from ${said(p.low)} by ${said(p.mid)} to ${said(p.high)}.`,
  'too-few-readings': (p) => `There are ${said(p.have)} readings; at least ${said(p.need)} are needed.`,
  'all-at-one-time': () => 'All readings are at one time: there is no slope between them.',
  'slope-too-steep': () => 'Two readings are so close together that the slope between them is beyond any number.',
  'temperatures-too-close': (p) =>
    `${degrees(p.fromC)} and ${degrees(p.toC)} are too close together to say how the rate changes with temperature.`,
  'survival-not-falling': () =>
    'The two survival times do not fall with temperature as they would have to: look whether they were exchanged.',
  'run-length-too-long': () =>
    'With these settings the chart would run for more than ten million samples before it signals.',
  'no-air-and-no-flow': () => 'Without air and without flow the oxygen does not settle anywhere: it falls.',
  'not-nearing-saturation': (p) =>
    `The oxygen went from ${said(p.firstMgL)} to ${said(p.secondMgL)} mg/L: it has to come nearer to saturation, and not quite reach it.`,
  'no-uptake-seen': () =>
    'The readings show no uptake: light on algae makes oxygen, or the exchange with the air is set too high.',
  'oxygen-below-half-saturation': (p) =>
    `The oxygen was down to ${said(p.lowestMgL)} mg/L, less than half of saturation (${said(p.halfMgL)} mg/L): animals may already breathe less there. Use the readings before it.`,
  'decline-within-resolution': (p) =>
    `The oxygen fell by ${said(p.declineMgL)} mg/L; for this probe it has to fall by ${said(p.neededMgL)} mg/L. Measure for longer.`,
  'uptake-unknown': () =>
    'The uptake of this tank is not known: measure it with the air and the flow off for some minutes.',
  'cleaning-not-logged': () => 'No cleaning of this bed is in the log: the load on it cannot be reckoned.',
  'whole-bed-clear': (p) =>
    `The bed was clear down to its bottom (${said(p.bedDepthMm)} mm): there was no end of the layer to measure.`,
  'layer-not-explained': (p) =>
    `A layer of ${said(p.depthMm)} mm does not fit the oxygen over the bed that day: check the depth, the oxygen and the demand.`,
  'limit-deeper-than-bed': (p) =>
    `A limit of ${said(p.limitDepthMm)} mm is deeper than the bed (${said(p.bedDepthMm)} mm).`,
};

const said = (value: number | string | undefined): string =>
  typeof value === 'number' ? String(Number(value.toPrecision(WATER_DIGITS))) : (value ?? '?');

/** What comes in words has its unit already. */
const degrees = (value: number | string | undefined): string =>
  typeof value === 'number' ? `${said(value)} °C` : (value ?? '?');
