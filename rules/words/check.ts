import { type ByLanguage, filled, inLanguage, type Reader } from './language.js';
import { rateWords } from './number.js';

/**
 * What to look at first, as codes in findings and as sentences here. Where hands, water and mains meet, the caution is
 * in the sentence itself, because at three in the morning nobody opens a second page.
 */
export const CHECK_CODES = [
  'heater-off-at-wall',
  'heater-supply',
  'chiller-running',
  'air-running',
  'blower-running',
  'spare-air',
  'stir-gently',
  'flow-running',
  'flow-up',
  'cool-slowly-sealed-ice',
  'warm-slowly',
  'room-and-lid',
  'header-temperature',
  'hand-thermometer',
  'hand-salinity',
  'hand-oxygen',
  'hand-reading',
  'top-up-slowly',
  'intake-rain',
  'fresh-water-valve',
  'probe-bubble',
  'probe-cable',
  'probe-back',
  'degas',
  'bed-smell',
  'leak-or-standpipe',
  'drain-or-screen',
  'look-at-tank',
  'supply-line',
  'board-power',
  'board-network',
  'set-clock',
  'change-battery',
  'mains-and-standby',
  'work-finished',
  'look-for-person',
  'wrong-tank',
  'close-intake',
  'shut-hot-supply',
  'header-level',
  'second-probe',
  'clean-bed',
  'bed-pump',
  'after-cut',
  'do-or-log',
  'schedule-still-wanted',
] as const;
export type CheckCode = (typeof CHECK_CODES)[number];

const SENTENCES: ByLanguage<{ readonly [code in CheckCode]: string }> = {
  en: {
    'heater-off-at-wall': 'Heater off at the wall before you touch the water',
    'heater-supply': 'Heater: has it power, is it warm? Off at the wall before you touch it',
    'chiller-running': 'Is the chiller running, and its pump?',
    'air-running': 'Bubbles from every stone?',
    'blower-running': 'Is the blower running? Listen before you touch',
    'spare-air': 'Start the spare air; keep plugs above the splash',
    'stir-gently': 'Stir gently: the bottom may be worse than the top',
    'flow-running': 'Is water flowing in? A valve may have been left shut',
    'flow-up': 'Open the flow a little: cool slowly, at most {rate}',
    'cool-slowly-sealed-ice': 'Float sealed ice: cool slowly, at most {rate}',
    'warm-slowly': 'Warm slowly, at most {rate}',
    'room-and-lid': 'Lid and room: is the air itself too warm or too cold?',
    'header-temperature': 'Is the header too warm or too cold as well?',
    'hand-thermometer': 'Measure with a glass thermometer before you change more',
    'hand-salinity': 'Measure salinity by hand first',
    'hand-oxygen': 'Measure oxygen by hand',
    'hand-reading': 'Measure by hand: until then nobody knows',
    'top-up-slowly': 'Water evaporated? Top up with fresh water, slowly',
    'intake-rain': 'Rain or melt at the intake? Compare the intake with the tank',
    'fresh-water-valve': 'Is a fresh-water valve or hose open?',
    'probe-bubble': 'A bubble or a film on the probe? Wipe it, wait two minutes',
    'probe-cable': 'Plug and cable of the probe: dry, in place?',
    'probe-back': 'Is the probe back in the water?',
    degas: 'Warmed water may hold too much gas: more air, let it run over a plate',
    'bed-smell': 'Smell the bed: foul sand takes the oxygen',
    'leak-or-standpipe': 'Leak, or the standpipe out? Water on the floor: cut the power first',
    'drain-or-screen': 'Drain or screen blocked?',
    'look-at-tank': 'Look at the tank itself',
    'supply-line': 'It is the whole line: look at its header and supply before any one tank',
    'board-power': 'Has the board power? Its lamp, its plug, its fuse',
    'board-network': 'Has the board network? Do others near it speak?',
    'set-clock': 'Set the clock of the board, or let it fetch the time',
    'change-battery': 'Change the battery',
    'mains-and-standby': 'Mains off? Does the standby run? Fixed wiring only by a licensed electrician',
    'look-for-person': 'Call the person who works there alone. No answer: go and look, not alone, and call for help',
    'work-finished': 'Is the work finished? Say so, or give it more time',
    'wrong-tank': 'Was the right tank drained?',
    'close-intake': 'Close the intake if it is fresher than the animals can stand',
    'shut-hot-supply': 'Shut the hot supply now; mains off at the wall before hands in the water',
    'header-level': 'Is the header full, and its pump running?',
    'second-probe': 'Put both probes into one bucket and compare',
    'clean-bed': 'Clean the bed: animals out, full flow; a black bed gives off sulphide',
    'bed-pump': 'Is the pump through the bed running?',
    'after-cut': 'After a cut: air, flow, heaters, chillers, lights, clocks: is each one back?',
    'do-or-log': 'Do it, or write down that it was done',
    'schedule-still-wanted': 'Is the plan still the one you want?',
  },
};

const CAUTIONS: ByLanguage<{
  readonly water: string;
  readonly alone: string;
  readonly law: string;
  readonly second: string;
}> = {
  en: {
    water: 'Do not reach into water that tingles. Cut the power first.',
    alone: 'Going alone at night? Tell someone where, and when you will be back.',
    law: 'Your local rules, your licence, your vet and the maker of each device come before this screen.',
    second: 'Keep a second way of being woken that does not need this program.',
  },
};

/** As fast as any animal here is cooled or warmed on purpose. */
const GENTLE_C_PER_H = 2;
type Counting = Partial<Pick<Reader, 'temperatureUnit' | 'decimalMark' | 'language'>>;
type Spoken = Pick<Reader, 'language'>;

export const isCheckCode = (text: string): text is CheckCode => CHECK_CODES.some((code) => code === text);

/** What to check, as a sentence; a code that is not known here is said as it is spelt, never swallowed. */
export const checkSentence = (code: string, reader: Counting = {}): string =>
  isCheckCode(code)
    ? filled(inLanguage(SENTENCES, reader)[code], {
        rate: rateWords('temperature', GENTLE_C_PER_H, { temperatureUnit: 'C', ...reader }),
      })
    : code.replaceAll('-', ' ');

/** The usual cautions, to stand under every list of checks. They defer to local rules and licensed practice. */
export const cautions = (reader: Spoken = {}) => inLanguage(CAUTIONS, reader);
