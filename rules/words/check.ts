import { type ByLanguage, inLanguage, type Language } from './language.js';

/**
 * What to look at first, as codes in findings and as sentences here. Where hands, water and mains meet, the caution is
 * in the sentence itself, because at three in the morning nobody opens a second page.
 */
export const CHECK_CODES = [
  'heater-off-at-wall',
  'heater-running',
  'chiller-running',
  'lid-and-room',
  'stir-gently',
  'sealed-ice',
  'cool-water-slowly',
  'warm-water-slowly',
  'air-running',
  'blower-running',
  'start-spare-air',
  'water-flowing',
  'valves-as-left',
  'header-level',
  'tank-level',
  'wet-floor',
  'feeding-flow-off',
  'intake-salinity',
  'close-intake',
  'evaporation',
  'hand-meter',
  'probe-in-water',
  'wipe-probe',
  'probe-cable',
  'board-power',
  'board-network',
  'other-boards',
  'change-battery',
  'set-clock',
  'mains-and-standby',
  'supply-line',
  'work-finished',
  'tell-someone',
] as const;
export type CheckCode = (typeof CHECK_CODES)[number];

const SENTENCES: ByLanguage<{ readonly [code in CheckCode]: string }> = {
  en: {
    'heater-off-at-wall': 'Heater off at the wall before you touch the water',
    'heater-running': 'Is the heater on, and warm? Power off at the wall before you touch it or the water',
    'chiller-running': 'Is the chiller running, and its pump?',
    'lid-and-room': 'Lid, sun, room: is the air itself too warm or too cold?',
    'stir-gently': 'Air running? Stir gently, the top may be warmer than the bottom',
    'sealed-ice': 'Static tank: float sealed ice, at most 2 °C an hour',
    'cool-water-slowly': 'Flowing tank: cool the supply slowly, at most 2 °C an hour',
    'warm-water-slowly': 'Warm slowly, at most 2 °C an hour',
    'air-running': 'Bubbles from every stone?',
    'blower-running': 'Is the blower running? Listen before you touch',
    'start-spare-air': 'Start the spare air; keep plugs and boards above the splash',
    'water-flowing': 'Is water flowing into the tank?',
    'valves-as-left': 'Valves as they should be? Somebody may have left one shut',
    'header-level': 'Is the header full?',
    'tank-level': 'Is the tank as full as it should be? Heater off at the wall before the water goes down',
    'wet-floor': 'Water on the floor? Cut the power first, then look for the crack',
    'feeding-flow-off': 'Was the flow shut for feeding and not opened again?',
    'intake-salinity': 'Rain or melt at the intake? Compare the intake with the tank',
    'close-intake': 'Close the intake if it is fresher than the animals can stand',
    evaporation: 'Has water evaporated? Top up with fresh water, slowly',
    'hand-meter': 'Measure by hand before you change anything',
    'probe-in-water': 'Is the probe in the water, and the tank full?',
    'wipe-probe': 'Wipe the probe and wait two minutes',
    'probe-cable': 'Plug and cable of the probe: dry, in place?',
    'board-power': 'Has the board power? Its lamp, its plug, its fuse',
    'board-network': 'Has the board network?',
    'other-boards': 'Do other boards on the same power or network speak?',
    'change-battery': 'Change the battery',
    'set-clock': 'Set the clock of the board, or let it fetch the time',
    'mains-and-standby': 'Mains and standby: does the standby run? Fixed wiring only by a licensed electrician',
    'supply-line': 'It is the whole line: look at its header and supply before any one tank',
    'work-finished': 'Is the work finished? Say so, or give it more time',
    'tell-someone': 'Going alone: tell someone, and when you will be back',
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

export const isCheckCode = (text: string): text is CheckCode => CHECK_CODES.some((code) => code === text);

/** What to check, as a sentence; a code that is not known here is said as it is spelt, never swallowed. */
export const checkSentence = (code: string, reader: { readonly language?: Language } = {}): string =>
  isCheckCode(code) ? inLanguage(SENTENCES, reader)[code] : code.replaceAll('-', ' ');

/** The usual cautions, to stand under every list of checks. They defer to local rules and licensed practice. */
export const cautions = (reader: { readonly language?: Language } = {}) => inLanguage(CAUTIONS, reader);
