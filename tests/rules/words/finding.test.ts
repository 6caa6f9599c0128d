import { describe, expect, it } from 'vitest';
import { checksFor } from '../../../rules/conditions/checks.js';
import { CONDITION_CODES, type Finding } from '../../../rules/conditions/finding.js';
import { REGIMES } from '../../../rules/place.js';
import { QUANTITIES } from '../../../rules/quantity.js';
import { CHECK_CODES, cautions, checkSentence, isCheckCode } from '../../../rules/words/check.js';
import { EVIDENCE_CODES, evidenceWords } from '../../../rules/words/evidence.js';
import { findingSentence } from '../../../rules/words/finding.js';

const NOW_MS = Date.UTC(2026, 10, 25, 7, 21);
const MINUTE = 60_000;
const CONTEXT = { zone: 'America/New_York', hours: 24, temperatureUnit: 'C', place: 'L2', nowMs: NOW_MS } as const;
const HEATER: Finding = {
  condition: 'heater-stuck-on',
  placeId: 'l2',
  channelId: 'l2.temperature',
  priority: 'high',
  sinceMs: NOW_MS - 41 * MINUTE,
  value: 29.9,
  perHour: 2.9,
  line: { kind: 'ceiling', side: 'high', value: 32 },
  harm: { atMs: NOW_MS + 44 * MINUTE, earliestMs: NOW_MS + 34 * MINUTE, latestMs: NOW_MS + 59 * MINUTE, basis: [] },
  evidence: ['only-this-tank'],
};

describe('a finding in words', () => {
  it('says what is measured, why, and how long there is', () => {
    expect(findingSentence(HEATER, CONTEXT)).toMatchObject({
      headline: '29.9 °C, rising',
      cause: 'heater looks stuck on, only this tank',
      left: '44 min',
      until: 'to the 32 °C ceiling, about 03:05 (02:55 to 03:20)',
      rate: 'up 2.9 °C an hour',
      since: 'since 01:40, 41 min',
    });
  });

  it('is said in the degrees and the clock of the reader', () => {
    const words = findingSentence(HEATER, { ...CONTEXT, hours: 12, temperatureUnit: 'F' });
    expect(words.headline).toBe('85.8 °F, rising');
    expect(words.until).toBe('to the 89.6 °F ceiling, about 3:05 am (2:55 am to 3:20 am)');
  });

  it('does not promise an end where the line may never be reached', () => {
    const { latestMs: _, ...harm } = HEATER.harm ?? { atMs: 0, earliestMs: 0, basis: [] };
    expect(findingSentence({ ...HEATER, harm }, CONTEXT).between).toBe('02:55 or later');
  });

  it('does not count down below zero', () => {
    const words = findingSentence(HEATER, { ...CONTEXT, nowMs: NOW_MS + 50 * MINUTE });
    expect(words.left).toBeUndefined();
    expect(words.until).toContain('may be there already');
  });

  it('says that a limit is not confirmed', () => {
    const { harm: _, ...rest } = HEATER;
    const finding: Finding = {
      ...rest,
      condition: 'above-limit',
      line: { kind: 'limit', side: 'high', value: 26 },
      evidence: [],
      unconfirmed: true,
    };
    expect(findingSentence(finding, CONTEXT).cause).toBe('above the 26 °C limit, limit not confirmed');
  });

  it('gives a silent probe no value to be believed', () => {
    const finding: Finding = { ...HEATER, condition: 'silent', channelId: 'b5.oxygen-saturation', value: 92 };
    expect(findingSentence(finding, CONTEXT).headline).toBe('oxygen silent');
  });

  it('spells units and priority out for a voice', () => {
    expect(findingSentence(HEATER, CONTEXT).spoken).toBe(
      'L2 temperature 29.9 degrees Celsius, heater looks stuck on, only this tank, high priority',
    );
  });

  it('tells what to add only after a measurement by hand', () => {
    const remedy = { add: 'fresh-water', litres: 12.34, overHours: 3 } as const;
    const words = findingSentence({ ...HEATER, remedy }, CONTEXT);
    expect(words.remedy).toBe('Measure by hand; then 12 L of fresh water, over no less than 3.0 h');
  });

  it('names the tanks that share it', () => {
    const finding: Finding = { ...HEATER, condition: 'line-moved-together', places: ['s1', 's2', 's3'], ofPlaces: 4 };
    const nameOf = (id: string): string => id.toUpperCase();
    expect(findingSentence(finding, { ...CONTEXT, nameOf }).together).toBe('S1, S2, S3: 3 of 4');
  });

  it.each(CONDITION_CODES)('leaves no blank in %s, with and without anything known', (condition) => {
    const bare: Finding = { condition, placeId: 'l2', priority: 'low', sinceMs: NOW_MS };
    for (const finding of [
      bare,
      { ...HEATER, condition, boardId: 'north-1', work: 'drain-down', task: 'count' } as const,
    ]) {
      const words = findingSentence(finding, CONTEXT);
      for (const text of Object.values(words)) expect(text).not.toMatch(/[{}]|undefined|NaN/);
      expect(words.headline.length).toBeGreaterThan(2);
      expect(words.cause.length).toBeGreaterThan(2);
    }
  });
});

describe('what to check', () => {
  it('has a sentence for every code that the conditions give, for every regime', () => {
    const codes = QUANTITIES.flatMap((quantity) =>
      REGIMES.flatMap((regime) =>
        (['low', 'high'] as const).flatMap((side) => {
          const place = {
            id: 'l2',
            kind: 'tank',
            name: 'L2',
            order: 0,
            regime,
            bed: { kind: 'sand', depthM: 0.1 },
          } as const;
          return checksFor(side, quantity, place);
        }),
      ),
    );
    expect(codes.filter((code) => !isCheckCode(code))).toEqual([]);
  });

  it('cuts the power before hands go into the water', () => {
    const place = { id: 'l2', kind: 'tank', name: 'L2', order: 0, regime: 'static' } as const;
    expect(checkSentence(checksFor('high', 'temperature', place)[0] ?? '')).toBe(
      'Heater off at the wall before you touch the water',
    );
  });

  it('is never empty, and never swallows a code that it does not know', () => {
    for (const code of CHECK_CODES) expect(checkSentence(code).length).toBeGreaterThan(8);
    for (const code of EVIDENCE_CODES) expect(evidenceWords(code).length).toBeGreaterThan(4);
    expect(checkSentence('look-at-the-moon')).toBe('look at the moon');
  });

  it('warns of mains in water, of going alone, and defers to local rules', () => {
    const { water, alone, law } = cautions();
    expect(water).toContain('power');
    expect(alone).toContain('Tell someone');
    expect(law).toContain('local rules');
  });
});
