import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkSpawningPlan, SHORTEST_ARGUMENT } from '../../../rules/husbandry/spawning-plan.js';
import { bandFor, profileFor } from '../../../rules/stage/profiles.js';

const GROUP = 'warm-temperate-burrowing-clam';
const cycle = profileFor(GROUP, 'spawning')?.thermalCycle;
const ceilingC = bandFor(GROUP, 'spawning', 'temperature')?.ceiling?.value ?? Number.NaN;

const plan = { ambientC: cycle?.ambientC.high ?? Number.NaN, coolC: 16, holdMin: 30, cycles: 4, ceilingC };
const lowest = { ...plan, riseC: cycle?.riseC.low ?? Number.NaN };
const highest = { ...plan, riseC: cycle?.riseC.high ?? Number.NaN };

describe('A spawning plan is held against the ceiling before it begins (common practice, no source)', () => {
  it('the small rise of 5.6 °C from 21 °C stays 3.4 °C below the ceiling of 30 °C', () => {
    const answer = checkSpawningPlan(lowest);
    if (!answer.ok) throw new Error(JSON.stringify(answer.fault));
    expect(answer.value.peakC).toBeCloseTo(26.6, 9);
    expect(answer.value.headroomC).toBeCloseTo(3.4, 9);
    expect(answer.value).toMatchObject({ warmMin: 120, runMin: 240 });
    expect(answer.value).not.toHaveProperty('argument');
  });

  it('the large rise of 11.1 °C passes the ceiling and is refused', () => {
    expect(checkSpawningPlan(highest)).toMatchObject({
      ok: false,
      fault: { code: 'impossible', because: 'plan-above-ceiling', with: { ceilingC: 30 } },
    });
  });

  it('with an argument it is taken, and the argument stays with it', () => {
    const argument = 'Animals from the lagoon, which is at 32 °C every August.';
    const answer = checkSpawningPlan({ ...highest, argument: `  ${argument} ` });
    expect(answer).toMatchObject({ ok: true, value: { argument } });
  });

  it.each(['', '   ', 'because'])('"%s" is no argument', (argument) => {
    expect(checkSpawningPlan({ ...highest, argument }).ok).toBe(false);
  });

  it('a plan below the ceiling carries no argument', () => {
    const answer = checkSpawningPlan({ ...lowest, argument: 'x'.repeat(SHORTEST_ARGUMENT) });
    expect(answer.ok && 'argument' in answer.value).toBe(false);
  });

  it('a plan up to the ceiling itself is taken, whatever the last bit of the sum', () => {
    expect(checkSpawningPlan({ ...plan, ambientC: 18.9, riseC: 11.1 })).toMatchObject({ ok: true });
  });

  it('no plan above the ceiling gets through without an argument, none below it is stopped by the ceiling', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 17, max: 30, noNaN: true }),
        fc.double({ min: 0, max: 20, noNaN: true }),
        (ambientC, riseC) => {
          const above = ambientC + riseC - ceilingC;
          fc.pre(Math.abs(above) > 1e-6);
          expect(checkSpawningPlan({ ...plan, ambientC, riseC }).ok).toBe(above < 0);
        },
      ),
      { seed: 20_260_303 },
    );
  });

  it('a cool phase that is not cooler is no cycle, and half a cycle is none', () => {
    expect(checkSpawningPlan({ ...lowest, coolC: 27 })).toMatchObject({ fault: { because: 'plan-without-contrast' } });
    expect(checkSpawningPlan({ ...lowest, cycles: 2.5 })).toMatchObject({ fault: { because: 'count-not-whole' } });
  });
});
