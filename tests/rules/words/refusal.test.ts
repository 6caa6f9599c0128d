import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { CALCULATIONS } from '../../../rules/calc/catalogue.js';
import { argumentName } from '../../../rules/words/argument.js';
import { hasSentence, refusalSentence } from '../../../rules/words/refusal.js';

const RULES = fileURLToPath(new URL('../../../rules/', import.meta.url));

/** Arguments whose name in the code is the word that people use. */
const PLAIN_WORDS: readonly string[] = ['salinity', 'porosity', 'counts', 'count', 'tanks', 'value'];

/** Every code that some file of rules/ writes as `impossible('...')`. */
const codesInRules = (): readonly string[] => {
  const files = readdirSync(RULES, { recursive: true, encoding: 'utf8' }).filter((file) => file.endsWith('.ts'));
  const found = files.flatMap((file) =>
    [...readFileSync(`${RULES}${file}`, 'utf8').matchAll(/\bimpossible\(\s*'([^']+)'/g)].map((match) => match[1] ?? ''),
  );
  return [...new Set(found)].sort();
};

describe('The reason that there is no answer', () => {
  it('names what is out of range, with its unit', () => {
    const refusal = { code: 'out-of-range', what: 'temperatureC', value: 51.25, low: -2, high: 45 } as const;
    expect(refusalSentence(refusal)).toBe('The temperature is 51.25 °C; there is an answer only from -2 to 45 °C.');
  });

  it('says pH without a unit', () => {
    const refusal = { code: 'out-of-range', what: 'ph', value: 3, low: 4, high: 11 } as const;
    expect(refusalSentence(refusal)).toBe('The pH is 3; there is an answer only from 4 to 11.');
  });

  it('says that a reading is missing', () => {
    expect(refusalSentence({ code: 'not-finite', what: 'salinity' })).toBe(
      'The salinity is missing or is not a number.',
    );
  });

  it('says that a conductivity probe is dry, with what it reads', () => {
    const refusal = {
      code: 'impossible',
      because: 'conductivity-near-zero',
      with: { conductivityMsCm: 0.002 },
    } as const;
    expect(refusalSentence(refusal)).toBe(
      'The conductivity is next to nothing (0.002 mS/cm): the probe is dry, or in pure water.',
    );
  });

  it.each(codesInRules())('has a sentence of its own for %s', (because) => {
    expect(hasSentence(because)).toBe(true);
  });
});

describe('What a refusal is about', () => {
  /** Names that files of rules/ give to arguments of their own, beside the options of the calculations. */
  const named = readdirSync(RULES, { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith('.ts'))
    .flatMap((file) =>
      [...readFileSync(`${RULES}${file}`, 'utf8').matchAll(/refusal(?:InList|IfBroken)\(\s*'(\w+)'/g)].map(
        ([, list = '']) => list,
      ),
    );
  const options = CALCULATIONS.flatMap((calculation) => calculation.options.map(({ key }) => key));

  it('has a name in words, as the bench calls it above its line', () => {
    const unnamed = [...new Set([...options, ...named])].filter((name) => argumentName(name) === name);
    expect(unnamed.filter((name) => !PLAIN_WORDS.includes(name))).toEqual([]);
  });

  it('never names a thing as the code spells it', () => {
    for (const calculation of CALCULATIONS)
      for (const { key, low = 0 } of calculation.options) {
        const sentence = refusalSentence({ code: 'out-of-range', what: key, value: low - 1, low, high: low + 1 });
        expect(sentence, `${calculation.name} ${key}`).not.toMatch(/\b[a-z]{3,}[A-Z]/);
      }
  });
});
