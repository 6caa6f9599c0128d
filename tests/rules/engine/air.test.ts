import { expect, test } from 'vitest';
import { salinityShape } from '../../../rules/conditions/salinity-shape.js';
import { withoutSince } from '../../../rules/engine/channel-after.js';
import { night } from '../../support/night.js';

test('the first breath of air of a slow probe is no part of the water’s record: no hour and no slope holds it', () => {
  const watch = night();
  const salinity = () => {
    const { channels, plan } = watch.state();
    const channel = channels[plan.channelOf.get('l1.salinity~computed') ?? -1];
    if (channel === undefined) throw new Error('no such channel');
    return channel;
  };
  watch.runs(50);
  // Conductivity falls to nothing; only the reading ten seconds later confirms it.
  watch.runs(10, { 12: 0.03 });
  watch.runs(30);
  const { recent, hour, hours } = salinity();
  expect(Math.min(...recent.map(([, value]) => value))).toBeGreaterThan(29);
  expect(Math.min(hour?.low ?? 99, ...hours.map(([, low]) => low))).toBeGreaterThan(29);
  expect(salinityShape(salinity(), watch.now(), true).kind).toBe('still');
});

test('an hour is counted again from what is left of it', () => {
  const watch = night();
  watch.runs(20);
  const { channels, plan } = watch.state();
  const before = channels[plan.channelOf.get('l1.temperature') ?? -1];
  if (before === undefined) throw new Error('no such channel');
  const [since = 0] = before.recent[10] ?? [];
  const after = withoutSince(before, since);
  expect(after.recent).toEqual(before.recent.slice(0, 10));
  expect(after.hour?.count).toBe(10);
  expect(withoutSince(before, watch.now() + 1)).toBe(before);
});
