import { describe, expect, it } from 'vitest';
import { reviewedChannel } from '../../../rules/review/channel.js';
import type { PatternTank } from '../../../rules/review/pattern.js';
import { type Review, reviewOf } from '../../../rules/review/review.js';
import { reviewWindows } from '../../../rules/review/window.js';
import { bandFor } from '../../../rules/stage/profiles.js';
import { COOL, placesOf, SOURCES, WARM } from '../../../simulator/stories/die-off-plant.js';
import { dieOffAt, dieOffReadings } from '../../../simulator/stories/die-off-water.js';
import { readingsFrom, type Took } from './readings.js';

const HOUR = 3_600_000;
const MINUTE = 60_000;
const DEAD_MS = Date.UTC(2026, 6, 14, 9);
const ALIVE_MS = DEAD_MS - 16 * HOUR;
const dieOff = dieOffAt(DEAD_MS);
const AFFECTED = ['n1', 'n2', 'n3', 'n4'];
const WORK = [{ fromMs: dieOff.drained.fromMs - 5 * MINUTE, toMs: dieOff.drained.toMs + 25 * MINUTE }];

const took = new Map<string, Took[]>(SOURCES.map(({ channelId }) => [channelId, []]));
for (const hour of dieOffReadings(dieOff, 11)) {
  for (const [source, atMs, value] of hour) took.get(SOURCES[source]?.channelId ?? '')?.push([atMs, value]);
}

const band = bandFor('warm-temperate-burrowing-clam', 'post-set', 'temperature');
const LIMIT_HIGH = band?.limit.high ?? Number.NaN;
const places = placesOf(dieOff.startMs);
const placeOf = (id: string): (typeof places)[number] | undefined => places.find((place) => place.id === id);

const patternTank = (placeId: string): PatternTank => ({
  placeId,
  affected: AFFECTED.includes(placeId),
  lineId: placeOf(placeId)?.lineId ?? '',
  airMainId: 'air',
  circuitId: placeOf(placeId)?.circuitId ?? '',
  stage: 'post-set',
  batches: [placeId.startsWith('n') ? 'B7' : 'B8'],
  people: [],
  workDays: [],
});

const buildReview = (): Review => {
  const onset = { certainAliveMs: ALIVE_MS, certainDeadMs: DEAD_MS };
  const windows = reviewWindows(onset, undefined);
  const channels = SOURCES.map(({ channelId }) => {
    const [placeId = '', quantity] = channelId.split('.');
    const isSupply = placeId === WARM.line || placeId === COOL.line;
    const span = { fromMs: dieOff.startMs, toMs: DEAD_MS, maxGapMs: 3 * MINUTE };
    const isTemperature = quantity === 'temperature';
    const limits = { ...(isTemperature ? { limitHigh: LIMIT_HIGH } : { limitLow: 20 }), confirmed: true };
    return reviewedChannel(
      {
        channelId,
        placeId,
        quantity: isTemperature ? 'temperature' : 'salinity',
        part: isSupply ? 'supply' : AFFECTED.includes(placeId) ? 'affected' : 'unaffected',
        fine: { ...readingsFrom(took.get(channelId) ?? [], span), channelId },
        wants: isSupply ? [] : [{ fromMs: 0, wants: limits }],
        work: placeId === 'n2' ? WORK : [],
        fingerprint: '',
      },
      windows,
      'Europe/Lisbon',
    );
  });
  return reviewOf({
    id: 'r',
    start: 'deaths',
    frozenMs: DEAD_MS + HOUR,
    by: 'Asta',
    sequence: 1,
    onset,
    windows,
    places,
    channels,
    tanks: [...WARM.tanks, ...COOL.tanks].map(patternTank),
    work: [],
    alarms: [],
    lines: [],
    record: { calibrations: [], clocks: [], changes: [], putAside: [] },
  });
};
const review = buildReview();

/** From the raw readings in the plainest way: minute steps, straight lines, a silence over three minutes left out. */
const fromRaw = (channelId: string, fromMs: number, isApart: (atMs: number) => boolean) => {
  const readings = (took.get(channelId) ?? []).filter(([atMs]) => atMs >= fromMs && atMs <= DEAD_MS);
  let [hours, degreeHours] = [0, 0];
  for (let n = 1; n < readings.length; n += 1) {
    const [a = [0, 0], b = [0, 0]] = [readings[n - 1], readings[n]];
    if (b[0] - a[0] > 3 * MINUTE || isApart(a[0])) continue;
    const parts = 600;
    for (let part = 0; part < parts; part += 1) {
      const value = Number(a[1]) + ((Number(b[1]) - Number(a[1])) * (part + 0.5)) / parts;
      const share = (b[0] - a[0]) / HOUR / parts;
      if (value > LIMIT_HIGH) {
        hours += share;
        degreeHours += share * (value - LIMIT_HIGH);
      }
    }
  }
  return { hours, degreeHours };
};

const exposureOf = (channelId: string) =>
  review.channels.find((channel) => channel.channelId === channelId)?.exposures['24h'];

describe('A night in which the heater of one line hung', () => {
  it('points along that line: four of five tanks on it against none of six', () => {
    expect(review.pattern.along).toMatchObject({
      kind: 'line',
      id: WARM.line,
      affectedOn: 4,
      of: 5,
      affectedElsewhere: 0,
      ofElsewhere: 6,
    });
    // Fisher's exact test, one-sided: 5 of the 330 ways to choose four tanks of eleven.
    expect(review.pattern.along?.association?.pOneSided).toBeCloseTo(5 / 330, 9);
  });

  it('lists what runs along the same tanks: the circuit and the batch explain them as well', () => {
    expect(review.pattern.rivals.map(({ kind, id, asWell }) => [kind, id, asWell])).toEqual(
      expect.arrayContaining([
        ['circuit', 'north', true],
        ['batch', 'B7', true],
      ]),
    );
    expect(review.cannotSay).toContainEqual({ code: 'rivals', kinds: ['circuit', 'batch'] });
  });

  it('finds that the header moved first, before every tank, minutes after it hung', () => {
    const { first, supplyFirst } = review.firstMover;
    expect(first).toMatchObject({ channelId: 'warm.temperature', where: 'supply' });
    expect(supplyFirst).toBe(true);
    expect(first?.fromMs).toBeGreaterThanOrEqual(dieOff.sticks.fromMs);
    expect(first?.fromMs).toBeLessThan(dieOff.sticks.fromMs + 20 * MINUTE);
  });

  it.each(AFFECTED)('gives %s the exposure that the raw readings give', (id) => {
    const exposure = exposureOf(`${id}.temperature`);
    const isApart = (atMs: number): boolean =>
      id === 'n2' && WORK.some(({ fromMs, toMs }) => atMs >= fromMs && atMs < toMs);
    const plain = fromRaw(`${id}.temperature`, ALIVE_MS - 24 * HOUR, isApart);
    expect(plain.hours).toBeGreaterThan(2);
    expect(exposure?.beyond.limitHigh?.hours).toBeCloseTo(plain.hours, 3);
    expect(exposure?.beyond.limitHigh?.degreeHours).toBeCloseTo(plain.degreeHours, 3);
  });

  it('keeps the silent 40 minutes unknown, with their reason', () => {
    const { unmeasuredH, measuredH, hours } = exposureOf('n1.temperature') ?? {};
    expect(unmeasuredH?.['board-silent']).toBeCloseTo(41 / 60, 1);
    expect((measuredH ?? 0) + (unmeasuredH?.['board-silent'] ?? 0)).toBeCloseTo(hours ?? 0, 2);
    const gap = review.whole.channels.find(({ channelId }) => channelId === 'n1.temperature')?.gaps[0];
    expect(gap?.reason).toBe('board-silent');
    expect(review.cannotSay).toContainEqual(
      expect.objectContaining({ code: 'silent', channelId: 'n1.temperature', reason: 'board-silent' }),
    );
  });

  it('does not count the drain-down, though the probe hung in air that was too warm', () => {
    const { atWork, beyond } = exposureOf('n2.temperature') ?? {};
    expect(atWork?.highest?.value).toBeGreaterThan(LIMIT_HIGH);
    expect(beyond?.limitHigh?.longestFromMs).toBeGreaterThan(dieOff.sticks.fromMs);
    expect(exposureOf('n2.salinity')?.beyond.limitLow?.hours).toBe(0);
    expect(exposureOf('n2.salinity')?.atWork.beyond.limitLow?.hours).toBeGreaterThan(0.2);
  });

  it('leaves the tanks of the other line without exposure beyond a limit', () => {
    for (const id of COOL.tanks) expect(exposureOf(`${id}.temperature`)?.beyond.limitHigh?.hours, id).toBe(0);
  });

  it('says that oxygen and pH were not measured, and names no cause', () => {
    expect(review.cannotSay).toContainEqual({
      code: 'not-measured',
      quantity: 'oxygen-saturation',
      placeIds: AFFECTED,
    });
    expect(review.cannotSay).toContainEqual({ code: 'not-measured', quantity: 'ph', placeIds: AFFECTED });
    expect(review.cannotSay).toContainEqual({ code: 'no-cause' });
  });
});
