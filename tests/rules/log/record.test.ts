import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Entry } from '../../../rules/log/entry.js';
import { EMPTY_RECORD, type LogRecord, recordOf, recordWith } from '../../../rules/log/record.js';
import { hatchery, NOON_MS, tank } from '../../support/hatchery.js';
import { begun, diary } from './diary.js';

const { places } = hatchery([tank('l1'), tank('l2'), tank('l3')]);
const around = { places, recordedMs: NOON_MS + 86_400_000 };
const kept = (record: LogRecord, entry: Entry): LogRecord => {
  const recorded = recordWith(record, entry, around);
  return recorded.ok ? recorded.value.record : record;
};
const codesOf = (record: LogRecord, entry: Entry): readonly string[] => {
  const recorded = recordWith(record, entry, around);
  return recorded.ok ? [] : recorded.fault.map(({ code }) => code);
};

describe('the record', () => {
  test('keeps an entry that is sent twice once', () => {
    const { write } = diary();
    const came = write('brought-in', 'l1', begun('M1', 10));
    const once = kept(EMPTY_RECORD, came);
    expect(recordWith(once, came, around)).toMatchObject({ ok: true, value: { record: once, places: [] } });
  });

  test('shows the second of two people who correct one entry at once what the first wrote', () => {
    const { write } = diary();
    const came = write('brought-in', 'l1', begun('M1', 1000));
    const dead = write('deaths', 'l1', { animals: 500 });
    const ines = write('deaths', 'l1', { animals: 50 }, { corrects: dead.id });
    const tomas = write('deaths', 'l1', { animals: 55 }, { corrects: dead.id, by: 'Tomas' });
    const record = [came, dead, ines].reduce(kept, EMPTY_RECORD);
    expect(codesOf(record, tomas)).toEqual(['corrected-meanwhile']);
    expect(codesOf(record, { ...tomas, corrects: ines.id })).toEqual([]);
  });

  test('judges what a phone kept for an hour by that hour', () => {
    const { write } = diary();
    const came = write('brought-in', 'l1', begun('M1', 1000));
    const late = write('cull', 'l1', { animals: 900 });
    const sold = write('sale', 'l1', { animals: 1000, to: 'a grower' });
    const record = [came, sold].reduce(kept, EMPTY_RECORD);
    expect(codesOf(record, late)).toEqual([]);
    expect(kept(record, late).stock.moves.flatMap(({ doubts }) => doubts.map(({ code }) => code))).toEqual([
      'more-than-there-were',
    ]);
  });

  test('lets a corrected beginning keep the name of its batch', () => {
    const { write } = diary();
    const came = write('brought-in', 'l1', begun('M1', 1000));
    const better = write('brought-in', 'l1', begun('M1', 1100), { corrects: came.id, atMs: came.atMs });
    expect(codesOf(kept(EMPTY_RECORD, came), better)).toEqual([]);
  });

  test('grown entry by entry is the record read at once', () => {
    const deed = fc.record({
      kind: fc.constantFrom('deaths', 'count', 'move', 'work', 'work-end', 'disinfection', 'residual-test', 'struck'),
      placeId: fc.constantFrom('l1', 'l2', 'l3'),
      number: fc.integer({ min: 1, max: 500 }),
      minute: fc.integer({ min: 0, max: 200 }),
      of: fc.nat(),
    });
    fc.assert(
      fc.property(fc.array(deed, { maxLength: 25 }), (deeds) => {
        const { entries, write } = diary();
        write('brought-in', 'l1', begun('M1', 1000));
        for (const { kind, placeId, number, minute, of } of deeds) {
          const at = { atMs: NOON_MS + minute * 60_000 };
          const earlier = entries[of % entries.length]?.id ?? '';
          if (kind === 'deaths') write(kind, placeId, { animals: number }, at);
          if (kind === 'count') write(kind, placeId, { count: { animals: number } }, at);
          if (kind === 'move') write(kind, placeId, { to: 'l3' }, at);
          if (kind === 'work') write(kind, placeId, { work: 'filling', minutes: number }, at);
          if (kind === 'work-end') write(kind, undefined, { workId: earlier }, at);
          if (kind === 'disinfection') write(kind, placeId, { product: 'chlorine', doseMgL: 5 }, at);
          if (kind === 'residual-test') write(kind, placeId, { foundMgL: number % 2 }, at);
          if (kind === 'struck') write(kind, undefined, { why: 'a mistake' }, { ...at, corrects: earlier });
        }
        const grown = entries.reduce(kept, EMPTY_RECORD);
        const read = recordOf([...grown.written.values()]);
        expect(grown.stock.book).toEqual(read.stock.book);
        expect(grown.work).toEqual(read.work);
        expect(grown.inside).toEqual(read.inside);
        expect(grown.ruling.entries.map(({ id }) => id)).toEqual(read.ruling.entries.map(({ id }) => id));
      }),
      { seed: 20_260_505, numRuns: 300 },
    );
  });
});
