import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';

const root = fileURLToPath(new URL('..', import.meta.url));
const FOLDERS = ['rules', 'gateway', 'dashboard', 'simulator', 'tests'] as const;
type Folder = (typeof FOLDERS)[number];

/** Who may import whom; everybody may import itself. */
const MAY_IMPORT: { readonly [folder in Folder]: readonly Folder[] } = {
  rules: [],
  gateway: ['rules'],
  dashboard: ['rules'],
  simulator: ['rules'],
  tests: ['rules', 'gateway', 'dashboard', 'simulator'],
};

type Code = {
  readonly path: string;
  readonly folder: Folder;
  readonly text: string;
  readonly imports: readonly string[];
};

const IMPORT =
  /(?:^|\n)\s*(?:import|export)\s[^;'"]*?from\s*['"]([^'"]+)['"]|(?:^|\n)\s*import\s*['"]([^'"]+)['"]|\bimport\(\s*['"]([^'"]+)['"]\s*\)/g;

const codeIn = (folder: Folder): Code[] =>
  readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.tsx?$/.test(name))
    .map((name) => {
      const path = join(folder, name);
      const text = readFileSync(join(root, path), 'utf8');
      return {
        path,
        folder,
        text,
        imports: [...text.matchAll(IMPORT)].map((found) => found[1] ?? found[2] ?? found[3] ?? ''),
      };
    });

const all = FOLDERS.flatMap(codeIn);
const own = all.filter(({ folder }) => folder !== 'tests');
const rules = all.filter(({ folder }) => folder === 'rules');

/** Comments speak of things that code may not do. */
const bare = (text: string): string => text.replace(/\/\*[\s\S]*?\*\//g, '').replace(/(^|[^:])\/\/.*$/gm, '$1');

const target = ({ path }: Code, specifier: string): string | undefined =>
  specifier.startsWith('.') ? relative(root, resolve(root, dirname(path), specifier)) : undefined;

const offenders = (code: readonly Code[], pattern: RegExp): string[] =>
  code.filter(({ text }) => pattern.test(bare(text))).map(({ path }) => path);

describe('the folders', () => {
  test('import only in the one direction', () => {
    const wrong = all.flatMap((code) =>
      code.imports.flatMap((specifier) => {
        const to = target(code, specifier)?.split('/')[0];
        const isFine =
          to === undefined || to === code.folder || (MAY_IMPORT[code.folder] as readonly string[]).includes(to);
        return isFine ? [] : [`${code.path} imports ${specifier}`];
      }),
    );
    expect(wrong).toEqual([]);
  });

  test('name the file that has the word: relative imports end in .js, and there are no barrels', () => {
    const loose = all.flatMap((code) =>
      code.imports
        .filter((specifier) => specifier.startsWith('.') && !/\.(js|css|json)$/.test(specifier))
        .map((specifier) => `${code.path}: ${specifier}`),
    );
    expect(loose).toEqual([]);
    expect(own.filter(({ path }) => /\/index\.tsx?$/.test(path)).map(({ path }) => path)).toEqual([]);
  });

  test('have no cycles between files', () => {
    const edges = new Map(
      own.map((code) => [
        code.path.replace(/\.tsx?$/, ''),
        code.imports.flatMap((specifier) => target(code, specifier)?.replace(/\.js$/, '') ?? []),
      ]),
    );
    const done = new Set<string>();
    const cycles: string[] = [];
    const visit = (path: string, way: readonly string[]): void => {
      if (way.includes(path)) cycles.push([...way.slice(way.indexOf(path)), path].join(' → '));
      else if (!done.has(path)) {
        for (const next of edges.get(path) ?? []) visit(next, [...way, path]);
        done.add(path);
      }
    };
    for (const path of edges.keys()) visit(path, []);
    expect(cycles).toEqual([]);
  });
});

describe('the rules', () => {
  test('know no clock, no randomness, no I/O and no log', () => {
    expect(
      offenders(
        rules,
        /\bDate\.now\b|\bnew Date\(\s*\)|\bMath\.random\b|\bperformance\.|\bcrypto\b|\bconsole\.|\bprocess\.|\bfetch\(|\bsetTimeout\b/,
      ),
    ).toEqual([]);
  });

  test('import nothing of anybody else', () => {
    expect(
      rules.flatMap(({ path, imports }) =>
        imports.filter((specifier) => !specifier.startsWith('.')).map((specifier) => `${path}: ${specifier}`),
      ),
    ).toEqual([]);
  });

  test('are never asynchronous, and keep nothing between two calls', () => {
    expect(offenders(rules, /\basync\b|\bawait\b|\bPromise\b/)).toEqual([]);
    expect(offenders(rules, /^(?:export )?let /m)).toEqual([]);
  });

  test('leave local days and daylight saving to one module', () => {
    const zoned = all.filter(({ folder }) => folder === 'rules' || folder === 'dashboard' || folder === 'gateway');
    const others = offenders(
      zoned,
      /Intl\.DateTimeFormat|toLocale(Date|Time)?String|getTimezoneOffset|\.getHours\(/,
    ).filter((path) => path !== 'rules/words/clock.ts' && path !== 'gateway/clock.ts');
    expect(others).toEqual([]);
  });
});

describe('files', () => {
  /** Data of the trade, row by row: long because there is much of it. */
  const isTable = (path: string): boolean =>
    path.startsWith('rules/stage/profiles/') || path.startsWith('simulator/world/');

  test('have at most 250 lines', () => {
    const long = own.filter(({ path, text }) => !isTable(path) && text.split('\n').length > 251);
    expect(long.map(({ path, text }) => `${path}: ${text.split('\n').length}`)).toEqual([]);
  });

  test('are kebab-case nouns, none of them manager, helper, util, service, data or info', () => {
    const odd = own.filter(({ path }) => !path.split('/').every((part) => /^[a-z0-9]+(?:[-.][a-z0-9]+)*$/.test(part)));
    expect(odd.map(({ path }) => path)).toEqual([]);
    expect(
      own
        .filter(({ path }) => /\b(manager|helpers?|utils?|service|data|info)\.tsx?$/.test(path))
        .map(({ path }) => path),
    ).toEqual([]);
  });

  test('export by name, and leave no test switched off', () => {
    const exempt = /(vite|vitest)\.config\.ts$|tests\/support\/closing-line\.ts$/;
    expect(
      all.filter(({ path, text }) => /^export default/m.test(text) && !exempt.test(path)).map(({ path }) => path),
    ).toEqual([]);
    const tests = all.filter(({ path }) => path.endsWith('.test.ts') && path !== 'tests/architecture.test.ts');
    expect(offenders(tests, /\.(only|todo)\(|\bxtest\b|\bxit\b/)).toEqual([]);
  });

  test('never end the process but where the process begins', () => {
    const allowed = /^gateway\/cli\/main\.ts$|^simulator\/(demo|nights|story)\.ts$/;
    expect(offenders(own, /process\.exit\(/).filter((path) => !allowed.test(path))).toEqual([]);
  });
});
