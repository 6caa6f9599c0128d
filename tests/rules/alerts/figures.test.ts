import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { backoffMs, parseRetryAfterMs } from '../../../rules/alerts/backoff.js';
import { type Activation, type Aside, performanceOf, standingAt } from '../../../rules/alerts/performance.js';
import type { Priority } from '../../../rules/conditions/finding.js';

const read = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`../../fixtures/${name}`, import.meta.url), 'utf8'));

type Row = { tag: string; priority: Priority; t_on_min: number; t_ack_min: number | null; t_off_min: number | null };
type Floods = readonly { start_min: number; count: number; peak: number; end_min: number }[];
type AlarmLog = {
  readonly log: readonly Row[];
  readonly expected: Readonly<Record<string, unknown>> & { floods: Floods };
};

const { log, expected } = read('alarm-log.json') as AlarmLog;
const MINUTE = 60_000;
const activations = log.map(
  ({ tag, priority, t_on_min, t_ack_min, t_off_min }): Activation => ({
    tag,
    priority,
    onMs: t_on_min * MINUTE,
    ...(t_ack_min === null ? {} : { acknowledgedMs: t_ack_min * MINUTE }),
    ...(t_off_min === null ? {} : { offMs: t_off_min * MINUTE }),
  }),
);
const figures = performanceOf(activations, { fromMs: 0, toMs: 48 * 60 * MINUTE });

describe('how the alarms behave (terms of ISA-18.2 and EEMUA 191, from memory; figures of one invented log of 48 hours)', () => {
  test.each([
    ['avg_per_10min', figures.per10Min],
    ['avg_per_hour', figures.perHour],
    ['avg_per_day', figures.perDay],
    ['max_in_clock_10min', figures.mostInClock10Min],
    ['max_in_sliding_10min', figures.mostInSliding10Min],
    ['pct_10min_periods_over_10', figures.share10MinOver10],
    ['pct_hours_over_30', figures.shareHoursOver30],
    ['pct_time_in_flood', figures.shareInFlood],
    ['distinct_tags', figures.tags],
    ['top1_share_pct', figures.topShare],
    ['top10_share_pct', figures.topTenShare],
    ['fleeting_activations', figures.fleeting],
    ['acknowledged', figures.acknowledged],
    ['never_acknowledged', figures.neverAcknowledged],
    ['pct_acknowledged_within_10_min', figures.shareAcknowledgedIn10Min],
    ['standing_at_1340_min', standingAt(activations, 1340 * MINUTE).standing],
    ['standing_at_2000_min', standingAt(activations, 2000 * MINUTE).standing],
    ['unacknowledged_at_1340_min', standingAt(activations, 1340 * MINUTE).unacknowledged],
  ])('%s', (name, figure) => {
    expect(figure).toBeCloseTo(Number(expected[name]), 4);
  });

  test('names what chatters, what has stood for more than a day, and what comes most', () => {
    expect(figures.chattering).toEqual(expected.chattering_tags);
    expect(figures.staleOver24H).toEqual(expected.stale_tags_over_24h);
    expect(figures.byPriority).toEqual(expected.priority_count);
    expect(figures.mostFrequent.slice(0, 3).map(({ tag, count }) => [tag, count])).toEqual(expected.most_frequent);
  });

  test('counts what was put aside without a reason, an owner or an end: none in this log, and none is aimed for', () => {
    expect(figures.unauthorisedAsides).toBe(Number(expected.unauthorised_inhibits));
    const sound: Aside = { event: 'shelve', by: 'Maren', reason: 'thermometer ordered', untilMs: 60 * MINUTE };
    const { untilMs: _, ...endless } = sound;
    const asides: readonly Aside[] = [
      sound,
      endless,
      { ...sound, reason: ' ' },
      { event: 'out-of-service', by: 'Maren', reason: 'heater being mended' },
      { event: 'out-of-service', reason: 'heater being mended' },
    ];
    const { asides: all, unauthorisedAsides } = performanceOf(activations, { fromMs: 0, toMs: 60 * MINUTE, asides });
    expect([all, unauthorisedAsides]).toEqual([5, 3]);
  });

  test('finds the flood and how long answers took', () => {
    const floods = figures.floods.map(({ startMs, count, peak, endMs }) => ({
      start_min: startMs / MINUTE,
      count,
      peak,
      end_min: endMs / MINUTE,
    }));
    expect(floods).toEqual(expected.floods);
    const took = figures.toAcknowledgeMs;
    const minutes = (ms: number | undefined): number => Math.round((ms ?? 0) / 6) / 10_000;
    expect({
      median: minutes(took?.median),
      p90: minutes(took?.p90),
      max: minutes(took?.max),
      mean: minutes(took?.mean),
    }).toEqual(expected.time_to_ack_min);
  });
});

type Backoff = { attempt: number; uniform_0_1: number; delay_s: number };
const { backoff } = read('delivery.json') as { readonly backoff: readonly Backoff[] };

describe('trying again', () => {
  test.each(backoff)(
    'try $attempt with $uniform_0_1 of the span waits $delay_s s (full jitter: common practice, no source)',
    ({ attempt, uniform_0_1, delay_s }) => {
      expect(backoffMs(attempt, uniform_0_1)).toBeCloseTo(delay_s * 1000, 6);
    },
  );

  test('never sooner than the other end asks for, in seconds or as a date (RFC 9110 section 10.2.3)', () => {
    expect(backoffMs(0, 0.5, 120_000)).toBe(120_000);
    expect(parseRetryAfterMs('120', 0)).toBe(120_000);
    expect(parseRetryAfterMs('Fri, 31 Dec 1999 23:59:59 GMT', Date.UTC(1999, 11, 31, 23, 59, 29))).toBe(30_000);
    expect(parseRetryAfterMs('soon', 0)).toBeUndefined();
  });
});
