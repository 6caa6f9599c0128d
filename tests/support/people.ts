import { PERSON, WATCH } from '../../gateway/alerts/people.js';
import type { Journal } from '../../gateway/journal/journal.js';
import type { Person } from '../../rules/alerts/person.js';
import { NO_WATCH, type WatchPlan } from '../../rules/alerts/watch-plan.js';
import { NIGHT_MS } from './ladder-night.js';

const ways = (number: number): Person['ways'] => [
  { way: 'push', address: '', wakes: 'yes', triedMs: NIGHT_MS },
  { way: 'email', address: `person${number}@wrack-cove.example`, wakes: 'no', triedMs: NIGHT_MS },
  { way: 'text', address: `+1555010000${number}`, wakes: 'yes', triedMs: NIGHT_MS },
  { way: 'ring', address: `+1555010000${number}`, wakes: 'yes', triedMs: NIGHT_MS },
];

/** Invented people: Asta on call, Bela behind her, Cora the manager. */
export const PEOPLE: readonly Person[] = [
  { id: 'asta', name: 'Asta', account: 'asta', manager: false, ways: ways(1) },
  { id: 'bela', name: 'Bela', account: 'bela', manager: false, ways: ways(2) },
  { id: 'cora', name: 'Cora', account: 'cora', manager: true, ways: ways(3) },
];

export const ALWAYS: WatchPlan = {
  ...NO_WATCH,
  shifts: [1, 2, 3, 4, 5, 6, 7].flatMap((weekday) => [
    { weekday, fromMinute: 0, minutes: 1_440, role: 'on-call', personId: 'asta' },
    { weekday, fromMinute: 0, minutes: 1_440, role: 'backup', personId: 'bela' },
  ]),
};

export const settle = (journal: Journal, people = PEOPLE, plan: WatchPlan = ALWAYS, atMs = NIGHT_MS): void => {
  const put = (entity: string, id: string, body: unknown): void => {
    const expectedVersion = journal.settings.latest(entity, id)?.version ?? 0;
    journal.settings.put({ entity, id, body, effectiveMs: atMs, recordedMs: atMs, by: 'test', expectedVersion });
  };
  for (const person of people) put(PERSON, person.id, person);
  put(WATCH, WATCH, plan);
};
