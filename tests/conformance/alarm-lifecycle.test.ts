import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import {
  type AlarmEvent,
  alarmStep,
  type Beneath,
  type CoreState,
  type Inhibit,
  type Life,
} from '../../rules/alarm/lifecycle.js';

/** Source of every row: tests/fixtures/alarm-transitions.csv, whose head says which standard and what is from memory. */
const rows = readFileSync(new URL('../fixtures/alarm-transitions.csv', import.meta.url), 'utf8')
  .split('\n')
  .filter((line) => line !== '' && !line.startsWith('#'))
  .map((line) => line.split(','));

const lifeFrom = (text: string): Life => {
  const [inhibits = '', beneath] = text.split('/');
  if (beneath === undefined) return { core: text as CoreState, inhibits: [] };
  const [first, ...rest] = inhibits.split('+') as [Inhibit, ...Inhibit[]];
  return { beneath: beneath as Beneath, inhibits: [first, ...rest] };
};

/** The order of inhibits carries no meaning: compare them as a set. */
const plain = (life: Life) => ({ ...life, inhibits: [...life.inhibits].sort() });

describe('the life of an alarm follows ISA-18.2 / IEC 62682 row by row (from memory; OPC UA Part 9)', () => {
  test('there are 216 plain and 264 latching rows', () => {
    expect(rows.filter(([machine]) => machine === 'non-latching')).toHaveLength(216);
    expect(rows.filter(([machine]) => machine === 'latching')).toHaveLength(264);
  });

  test.each(rows)('%s: %s on %s becomes %s', (machine, state = '', event = '', next = '', accepted, deeds = '') => {
    const done = alarmStep(lifeFrom(state), event as AlarmEvent, machine === 'latching');
    expect(plain(done.life)).toEqual(plain(lifeFrom(next)));
    expect(done.accepted).toBe(accepted === 'true');
    expect([...done.deeds].sort()).toEqual(deeds.split('|').filter(Boolean).sort());
  });
});
