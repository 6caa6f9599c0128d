import { type ByLanguage, inLanguage, type Language } from './language.js';

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
  },
};

const isEvidenceCode = (text: string): text is EvidenceCode => EVIDENCE_CODES.some((code) => code === text);

/** The fact in words; a code that is not known here is said as it is spelt. */
export const evidenceWords = (code: string, reader: { readonly language?: Language } = {}): string =>
  isEvidenceCode(code) ? inLanguage(WORDS, reader)[code] : code.replaceAll('-', ' ');
