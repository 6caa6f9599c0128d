import { durationWords } from './clock.js';
import { type ByLanguage, filled, inLanguage, type Language } from './language.js';

/** Facts that speak for a finding, as codes in findings and as words here. */
export const EVIDENCE_CODES = [
  'only-this-tank',
  'sisters-moved-too',
  'line-moved-too',
  'heater-power-agrees',
  'heater-current-on',
  'heater-current-off',
  'room-agrees',
  'intake-agrees',
  'air-main-low',
  'flow-off',
  'board-offline',
  'same-board-silent',
  'companion-agrees',
  'companion-disagrees',
  'no-heater-power-known',
  'trace-went-still',
  'off-after-feeding',
  'looks-like-evaporation',
  'looks-like-rain',
  'looks-like-fresh-water',
  'looks-like-probe',
  'header-moved-too',
  'contact-says-so',
  'pressure-low',
  'falling-together',
  'wrong-tank',
  'nobody-on-site',
  'float-low',
  'broker-down',
  'back-again',
  'orp-low',
  'pore-oxygen-low',
  'bed-pump-stopped',
  'layer-thin',
  'not-calibrated',
  'hand-disagrees',
  'hot-supply',
  'lag-taken-out',
  'oxygen-budget',
  'straight-on',
] as const;
export type EvidenceCode = (typeof EVIDENCE_CODES)[number];

const WORDS: ByLanguage<{ readonly [code in EvidenceCode]: string }> = {
  en: {
    'only-this-tank': 'only this tank',
    'sisters-moved-too': 'its neighbours moved too',
    'line-moved-too': 'the whole line moved',
    'heater-power-agrees': 'heater power agrees',
    'heater-current-on': 'the heater draws current',
    'heater-current-off': 'the heater draws no current',
    'room-agrees': 'the room agrees',
    'intake-agrees': 'the intake agrees',
    'air-main-low': 'air main low',
    'flow-off': 'no flow',
    'board-offline': 'its board is offline',
    'same-board-silent': 'everything on its board is silent',
    'companion-agrees': 'a second probe agrees',
    'companion-disagrees': 'a second probe disagrees',
    'no-heater-power-known': 'heater power not known',
    'trace-went-still': 'the trace went still',
    'off-after-feeding': 'the flow was off for feeding not long ago',
    'looks-like-evaporation': 'looks like evaporation',
    'looks-like-rain': 'looks like rain or a fresh intake',
    'looks-like-fresh-water': 'looks like fresh water running in',
    'looks-like-probe': 'looks like a bubble or a film on the probe',
    'header-moved-too': 'its header moved too',
    'contact-says-so': 'its switch says so',
    'pressure-low': 'its pressure is low',
    'falling-together': 'oxygen falls in several of its tanks at once',
    'wrong-tank': 'a neighbour is declared drained: wrong tank?',
    'nobody-on-site': 'nobody is on site',
    'float-low': 'its float is down',
    'broker-down': 'the broker is down',
    'back-again': 'it is back: what it fed may not be',
    'orp-low': 'redox in the bed is low',
    'pore-oxygen-low': 'little oxygen in the water of the bed',
    'bed-pump-stopped': 'the pump through the bed stands',
    'layer-thin': 'its oxygenated layer is thinner than it should be',
    'not-calibrated': 'estimate not calibrated by a look at the layer',
    'hand-disagrees': 'the last measurement by hand disagrees',
    'hot-supply': 'from the temperature of the hot supply',
    'lag-taken-out': 'the lag of the probe taken out',
    'oxygen-budget': 'from the oxygen budget',
    'straight-on': 'if it goes on like this',
  },
};

/** Facts that say how far it reaches: told even where there is room for one fact only. */
export const SCOPE_CODES: readonly string[] = ['only-this-tank', 'sisters-moved-too', 'line-moved-too'];

const isEvidenceCode = (text: string): text is EvidenceCode => EVIDENCE_CODES.some((code) => code === text);

/** The fact in words; a code that is not known here is said as it is spelt. */
export const evidenceWords = (code: string, reader: { readonly language?: Language } = {}): string =>
  isEvidenceCode(code) ? inLanguage(WORDS, reader)[code] : code.replaceAll('-', ' ');

const READINGS = /^readings-(\d+)$/;
const FROM_READINGS: ByLanguage<string> = { en: 'from {length} of readings' };

/** What a time of harm rests on: `from 40 min of readings, heater power agrees`; empty when nothing is said. */
export const basisWords = (basis: readonly string[], reader: { readonly language?: Language } = {}): string =>
  basis
    .map((code) => {
      const minutes = READINGS.exec(code)?.[1];
      if (minutes === undefined) return evidenceWords(code, reader);
      return filled(inLanguage(FROM_READINGS, reader), { length: durationWords(Number(minutes) * 60_000, reader) });
    })
    .join(', ');
