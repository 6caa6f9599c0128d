import { describe, expect, it } from 'vitest';
import { advance } from '../../simulator/advance.js';
import type { Hatchery } from '../../simulator/hatchery.js';
import { startHatchery } from '../../simulator/hatchery-step.js';
import type { Water } from '../../simulator/water.js';
import { demoScript } from '../../simulator/world/demo-script.js';
import { saltmarshLane } from '../../simulator/world/saltmarsh-lane.js';

const MINUTE_MS = 60_000;
/** Whatever the hour at which somebody starts the demo: also in the middle of the morning's work. */
const STARTS = [Date.UTC(2026, 5, 17, 3), Date.UTC(2026, 5, 17, 8, 40), Date.UTC(2026, 5, 18, 9, 5)];

const live = (hatchery: Hatchery, startMs: number) => {
  let run = { hatchery, state: startHatchery(hatchery, startMs), schedule: demoScript(hatchery, startMs) };
  return (minute: number) => {
    run = advance(run, startMs + minute * MINUTE_MS, 5).run;
    return run.state;
  };
};

describe.each(STARTS)('the demo started at %s', (startMs) => {
  it('has a heater climbing for everybody to see within five minutes, and all well again after twenty', () => {
    const at = live(saltmarshLane(7), startMs);
    const warm = (minute: number): number => at(minute).water.L2?.temperatureC.lower ?? Number.NaN;
    const before = warm(2);
    expect(warm(5) - before).toBeGreaterThan(1.5);
    // The limit of larvae of this group is 27 °C (stage profile, placeholder).
    expect(warm(8)).toBeGreaterThan(27);
    expect(warm(12)).toBeLessThan(27);
    expect(Math.abs(warm(20) - 24)).toBeLessThan(0.5);
  });

  it('has one tank drained without a word and an oxygen probe gone silent', () => {
    const hatchery = saltmarshLane(7);
    const at = live(hatchery, startMs);
    expect(at(12).water.L4?.volumeL).toBeLessThan(5);
    const silent = demoScript(hatchery, startMs)(startMs + 5 * MINUTE_MS).some((event) => event.kind === 'probe-fault');
    expect(silent).toBe(true);
    expect(at(29).water.L4?.volumeL).toBeGreaterThan(400);
  });
});

describe('the demo left open', () => {
  it('has something that needs a person in every half hour of two days', () => {
    const [startMs = 0] = STARTS;
    const schedule = demoScript(saltmarshLane(7), startMs);
    for (let slot = 0; slot < 96; slot++) {
      const seen = schedule(startMs + (slot * 30 + 7) * MINUTE_MS);
      expect(seen.some((event) => !('declared' in event && event.declared) && event.kind !== 'feeding')).toBe(true);
    }
  });

  it('stays a hatchery for a week: nothing becomes no number, no tank boils or freezes', () => {
    const [startMs = 0] = STARTS;
    const hatchery = saltmarshLane(7);
    let run = { hatchery, state: startHatchery(hatchery, startMs), schedule: demoScript(hatchery, startMs) };
    const odd: string[] = [];
    for (let hour = 1; hour <= 7 * 24; hour++) {
      run = advance(run, startMs + hour * 60 * MINUTE_MS, 60).run;
      for (const [tank, water] of Object.entries(run.state.water)) {
        if (!isWater(water)) odd.push(`${tank} in hour ${hour}: ${JSON.stringify(water)}`);
      }
    }
    expect(odd).toEqual([]);
  });
});

/** Comparisons with NaN are false, so that a value that is no number is not water either. */
const isWater = ({ temperatureC, oxygenMgL, salinity, volumeL }: Water): boolean =>
  [temperatureC.upper, temperatureC.lower].every((value) => value > 5 && value < 32) &&
  [oxygenMgL.upper, oxygenMgL.lower].every((value) => value > 2) &&
  salinity > 25 &&
  salinity < 36 &&
  volumeL > 0;
