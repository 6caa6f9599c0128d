/** Parameters of a refusal: see `impossible` in rules/answer.ts. */
type Parameters = Readonly<Record<string, number | string>>;

/** Enough to tell two counts or two temperatures apart. */
export const HUSBANDRY_DIGITS = 5;

/** The sentences for what the sums of the bench and the spawning plan call impossible; merged by refusal.ts. */
export const HUSBANDRY_REFUSALS: Readonly<Record<string, (p: Parameters) => string>> = {
  'culture-too-thin': (p) =>
    `The culture (${said(p.stockCellsMl)} per mL) is no richer than the target (${said(p.targetCellsMl)} per mL): no amount of it reaches the target.`,
  'work-ends-before-it-begins': () => 'The work would end before it begins.',
  'work-too-long': (p) =>
    `Work of this kind is declared for ${said(p.longestH)} h at most; give it more time when it is up.`,
  'resting-with-stock': () => 'A tank with animals in it cannot rest: nobody would be called for them. Empty it first.',
  'not-a-choice': (p) => `${said(p.value)} cannot be chosen for ${said(p.what)}.`,
  'shares-not-one': (p) => `The shares of the algae add up to ${said(p.shareSum)}; they have to add up to 1.`,
  'nothing-counted': () => 'No count was given.',
  'count-not-whole': (p) => `A count is a whole number; ${said(p.value)} is none (${said(p.what)}).`,
  'count-without-volume': () => 'Counted subsamples need their volume and the volume they were taken from.',
  'interval-beside-count': (p) =>
    `The count of ${said(p.animals)} does not lie between ${said(p.low)} and ${said(p.high)}.`,
  'subsample-exceeds-volume': (p) =>
    `The subsample (${said(p.subsampleMl)} mL) is larger than the volume it was taken from (${said(p.totalVolumeMl)} mL).`,
  'nothing-grazed': () =>
    'The control without animals lost more algae than the tank: no grazing can be told from this.',
  'no-decline': () => 'The second figure is not lower than the first: there is no decline to carry on.',
  'already-past': (p) => `It is at ${said(p.now)}, past ${said(p.line)} already.`,
  'all-removed': (p) =>
    `All ${said(p.startCount)} animals were taken out on purpose (${said(p.removedCount)}): nothing is left to survive.`,
  'more-than-there-were': (p) =>
    `There are more animals at the end (${said(p.endCount)}) than could be left (${said(p.left)}): one of the counts is off.`,
  'none-left': () => 'None is left: survival is 0, and there is no daily rate for that.',
  'more-dead-than-examined': (p) => `${said(p.dead)} dead cannot be among ${said(p.examined)} examined.`,
  'suspension-too-thin': (p) =>
    `The suspension (${said(p.suspensionPerMl)} per mL) is thinner than the density wanted (${said(p.targetPerMl)} per mL).`,
  'sample-exceeds-total': (p) =>
    `The subsample (${said(p.sampleG)} g) weighs more than the whole (${said(p.totalDrainedG)} g).`,
  'stock-too-weak': (p) =>
    `A stock of ${said(p.stockGL)} g/L is no stronger than the dose of ${said(p.targetMgL)} mg/L.`,
  'target-not-between': (p) =>
    `A salinity of ${said(p.targetSalinity)} does not lie between the two waters (${said(p.firstSalinity)} and ${said(p.secondSalinity)}): mixing them cannot reach it.`,
  'volume-grew': (p) =>
    `The volume grew from ${said(p.startVolumeL)} to ${said(p.endVolumeL)} L: that is not evaporation.`,
  'salt-cannot-lower': (p) =>
    `Salt cannot bring the salinity down from ${said(p.salinity)} to ${said(p.targetSalinity)}: add fresher water.`,
  'brine-too-weak': (p) =>
    `Brine of ${said(p.brineGKg)} g/kg is no saltier than the target (${said(p.targetGKg)} g/kg).`,
  'fresher-than-filled': (p) =>
    `The tank is fresher now (${said(p.salinity)}) than when it was filled (${said(p.filledSalinity)}): nothing evaporated, or water was added.`,
  'already-warmer': (p) => `The water is at ${degrees(p.fromC)}, above ${degrees(p.toC)}: there is nothing to heat.`,
  'not-towards-room': (p) =>
    `From ${degrees(p.startC)} to ${degrees(p.laterC)} is not on the way to a room of ${degrees(p.roomC)}: something heats or cools, or a figure is off.`,
  'limit-never-reached': (p) =>
    `Between ${degrees(p.startC)} and a room of ${degrees(p.roomC)} the water never comes to ${degrees(p.limitC)}.`,
  'no-growth': (p) => `There is no growth from ${said(p.first)} to ${said(p.second)}.`,
  'too-fast-to-be-true': () => 'The growth is beyond any number: look at the weights and the days.',
  'one-temperature-only': () => 'At least two different temperatures are needed.',
  'not-sooner-when-warmer': () =>
    'They were not ready sooner in warmer water: no threshold and no degree-days follow from this.',
  'times-not-rising': () => 'The times of the readings have to rise.',
  'window-not-covered': (p) =>
    `The readings do not cover ${said(p.windowMin)} minutes without a longer gap between them.`,
  'nothing-to-compare': () => 'There has to be a tank on the line and a tank elsewhere.',
  'plan-without-contrast': (p) =>
    `The cool phase (${degrees(p.coolC)}) is not below the warm phase (${degrees(p.peakC)}): that is no cycle.`,
  'plan-above-ceiling': (p) =>
    `The plan goes up to ${degrees(p.peakC)}, above the ceiling of ${degrees(p.ceilingC)}. Plan a smaller rise, or say why this run may pass the ceiling.`,
  'argument-too-short': (p) =>
    `The plan goes up to ${degrees(p.peakC)}, above the ceiling of ${degrees(p.ceilingC)}: the reason given needs at least ${said(p.shortest)} characters.`,
};

const said = (value: number | string | undefined): string =>
  typeof value === 'number' ? String(Number(value.toPrecision(HUSBANDRY_DIGITS))) : (value ?? '?');

/** What comes in words has its unit already. */
const degrees = (value: number | string | undefined): string =>
  typeof value === 'number' ? `${said(value)} °C` : (value ?? '?');
