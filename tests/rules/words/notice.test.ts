import { describe, expect, test } from 'vitest';
import type { FaultNotice, Notice } from '../../../rules/alerts/notice.js';
import { CHECK_CODES } from '../../../rules/words/check.js';
import { gsmLength, isGsm, plainText } from '../../../rules/words/gsm.js';
import { noticeWords } from '../../../rules/words/notice.js';
import { MINUTE, NIGHT_MS } from '../../support/ladder-night.js';

const READER = { zone: 'UTC', hours: 24, temperatureUnit: 'C' } as const;
const notice: FaultNotice = {
  kind: 'call',
  atMs: NIGHT_MS + 11 * MINUTE,
  faultId: 'f1',
  alarmId: 'a1',
  key: 'f1 1 step-1',
  priority: 'high',
  place: { id: 'l2', name: 'L2', stage: 'larva', regime: 'static', batch: 'B14' },
  finding: {
    condition: 'heater-stuck-on',
    placeId: 'l2',
    channelId: 'l2.temperature',
    priority: 'high',
    sinceMs: NIGHT_MS,
    value: 29.9,
    perHour: 2.9,
    line: { kind: 'ceiling', side: 'high', value: 32 },
    harm: {
      atMs: NIGHT_MS + 55 * MINUTE,
      earliestMs: NIGHT_MS + 45 * MINUTE,
      latestMs: NIGHT_MS + 70 * MINUTE,
      basis: ['slope-of-40-min'],
    },
    evidence: ['only-this-tank', 'heater-power-agrees'],
    checks: ['heater-off-at-wall', 'hand-thermometer'],
  },
  readingMs: NIGHT_MS + 10 * MINUTE,
  tanks: ['L2'],
  others: ['B1'],
  told: [{ name: 'Asta' }],
};

describe('the message, read half asleep', () => {
  const words = noticeWords(notice, READER);

  test('says first which tank, what is measured and how long there is', () => {
    expect(words.title).toBe('L2: 29.9 °C, rising, 44 min left');
  });

  test('says what is wrong, when harm comes and with which interval, what is in the tank, how old the reading is, whether it is one tank or many, and who knows', () => {
    const all = words.lines.join('\n');
    for (const part of [
      'stuck on',
      'about 03:05 (02:55 to 03:20)',
      'Larvae in L2, static, batch B14',
      'eading 1 min old',
      'only this tank',
      'lso in alarm: B1',
      'old: Asta',
    ])
      expect(all).toContain(part);
  });

  test('says what to check first, and the cautions beside it: power off before hands touch water, alone at night', () => {
    expect(words.checks[0]).toContain('Heater off at the wall');
    expect(words.cautions.join(' ')).toMatch(/power first.*alone/i);
  });

  test('as a text message holds in 160 letters that every phone shows, the tank first', () => {
    expect(gsmLength(words.text)).toBeLessThanOrEqual(160);
    expect(isGsm(words.text)).toBe(true);
    expect(words.text).toMatch(/^HIGH L2: 29.9 C, rising, 44 min left\. To the 32 C ceiling about 03:05/);
  });

  test('never grows beyond 160 letters, however long the names are', () => {
    const long = { ...notice, place: { ...notice.place, name: 'The very long name of a tank '.repeat(9) } };
    expect(gsmLength(noticeWords(long, READER).text)).toBeLessThanOrEqual(160);
  });

  test('that somebody took it is one line, without checks', () => {
    const taken = noticeWords({ ...notice, kind: 'taken', by: 'Bela' }, READER);
    expect(taken.title).toBe('Bela is going to L2');
    expect(taken.lines).toEqual([]);
  });

  test('many at once are counted, the worst by name', () => {
    const flood: Notice = { kind: 'flood', atMs: NIGHT_MS, key: 'k', worst: [notice], faults: 12 };
    expect(noticeWords(flood, READER).title).toBe('12 faults at once');
    expect(noticeWords(flood, READER).text).toContain('Worst: L2');
  });

  test('leaves no blank unfilled in any form', () => {
    const kinds = ['call', 'again', 'worse', 'offered', 'taken', 'cleared', 'check-in', 'alone', 'nobody'] as const;
    const said = kinds.map((kind) => JSON.stringify(noticeWords({ ...notice, kind, by: 'Asta' }, READER)));
    expect(said.filter((text) => /\{\w+\}/.test(text))).toEqual([]);
  });
});

describe('letters of a text message (3GPP TS 23.038 section 6.2.1)', () => {
  test('accents that the alphabet has stay, others lose theirs, a script it has not stays as it is', () => {
    expect(plainText('crème Ørsted ščú 4 °C')).toBe('crème Ørsted scu 4 C');
    expect(isGsm(plainText('貝'))).toBe(false);
    expect(gsmLength('[€]')).toBe(6);
  });
});

describe('the message of a site in °F, with twelve hours and a decimal comma', () => {
  const UNITED = { zone: 'UTC', hours: 12, temperatureUnit: 'F', decimalMark: 'comma' } as const;
  const words = noticeWords({ ...notice, finding: { ...notice.finding, checks: [...CHECK_CODES] } }, UNITED);
  const all = [words.title, ...words.lines, ...words.checks, ...words.cautions, words.text, words.spoken].join('\n');

  test('says so in mail, push, text and voice alike', () => {
    expect(words.title).toBe('L2: 85,8 °F, rising, 44 min left');
    expect(words.text).toContain('85,8 F');
    expect(words.spoken).toContain('85,8 degrees Fahrenheit');
    expect(all).toContain('to the 89,6 °F ceiling, about 3:05 am (2:55 am to 3:20 am)');
    expect(all).not.toMatch(/°C|Celsius|\d\.\d|(?<![\d:])\d{1,2}:\d\d(?! (am|pm))/);
    expect(gsmLength(words.text)).toBeLessThanOrEqual(160);
  });
});
