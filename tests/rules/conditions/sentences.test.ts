import { describe, expect, test } from 'vitest';
import { CONDITION_CODES, type Finding, type Line } from '../../../rules/conditions/finding.js';
import { CONDITIONS } from '../../../rules/conditions/list.js';
import { CHECK_CODES, checkSentence } from '../../../rules/words/check.js';
import { basisWords, EVIDENCE_CODES, evidenceWords } from '../../../rules/words/evidence.js';
import { findingSentence } from '../../../rules/words/finding.js';
import { LANGUAGES, type Language } from '../../../rules/words/language.js';
import { HOUR, MINUTE, NIGHT_MS } from '../../support/watch.js';
import { begun, lived } from './scenario.js';
import { SCENARIOS } from './scenarios.js';

const context = (language: Language, place = 'L1') => ({
  zone: 'Europe/Lisbon',
  hours: 24 as const,
  temperatureUnit: 'C' as const,
  language,
  place,
  nowMs: NIGHT_MS + 4 * HOUR,
  nameOf: (placeId: string) => placeId.toUpperCase(),
});

const LINES: { readonly [code: string]: Line } = {
  'above-limit': { kind: 'limit', side: 'high', value: 28 },
  'below-limit': { kind: 'limit', side: 'low', value: 29 },
  'above-ceiling': { kind: 'ceiling', side: 'high', value: 28 },
  'below-ceiling': { kind: 'ceiling', side: 'low', value: 29 },
};
const OF_PLACE = [
  'clean-bed-by',
  'everything-silent',
  'board-offline',
  'clock-wrong',
  'work-overdue',
  'upkeep-overdue',
];
const CHANNEL: { readonly [code: string]: string } = {
  'battery-low': 'l1.battery',
  'dawn-oxygen-falling': 'l1.oxygen-saturation',
  supersaturated: 'l1.oxygen-saturation',
};
const HARM = {
  atMs: NIGHT_MS + 5 * HOUR,
  earliestMs: NIGHT_MS + 5 * HOUR - 10 * MINUTE,
  latestMs: NIGHT_MS + 5 * HOUR + 20 * MINUTE,
  basis: ['readings-40', 'heater-power-agrees'],
};

/** What no scenario of its own shows, made by hand with every blank that its sentence has. */
const byHand = (condition: Finding['condition']): Finding => {
  const line = LINES[condition];
  const battery = condition === 'battery-low' ? { value: 3.2 } : {};
  const ofChannel = { channelId: CHANNEL[condition] ?? 'l1.temperature', value: 28.4, ...battery };
  return {
    condition,
    placeId: 'l1',
    priority: 'medium',
    sinceMs: NIGHT_MS + 3 * HOUR,
    ...(OF_PLACE.includes(condition) ? {} : ofChannel),
    ...(line === undefined ? {} : { line, exposure: { unitHours: 0.8, hours: 0.9 } }),
    ...(condition === 'clean-bed-by' ? { harm: HARM } : {}),
    task: 'water-change',
    work: 'drain-down',
    boardId: 'larval-1',
  };
};

/** The finding as its scenario makes it, or the full one. */
const findings = (): readonly Finding[] =>
  CONDITION_CODES.map((code) => {
    const scenario = SCENARIOS.find((known) => known.code === code);
    if (scenario === undefined) return byHand(code);
    const watched = begun(scenario);
    lived(watched, scenario.trouble);
    return watched.finding(code, scenario.subject) ?? byHand(code);
  });

const said = (finding: Finding, language: Language): readonly string[] => {
  const sentence = findingSentence(finding, context(language));
  const { headline, cause, until, together, remedy, exposure, rate, since } = sentence;
  const basis = basisWords(finding.harm?.basis ?? [], { language });
  const facts = [until, basis === '' ? undefined : basis, together, rate, exposure, remedy, since].filter(
    (part) => part !== undefined,
  );
  const checks = (finding.checks ?? []).map((code) => `    - ${checkSentence(code, { language })}`);
  return [
    `${finding.condition}  [${finding.priority}]`,
    `  ${headline}: ${cause}`,
    `  ${facts.join(' · ')}`,
    ...checks,
  ];
};

describe.each(LANGUAGES)('in %s every finding', (language) => {
  test('is a sentence without a hole: read them aloud', () => {
    const lines = findings().flatMap((finding) => said(finding, language));
    // Printed on purpose: a person has to hear them.
    process.stdout.write(`${lines.join('\n')}\n`);
    for (const line of lines) {
      expect(line).not.toMatch(/[{}]|undefined|NaN|Infinity/);
    }
  });
});

test('every condition that there is a code for is in the list, once', () => {
  const codes = CONDITIONS.map(({ code }) => code);
  expect(new Set(codes).size).toBe(codes.length);
  expect([...codes].sort()).toEqual([...CONDITION_CODES].sort());
});

test.each(CHECK_CODES)('what to check first, “%s”, is a sentence of its own', (code) => {
  expect(checkSentence(code)).not.toBe(code.replaceAll('-', ' '));
});

test.each(EVIDENCE_CODES)('the fact “%s” is said in words', (code) => {
  expect(evidenceWords(code)).toMatch(/^[a-z]/);
});

test('what a time of harm rests on is said in words', () => {
  expect(basisWords(['readings-40', 'heater-power-agrees'])).toBe('from 40 min of readings, heater power agrees');
  expect(basisWords([])).toBe('');
});

test('where a heater can hang in the water, the power comes before the hands', () => {
  for (const finding of findings()) {
    const checks = finding.checks ?? [];
    const hands = checks.findIndex((code) =>
      ['stir-gently', 'probe-back', 'leak-or-standpipe', 'clean-bed'].includes(code),
    );
    const power = checks.indexOf('heater-off-at-wall');
    if (power >= 0 && hands >= 0) expect(power).toBeLessThan(hands);
  }
});
