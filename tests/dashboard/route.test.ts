import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeRoute, parseRoute, type Route } from '../../dashboard/state/route.js';

describe('addresses', () => {
  it.each<[string, Route]>([
    ['/', { page: 'room' }],
    ['/tanks/l2', { page: 'tank', id: 'l2' }],
    ['/alarms', { page: 'alarms' }],
    ['/alarms/heater-stuck-on.l2.temperature.mhz', { page: 'alarm', id: 'heater-stuck-on.l2.temperature.mhz' }],
    ['/sources', { page: 'sources' }],
    ['/places', { page: 'places' }],
    ['/parts', { page: 'parts' }],
    ['/parts?room=alarmed', { page: 'parts', room: 'alarmed' }],
    ['/sign-in', { page: 'sign-in' }],
    ['/day', { page: 'day' }],
    ['/write', { page: 'write' }],
    ['/write?place=l2&kind=feeding', { page: 'write', place: 'l2', kind: 'feeding' }],
    ['/sheets/l2', { page: 'sheet', id: 'l2' }],
    ['/limits/l2', { page: 'limits', id: 'l2' }],
    ['/batches', { page: 'batches' }],
    ['/batches/M26-07', { page: 'batch', id: 'M26-07' }],
    ['/runs', { page: 'runs' }],
    ['/runs/01KQSZ5M80000000000000000A', { page: 'run', id: '01KQSZ5M80000000000000000A' }],
    ['/round', { page: 'round' }],
    ['/bench', { page: 'bench' }],
    ['/papers', { page: 'papers' }],
    ['/buttons', { page: 'buttons' }],
    ['/site', { page: 'site' }],
    ['/reviews', { page: 'reviews' }],
    ['/reviews?tank=l2&start=larvae-on-bottom', { page: 'reviews', tank: 'l2', start: 'larvae-on-bottom' }],
    [
      '/reviews?tank=l2&entry=01KQSZ5M80000000000000000A',
      { page: 'reviews', tank: 'l2', entry: '01KQSZ5M80000000000000000A' },
    ],
    ['/history?tank=l2', { page: 'history', tank: 'l2' }],
    ['/history?tank=l2&from=1000&to=2000', { page: 'history', tank: 'l2', fromMs: 1000, toMs: 2000 }],
    ['/reading', { page: 'reading' }],
  ])('%s is a page, and its page makes it', (path, route) => {
    expect(parseRoute(path)).toEqual(route);
    expect(makeRoute(route)).toBe(path);
  });

  it.each(['/nowhere', '/tanks', '/tanks/a/b', '/alarms/%E0%A4%A'])('%s is no page, and says so', (path) => {
    expect(parseRoute(path).page).toBe('unknown');
  });

  it('takes a trailing slash and a lost fragment of query for the page', () => {
    expect(parseRoute('/alarms/?from=message')).toEqual({ page: 'alarms' });
  });

  it('keeps every id whole, whatever letters it has', () => {
    const id = fc.string({ minLength: 1, unit: 'grapheme' });
    fc.assert(
      fc.property(id, fc.constantFrom('tank', 'alarm'), (text, page) => {
        const route: Route = page === 'tank' ? { page: 'tank', id: text } : { page: 'alarm', id: text };
        expect(parseRoute(makeRoute(route))).toEqual(route);
      }),
      { seed: 7, numRuns: 500 },
    );
  });
});
