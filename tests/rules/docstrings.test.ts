import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const RULES = fileURLToPath(new URL('../../rules/', import.meta.url));

/** The folders whose numbers a person acts on though no probe measured them. */
const FOLDERS = ['seawater', 'bed', 'statistics', 'husbandry'];

const FILES = FOLDERS.flatMap((folder) =>
  readdirSync(`${RULES}${folder}`, { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith('.ts'))
    .map((file) => `${folder}/${file}`),
);

/** Whatever stands behind the name: arrow, generic, wrapped in a call, overloaded. The first overload carries the comment. */
const declared = (name: string): RegExp =>
  new RegExp(
    `(?:^/\\*\\*((?:(?!\\*/)[\\s\\S])*)\\*/\\n)?^(?:export )?(?:async )?(?:const|function\\*?) ${name}\\b`,
    'm',
  );

const SOURCE = /\bSources?:\s*\S/;
/** A word in brackets may stand before the colon: the scale of the temperature, or that the animal is invented. */
const CHECK = /\bCheck(?: values?)?(?: \([^)]*\))?:[\s\S]*\d/;
const RANGE = /\bAnswers for\b/;

/** What the docstring of a function of this file lacks, in words. */
const lacks = (text: string, name: string): readonly string[] => {
  const found = declared(name).exec(text);
  if (found === null) return ['a declaration of its own'];
  const doc = (found[1] ?? '').replace(/^ ?\* ?/gm, '').trim();
  if (doc === '') return ['a docstring'];
  const declaration = text.slice(found.index + found[0].length).split('\n\n')[0] ?? '';
  return [
    ...(/^(?:Sources?|Check|Answers for)\b/.test(doc) ? ['a purpose'] : []),
    ...(SOURCE.test(doc) ? [] : ['a source']),
    ...(CHECK.test(doc) ? [] : ['a check value']),
    ...(/\): Answer\b/.test(declaration) && !RANGE.test(doc) ? ['its range'] : []),
  ];
};

describe('A docstring in the rules that compute', () => {
  it.each(FILES)('says purpose, range, source and check value of every function of %s', async (file) => {
    const text = readFileSync(`${RULES}${file}`, 'utf8');
    const exported: Readonly<Record<string, unknown>> = await import(`${RULES}${file}`);
    const functions = Object.keys(exported).filter((name) => typeof exported[name] === 'function');
    const missing = functions.flatMap((name) => lacks(text, name).map((what) => `${file}: ${name} lacks ${what}`));
    expect(missing).toEqual([]);
  });

  it('is asked of more than 150 functions', async () => {
    const counts = await Promise.all(
      FILES.map(async (file) => {
        const exported: object = await import(`${RULES}${file}`);
        return Object.values(exported).filter((value) => typeof value === 'function').length;
      }),
    );
    expect(counts.reduce((sum, count) => sum + count, 0)).toBeGreaterThan(150);
  });
});

const WHOLE = '/**\n * Doubles. Answers for 0 to 9.\n * Source: arithmetic. Check: 2 gives 4.\n */\n';

describe('The search for what a docstring lacks', () => {
  it.each([
    ['an arrow', 'export const twice = (x: number): Answer => ok(2 * x);'],
    ['a generic arrow', 'export const twice = <T extends { readonly x: number }>(of: T): number => 2 * of.x;'],
    [
      'an arrow with its parameters over several lines',
      'export const twice = ({\n  x,\n  y = 0,\n}: {\n  readonly x: number;\n  readonly y?: number;\n}): Answer => ok(2 * x + y);',
    ],
    ['overloads', 'export function twice(x: number): number;\nexport function twice(x: string): string;'],
    ['a function exported by a list', 'const twice = (x: number): number => 2 * x;\n\nexport { twice };'],
  ])('finds %s with its docstring, and without', (_, code) => {
    expect(lacks(`const one = 1;\n\n${WHOLE}${code}\n`, 'twice')).toEqual([]);
    expect(lacks(`const one = 1;\n\n${code}\n`, 'twice')).toEqual(['a docstring']);
    expect(lacks(`${WHOLE}const one = 1;\n\n${code}\n`, 'twice')).toEqual(['a docstring']);
  });

  it.each([
    ['/** Doubles. Answers for 0 to 9. Check: 2 gives 4. */', ['a source']],
    ['/** Doubles. Answers for 0 to 9. Source: arithmetic. */', ['a check value']],
    ['/** Doubles. Answers for 0 to 9. Source: arithmetic. Check: see the tests. */', ['a check value']],
    ['/** Doubles. Source: arithmetic. Check: 2 gives 4. */', ['its range']],
    ['/** Source: arithmetic. Answers for 0 to 9. Check: 2 gives 4. */', ['a purpose']],
    ['/** */', ['a docstring']],
  ])('names what %s lacks', (doc, missing) => {
    expect(lacks(`${doc}\nexport const twice = (x: number): Answer => ok(2 * x);\n`, 'twice')).toEqual(missing);
  });
});
