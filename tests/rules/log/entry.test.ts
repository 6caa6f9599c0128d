import { describe, expect, test } from 'vitest';
import { checkEntry, type Known } from '../../../rules/log/check.js';
import { disinfectantInside } from '../../../rules/log/disinfect.js';
import { ENTRY_KIND_NAMES, type Entry, parseEntry } from '../../../rules/log/entry.js';
import { rulingEntries } from '../../../rules/log/ruling.js';
import { replayStock } from '../../../rules/log/stock.js';
import { isUlid, makeUlid, ulidTimeMs } from '../../../rules/log/ulid.js';
import { entryFaultSentence, hasEntrySentence } from '../../../rules/words/entry-fault.js';
import { entryNames } from '../../../rules/words/entry-name.js';
import { hatchery, NOON_MS, tank } from '../../support/hatchery.js';
import { begun, diary } from './diary.js';

const ID = '01KQSZ5M80000000000000000A';
const sent = (more: object): object => ({ id: ID, atMs: NOON_MS, placeId: 'l1', ...more });
const faultsIn = (what: unknown) => {
  const parsed = parseEntry(what, 'Ines');
  return parsed.ok ? [] : parsed.fault.map(({ pointer, code }) => `${pointer} ${code}`);
};

describe('a form that cannot be kept says what is wrong and where', () => {
  const FORMS: readonly (readonly [string, unknown, readonly string[]])[] = [
    ['nothing at all', undefined, [' not-a-group']],
    ['a text', 'fed', [' not-a-group']],
    ['an unknown kind', sent({ kind: 'weather', fields: {} }), ['/kind not-a-kind']],
    ['no id', { atMs: NOON_MS, kind: 'note', fields: { words: 'x' } }, ['/id missing']],
    ['an id of its own making', sent({ id: 'entry-1', kind: 'note', fields: { words: 'x' } }), ['/id not-so-written']],
    ['no tank', { id: ID, atMs: NOON_MS, kind: 'feeding', fields: { volumeL: 6 } }, ['/placeId missing']],
    [
      'a tank name for an id',
      sent({ placeId: 'Larva 1', kind: 'note', fields: { words: 'x' } }),
      ['/placeId not-so-written'],
    ],
    ['no litres', sent({ kind: 'feeding', fields: {} }), ['/fields/volumeL missing']],
    ['litres as text', sent({ kind: 'feeding', fields: { volumeL: '6' } }), ['/fields/volumeL not-a-number']],
    ['no number at all', sent({ kind: 'feeding', fields: { volumeL: Number.NaN } }), ['/fields/volumeL not-a-number']],
    ['litres below nothing', sent({ kind: 'feeding', fields: { volumeL: -1 } }), ['/fields/volumeL out-of-range']],
    ['half an animal', sent({ kind: 'deaths', fields: { animals: 2.5 } }), ['/fields/animals not-whole']],
    ['no deaths', sent({ kind: 'deaths', fields: { animals: 0 } }), ['/fields/animals out-of-range']],
    ['an empty note', sent({ kind: 'note', fields: { words: '   ' } }), ['/fields/words missing']],
    ['a note that is a book', sent({ kind: 'note', fields: { words: 'x'.repeat(2001) } }), ['/fields/words too-long']],
    ['a word that is no choice', sent({ kind: 'cleaning', fields: { what: 'roof' } }), ['/fields/what not-a-choice']],
    [
      'a field of another form',
      sent({ kind: 'note', fields: { words: 'x', animals: 3 } }),
      ['/fields/animals not-known-here'],
    ],
    [
      'a count inside a list',
      sent({ kind: 'count', fields: { count: { counts: [69, -1, 'x'] } } }),
      ['/fields/count/counts/1 out-of-range', '/fields/count/counts/2 not-a-number'],
    ],
    [
      'a time in seconds',
      { id: ID, atMs: 1_777_895_000, kind: 'note', fields: { words: 'x' } },
      ['/atMs out-of-range'],
    ],
    ['taking back nothing', sent({ kind: 'struck', fields: { why: 'a mistake' } }), ['/corrects missing']],
    [
      'several faults at once',
      sent({ initials: 'far too long', kind: 'sale', fields: { animals: -1 } }),
      ['/initials too-long', '/fields/animals out-of-range', '/fields/to missing'],
    ],
  ];

  test.each(FORMS)('%s', (_what, form, faults) => {
    expect(faultsIn(form)).toEqual(faults);
  });

  test('and every kind has a name and refuses an empty form or takes it on purpose', () => {
    const names = entryNames();
    for (const kind of ENTRY_KIND_NAMES) {
      expect(names.kind[kind], kind).toBeTruthy();
      expect(() => parseEntry(sent({ kind, fields: {} }), 'Ines')).not.toThrow();
    }
  });

  test('nobody signs for somebody else: the name comes from who is signed in', () => {
    expect(faultsIn(sent({ by: 'Tomas', kind: 'note', fields: { words: 'x' } }))).toEqual(['/by not-known-here']);
    const parsed = parseEntry(sent({ kind: 'note', fields: { words: 'x' } }), 'Ines');
    expect(parsed.ok && parsed.value.by).toBe('Ines');
  });
});

const known = (entries: readonly Entry[], more: Partial<Known> = {}): Known => {
  const ruling = rulingEntries(entries).entries;
  const { book } = replayStock(ruling);
  return {
    places: hatchery([tank('l1'), tank('l2'), tank('l3')]).places,
    book,
    inside: disinfectantInside(ruling),
    batches: new Set(book.accounts.keys()),
    open: new Map(),
    recordedMs: NOON_MS + 3_600_000,
    ...more,
  };
};

describe('an entry that cannot be true says why', () => {
  const morning = () => {
    const { entries, write } = diary();
    write('brought-in', 'l1', begun('M1', 1000));
    write('brought-in', 'l2', begun('M2', 500));
    write('disinfection', 'l3', { product: 'chlorine', doseMgL: 5 });
    return { entries, write };
  };
  const codes = (
    kind: Parameters<ReturnType<typeof morning>['write']>[0],
    placeId: string,
    fields: never,
    more = {},
  ) => {
    const { entries, write } = morning();
    const knows = known(entries);
    return checkEntry(write(kind, placeId, fields, more), knows).map(({ pointer, code }) => `${pointer} ${code}`);
  };
  const ROWS: readonly (readonly [string, Parameters<typeof codes>[0], string, object, readonly string[]])[] = [
    ['a tank that is not there', 'note', 'l9', { words: 'x' }, ['/placeId no-such-place']],
    ['animals onto a supply line', 'brought-in', 'larval-line', begun('M3', 10), ['/placeId no-tank']],
    ['a batch of a name that is taken', 'brought-in', 'l1', begun('M2', 10), ['/fields/batchId batch-exists']],
    ['animals into disinfectant', 'brought-in', 'l3', begun('M3', 10), ['/placeId disinfectant-inside']],
    ['a move into disinfectant', 'move', 'l1', { to: 'l3' }, ['/fields/to disinfectant-inside']],
    [
      'a sheet that ends in disinfectant',
      'drain-down',
      'l1',
      { end: 'to', placeId: 'l3' },
      ['/fields/placeId disinfectant-inside'],
    ],
    ['a move to where they are', 'move', 'l1', { to: 'l1' }, ['/fields/to same-place']],
    ['a move onto another batch', 'move', 'l1', { to: 'l2' }, ['/fields/to other-batch-there']],
    ['pooling without a name', 'pool', 'l1', { to: 'l2' }, ['/fields/to other-batch-there']],
    [
      'more sold than there are',
      'sale',
      'l1',
      { animals: 1001, to: 'a grower' },
      ['/fields/animals more-than-there-are'],
    ],
    ['deaths in an empty tank', 'deaths', 'l3', { animals: 3 }, ['/placeId nothing-there']],
    [
      'a batch that is elsewhere',
      'count',
      'l1',
      { batchId: 'M2', count: { animals: 3 } },
      ['/fields/batchId batch-not-there'],
    ],
    ['a count of nothing', 'count', 'l1', { count: {} }, ['/fields/count nothing-counted']],
    ['subsamples without a volume', 'count', 'l1', { count: { counts: [3] } }, ['/fields/count count-without-volume']],
    [
      'a subsample larger than its whole',
      'count',
      'l1',
      { count: { counts: [3], subsampleMl: 2000, totalL: 1 } },
      ['/fields/count subsample-exceeds-volume'],
    ],
    [
      'an interval beside its count',
      'count',
      'l1',
      { count: { animals: 5, low: 6, high: 9 } },
      ['/fields/count interval-beside-count'],
    ],
    ['a sheet to nowhere', 'drain-down', 'l1', { end: 'to' }, ['/fields/placeId missing']],
    ['a sheet dumped without a reason', 'drain-down', 'l1', { end: 'dumped' }, ['/fields/why missing']],
    [
      'a split that names a tank twice',
      'split',
      'l1',
      {
        to: [
          { placeId: 'l1', animals: 3 },
          { placeId: 'l1', animals: 4 },
        ],
      },
      ['/fields/to/1/placeId named-twice'],
    ],
    ['a run above its ceiling', 'run-plan', 'l1', plan({ riseC: 11.1 }), ['/fields/riseC plan-above-ceiling']],
    [
      'a run that ends before it begins',
      'run-plan',
      'l1',
      plan({ latestEndMs: NOON_MS - 1 }),
      ['/fields/latestEndMs ends-before-it-begins'],
    ],
    [
      'a temperature of 71 °C by hand',
      'hand-measurement',
      'l1',
      { quantity: 'temperature', value: 71 },
      ['/fields/value out-of-range'],
    ],
    ['the end of a work that never was', 'work-end', 'l1', { workId: ID }, ['/fields/workId never-declared']],
  ];

  test.each(ROWS)('%s', (_what, kind, placeId, fields, faults) => {
    expect(codes(kind, placeId, fields as never)).toEqual(faults);
  });

  test('and so does an entry from the future', () => {
    expect(codes('note', 'l1', { words: 'x' } as never, { atMs: NOON_MS + 2 * 3_600_000 })).toEqual([
      '/atMs in-the-future',
    ]);
  });

  test('a residual test that finds too much does not open the tank, a clear one does', () => {
    const { entries, write } = morning();
    write('residual-test', 'l3', { foundMgL: 0.4 });
    expect(known(entries).inside.has('l3')).toBe(true);
    write('residual-test', 'l3', { foundMgL: 0, rinsed: true });
    expect(known(entries).inside.has('l3')).toBe(false);
  });

  test('every code has a sentence', () => {
    const spoken = [
      ...FORM_CODES,
      ...ROWS.flatMap(([, , , , faults]) => faults.map((fault) => fault.split(' ')[1] ?? '')),
    ];
    for (const code of spoken) {
      expect(hasEntrySentence(code), code).toBe(true);
      expect(entryFaultSentence({ pointer: '', code })).toMatch(/\.$/);
    }
  });
});

const FORM_CODES = [
  'missing',
  'not-a-number',
  'out-of-range',
  'not-whole',
  'too-long',
  'too-few',
  'too-many',
  'not-a-text',
  'not-yes-or-no',
  'not-a-list',
  'in-the-future',
  'corrected-meanwhile',
  'no-such-entry',
  'photo-missing',
  'ended-already',
  'argument-too-short',
  'plan-without-contrast',
];

function plan(more: object) {
  return {
    animals: 40,
    ambientC: 21,
    coolC: 16,
    riseC: 5.6,
    holdMin: 30,
    cycles: 3,
    ceilingC: 30,
    latestEndMs: NOON_MS + 4 * 3_600_000,
    ...more,
  };
}

describe('the name of an entry', () => {
  test('holds the time at which it was written, as the ULID specification says', () => {
    // The specification's example: 1469918176385 is 01ARYZ6S41 (from memory of its README).
    const ulid = makeUlid(1_469_918_176_385, new Uint8Array(10).fill(255));
    expect(ulid.slice(0, 10)).toBe('01ARYZ6S41');
    expect(ulid.slice(10)).toBe('ZZZZZZZZZZZZZZZZ');
    expect(isUlid(ulid)).toBe(true);
    expect(ulidTimeMs(ulid)).toBe(1_469_918_176_385);
  });
});
