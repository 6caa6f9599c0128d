import { describe, expect, test } from 'vitest';
import { ENTRY_KIND_NAMES, ENTRY_KINDS, type EntryKind } from '../../../rules/log/entry.js';
import type { Field, Shape } from '../../../rules/log/field.js';
import { makeUlid } from '../../../rules/log/ulid.js';
import type { Problem } from '../../../rules/wire/api.js';
import { fieldLabel } from '../../../rules/words/entry-field.js';
import { gatewayRoom, type Room } from '../../support/gateway-room.js';
import { NOON_MS } from '../../support/hatchery.js';

/** A sentence: it begins like one, ends like one, and has no name of the code in it. */
const SENTENCE = /^[A-Z“].*[.?]$/;
const CODE_NAME = /\b[a-z]{3,}[A-Z]\w*\b/;

const namesOf = (shape: Shape): Readonly<Record<string, Field<unknown>>> =>
  shape.kind === 'fields' ? shape.fields : {};

/** Values that a field cannot take: of the wrong kind, too small, too large, too long, not on the list. */
const badFor = (shape: Shape): readonly unknown[] => {
  switch (shape.kind) {
    case 'number':
      return ['a lot', true, { of: 1 }, shape.low - 1, shape.high + 1, ...(shape.whole ? [shape.low + 0.5] : [])];
    case 'text':
      return [17, ['x'], 'x'.repeat(shape.most + 1), ...(shape.pattern === undefined ? [] : ['not so / written'])];
    case 'choice':
      return ['something else', 3];
    case 'flag':
      return ['maybe', 1];
    case 'list':
      return ['no list', ...(shape.least > 0 ? [[]] : []), Array.from({ length: shape.most + 1 }, () => 1)];
    case 'fields':
      return ['no group', 12, [1]];
  }
};

/** Bad values inside of a list or a group, where the fault lies deeper. */
const deeper = (shape: Shape): readonly (readonly [value: unknown, pointer: string, name?: string])[] => {
  if (shape.kind === 'list') return badFor(shape.of).map((bad) => [[bad], '/0'] as const);
  return Object.entries(namesOf(shape)).flatMap(([name, field]) =>
    badFor(field.shape).map((bad) => [{ [name]: bad }, `/${name}`, name] as const),
  );
};

type Case = readonly [kind: EntryKind, fields: object, pointer: string, label: string];
const casesOf = (kind: EntryKind): readonly Case[] =>
  Object.entries(namesOf(ENTRY_KINDS[kind].shape)).flatMap(([name, field]): readonly Case[] => [
    ...badFor(field.shape).map((bad) => [kind, { [name]: bad }, `/fields/${name}`, fieldLabel(name)] as const),
    ...deeper(field.shape).map(
      ([value, below, inner]) =>
        [kind, { [name]: value }, `/fields/${name}${below}`, fieldLabel(inner ?? name)] as const,
    ),
    ...(field.optional === true ? [] : [[kind, {}, `/fields/${name}`, fieldLabel(name)] as const]),
  ]);

const entryOf = (kind: string, fields: unknown): object => ({
  id: makeUlid(NOON_MS, new Uint8Array(10)),
  atMs: NOON_MS,
  kind,
  placeId: 'l2',
  fields,
});

const refused = async (room: Room, sent: Sent): Promise<Problem> => {
  const before = room.journal.sequence();
  const [method, url, payload] = sent;
  const answer = await room.ask('manager', { method, url: `/api/v1${url}`, payload, headers: { 'if-match': '"0"' } });
  const line = `${method} ${url} ${JSON.stringify(payload).slice(0, 120)}: ${answer.body.slice(0, 300)}`;
  expect(answer.statusCode, line).toBeGreaterThanOrEqual(400);
  expect(answer.statusCode, line).toBeLessThan(500);
  expect(answer.headers['content-type'], line).toMatch(/^application\/problem\+json/);
  const problem = answer.json<Problem>();
  expect(problem, line).toMatchObject({ status: answer.statusCode, type: 'about:blank' });
  expect(problem.detail, line).toMatch(SENTENCE);
  expect(room.journal.sequence(), `${line}: something was applied`).toBe(before);
  return problem;
};
type Sent = readonly [method: 'POST' | 'PUT', url: string, payload: object];

describe('a form of the log that is filled in wrongly', () => {
  test('has a word for every field, as the form calls it', () => {
    const unnamed = ENTRY_KIND_NAMES.flatMap((kind) => Object.keys(namesOf(ENTRY_KINDS[kind].shape))).filter(
      (name) => fieldLabel(name) === name,
    );
    expect(unnamed).toEqual([]);
  });

  test('every field of every kind says by its name what is wrong and how to mend it, and nothing is kept', {
    timeout: 60_000,
  }, async () => {
    const room = await gatewayRoom();
    for (const [kind, fields, pointer, label] of ENTRY_KIND_NAMES.flatMap(casesOf)) {
      const problem = await refused(room, ['POST', '/log', entryOf(kind, fields)]);
      const fault = problem.faults?.find((one) => one.pointer === pointer);
      const line = `${kind} ${JSON.stringify(fields).slice(0, 80)} at ${pointer}: ${JSON.stringify(problem.faults)}`;
      expect(fault?.detail.startsWith(`${label}: `), line).toBe(true);
      expect(fault?.detail, line).toMatch(SENTENCE);
      expect(fault?.detail.replace(/“[^”]*”/g, ''), line).not.toMatch(CODE_NAME);
    }
    expect(room.complaints).toEqual([]);
  });

  test.each<[string, object, RegExp, string]>([
    ['of no such kind', entryOf('miracle', {}), /This kind of entry is not known/, '/kind'],
    ['without a tank', { ...entryOf('count', { count: { animals: 5 } }), placeId: undefined }, /^Tank: /, '/placeId'],
    ['at no such tank', { ...entryOf('note', { words: 'x' }), placeId: 'l77' }, /no place “l77”/, '/placeId'],
    ['without a time', { ...entryOf('note', { words: 'x' }), atMs: undefined }, /^When: /, '/atMs'],
    ['from next year', { ...entryOf('note', { words: 'x' }), atMs: NOON_MS + 3e10 }, /^When: .*future/, '/atMs'],
    ['with a name that is none', { ...entryOf('note', { words: 'x' }), id: '17' }, /^Name of the entry: /, '/id'],
    ['about nothing', [], /^The entry: /, ''],
  ])('an entry %s is told so', async (_, sent, sentence, pointer) => {
    const problem = await refused(await gatewayRoom(), ['POST', '/log', sent]);
    expect(problem.faults?.find((one) => one.pointer === pointer)?.detail).toMatch(sentence);
  });
});

const TANK = { id: 'l5', kind: 'tank', name: 'L5', order: 4 };
const WORK = { id: 'b1', channelId: 'l2.contact', pressed: 'on' };
const does = (more: object): object => ({
  ...WORK,
  does: { kind: 'work', placeId: 'l2', work: 'drain-down', minutes: 60, ...more },
});
const writes = (fields: unknown): object => ({
  ...WORK,
  does: { kind: 'entry', placeId: 'l2', entry: 'feeding', fields },
});
const SITE = { name: 'Cove', zone: 'Europe/Lisbon', temperatureUnit: 'C', hours: 24 };
const wants = (quantity: string, lines: object): object => ({ ...TANK, wants: { [quantity]: lines } });

/** What is sent wrongly, where it lies, and the word that the form has for it. */
const SETTINGS: readonly (readonly [...Sent, pointer: string, sentence: RegExp])[] = [
  ['PUT', '/site', { ...SITE, id: 'x', zone: 5 }, '/zone', /^Time zone: 5 must be a text/],
  ['PUT', '/site', { ...SITE, id: 'x', hours: 13 }, '/hours', /^The clock: 13 is not one of 12, 24/],
  ['PUT', '/site', { ...SITE, id: 'x', temperatureUnit: 'K' }, '/temperatureUnit', /^Temperatures in: /],
  ['PUT', '/site', { ...SITE, id: 'x', decimalMark: ';' }, '/decimalMark', /^Between whole and part of a number: /],
  ['PUT', '/site', { ...SITE, id: 'x', altitudeM: 99_000 }, '/altitudeM', /^Height over the sea: .*at most 8800/],
  ['PUT', '/site', { ...SITE, id: 'x', keepReadingsDays: 3 }, '/keepReadingsDays', /^Every reading: .*at least 30/],
  ['POST', '/places', { kind: 'tank' }, '/name', /^Name: /],
  ['POST', '/places', { kind: 'pond', name: 'P' }, '/kind', /^Kind: "pond" is not one of/],
  ['PUT', '/places/l5', { ...TANK, volumeL: -4 }, '/volumeL', /^Volume: -4 is too small/],
  ['PUT', '/places/l5', { ...TANK, volumeL: '200' }, '/volumeL', /^Volume: "200" must be a number/],
  ['PUT', '/places/l5', { ...TANK, stage: 'egg' }, '/stage', /^Holds: "egg" is not one of/],
  ['POST', '/places', { ...TANK, lineId: 'north' }, '/lineId', /no supply line “north”/],
  ['PUT', '/places/l5', { ...TANK, bed: { kind: 'sand', depthM: -1 } }, '/bed/depthM', /^Depth: -1 is too small/],
  [
    'PUT',
    '/places/l5',
    wants('temperature', { limitHigh: 'hot' }),
    '/wants/temperature/limitHigh',
    /^Temperature, limit, high: /,
  ],
  [
    'POST',
    '/places',
    wants('temperature', { limitHigh: 20, targetHigh: 24 }),
    '/wants/temperature/limitHigh',
    /^Temperature: “limit, high” is 20 °C, and must be above “target, to”, which is 24 °C\./,
  ],
  ['POST', '/boards', { board: 'Board 1' }, '/board', /^Board: "Board 1" is not/],
  ['PUT', '/boards/x/settings', { id: 'x', circuitId: 'nowhere' }, '/circuitId', /no power circuit “nowhere”/],
  ['PUT', '/boards/x/settings', { id: 'x', accessPoint: 7 }, '/accessPoint', /^Network: 7 must be a text/],
  ['POST', '/sources/2/mapping', { place: { id: 'l2' }, quantity: 'luck', unit: 'psu' }, '/quantity', /^Measures: /],
  ['POST', '/sources/2/mapping', { place: { id: 'l2' }, quantity: 'salinity' }, '/unit', /^Sends in: /],
  ['POST', '/sources/2/mapping', { quantity: 'salinity', unit: 'psu' }, '/place', /^Tank: /],
  ['POST', '/sources/1/calibration', { slope: 0, offset: 0 }, '/slope', /^Slope: 0 is too small: it must be above 0/],
  ['POST', '/sources/1/calibration', { slope: 1, offset: 'much' }, '/offset', /^Offset: "much" must be a number/],
  ['PUT', '/buttons/b1', does({ minutes: 0 }), '/does', /^What it does: /],
  ['PUT', '/buttons/b1', does({ placeId: 'l77' }), '/does/placeId', /no place “l77”/],
  ['PUT', '/buttons/b1', { ...does({}), channelId: 'l2.temperature' }, '/channelId', /“l2.temperature” is no contact/],
  ['PUT', '/buttons/b1', { ...does({}), pressed: 'hard' }, '/pressed', /^Pressed, it goes: /],
  ['PUT', '/buttons/b1', writes({}), '/does/fields/volumeL', /^Volume: this is missing/],
  [
    'PUT',
    '/buttons/b1',
    writes({ volumeL: -5 }),
    '/does/fields/volumeL',
    /^Volume: -5 is outside of what can be; give 0\.001 to/,
  ],
  ['POST', '/accounts', { name: 'Ines', role: 'king', passphrase: 'a long enough passphrase' }, '/role', /^Role: /],
  [
    'POST',
    '/accounts',
    { name: 'Ines', role: 'crew', passphrase: 'x' },
    '/passphrase',
    /^Passphrase: at least \d+ characters/,
  ],
];

describe('a form of the settings that is filled in wrongly', () => {
  test('says at its field, by its name, what is wrong and how to mend it, and nothing is applied', {
    timeout: 60_000,
  }, async () => {
    const room = await gatewayRoom();
    for (const [method, url, payload, pointer, sentence] of SETTINGS) {
      const problem = await refused(room, [method, url, payload]);
      const line = `${method} ${url} ${JSON.stringify(payload)} at ${pointer}: ${JSON.stringify(problem)}`;
      const fault = problem.faults?.find((one) => one.pointer === pointer);
      expect(fault?.detail, line).toMatch(sentence);
      expect(fault?.detail, line).toMatch(SENTENCE);
    }
    expect(room.complaints).toEqual([]);
  });

  test('settings that were seen by nobody, or changed meanwhile, are not written over', async () => {
    const room = await gatewayRoom();
    const tank = { id: 'l2', kind: 'tank', name: 'L2', order: 0, volumeL: 5 };
    const before = room.journal.sequence();
    for (const headers of [{}, { 'if-match': '"77"' }, { 'if-match': 'x' }]) {
      const answer = await room.ask('manager', { method: 'PUT', url: '/api/v1/places/l2', payload: tank, headers });
      expect([412, 428, 400]).toContain(answer.statusCode);
      expect(answer.json<Problem>().detail).toMatch(SENTENCE);
    }
    expect(room.journal.sequence()).toBe(before);
  });
});
