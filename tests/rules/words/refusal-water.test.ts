import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { ARGUMENT_NAMES } from '../../../rules/words/argument.js';
import { refusalSentence } from '../../../rules/words/refusal.js';
import { WATER_REFUSALS } from '../../../rules/words/refusal-water.js';

const RULES = fileURLToPath(new URL('../../../rules/', import.meta.url));

const FILES = [
  ...['bed', 'statistics'].flatMap((folder) => readdirSync(`${RULES}${folder}`).map((file) => `${folder}/${file}`)),
  ...['oxygen-budget', 'oxygen-left', 'oxygen-uptake', 'reaeration', 'respiration'].map((f) => `seawater/${f}.ts`),
];

/** Every code that the oxygen budget, the bed and the statistics write as `impossible('...')`. */
const codes = [
  ...new Set(
    FILES.flatMap((file) =>
      [...readFileSync(`${RULES}${file}`, 'utf8').matchAll(/\bimpossible\(\s*'([^']+)'/g)].map(
        (match) => match[1] ?? '',
      ),
    ),
  ),
].sort();

describe('What the oxygen budget, the bed and the statistics call impossible', () => {
  it('has a sentence for every code, and no sentence that nobody says', () => {
    expect(Object.keys(WATER_REFUSALS).sort()).toEqual(codes);
  });

  it.each(Object.entries(WATER_REFUSALS))('says %s as a whole sentence', (_, say) => {
    expect(say({})).toMatch(/^[A-Z0-9?].*\.$/);
  });

  it('says numbers with four digits at most', () => {
    const say = WATER_REFUSALS['decline-within-resolution'];
    expect(say?.({ declineMgL: 0.0312345, neededMgL: 0.05 })).toBe(
      'The oxygen fell by 0.03123 mg/L; for this probe it has to fall by 0.05 mg/L. Measure for longer.',
    );
  });

  it('names the arguments in words', () => {
    for (const [name] of Object.values(ARGUMENT_NAMES)) expect(name).toMatch(/^[a-zQ][a-z0-9QH ,°C-]+$/);
  });

  it.each([
    ['volumeL', 0, 0.1, 1e8, 'The volume is 0 L; there is an answer only from 0.1 to 100000000 L.'],
    ['porosity', 1.2, 0.2, 0.95, 'The porosity is 1.2; there is an answer only from 0.2 to 0.95.'],
    ['solubilityMgL', 0, 1, 25, 'The oxygen at saturation is 0 mg/L; there is an answer only from 1 to 25 mg/L.'],
  ])('says what is out of range by the name of %s', (what, value, low, high, sentence) => {
    expect(refusalSentence({ code: 'out-of-range', what, value, low, high })).toBe(sentence);
  });
});
