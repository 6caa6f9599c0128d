import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { oxygenSolubilityMgL } from '../../rules/seawater/oxygen.js';
import { OXYGEN_LOSS_HORIZONS, OXYGEN_LOSS_PER_DEGREE } from '../../rules/stage/oxygen-loss.js';
import { bandFor, isSpeciesGroupId, profileFor, SPECIES_GROUPS } from '../../rules/stage/profiles.js';
import { SOURCES } from '../../rules/stage/source.js';
import { isStage, PROFILED_STAGES } from '../../rules/stage/stage.js';
import { STANDINGS } from '../../rules/stage/standing.js';

const isObject = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** Every object inside a profile, with its path. */
const inside = (value: unknown, path: string): readonly (readonly [string, Readonly<Record<string, unknown>>])[] =>
  isObject(value)
    ? [[path, value] as const, ...Object.entries(value).flatMap(([key, child]) => inside(child, `${path}.${key}`))]
    : [];

const EVERY_OBJECT = SPECIES_GROUPS.flatMap((group) =>
  PROFILED_STAGES.flatMap((stage) => inside(group.stages[stage], `${group.id} ${stage}`)),
);

const EVERY_FIGURE = EVERY_OBJECT.filter(([, object]) =>
  ['value', 'low', 'high', 'everyH', 'need', 'standing'].some((key) => key in object),
);

const at = (value: unknown, path: readonly string[]): unknown => {
  const [first, ...rest] = path;
  if (first === undefined) return value;
  return isObject(value) ? at(value[first], rest) : undefined;
};

/** The standing of the end named last in the path. */
const standingAt = (profile: unknown, path: readonly string[]): unknown => {
  const figure = at(profile, path.slice(0, -1));
  return at(figure, [`${path.at(-1)}Standing`]) ?? at(figure, ['standing']);
};

describe('Profiles hold the figures of their sources', () => {
  const rows = readFileSync(new URL('../fixtures/stage-figures.csv', import.meta.url), 'utf8')
    .split('\n')
    .filter((line) => line !== '' && !line.startsWith('#'))
    .slice(1)
    .map((line) => line.split(','));

  it('80 figures are compared', () => expect(rows).toHaveLength(80));

  for (const [group = '', stage = '', figure = '', value = '', standing = '', source = ''] of rows) {
    it(`${group}, ${stage}: ${figure} is ${value}, ${standing} (${source || 'no source'})`, () => {
      if (!isSpeciesGroupId(group) || !isStage(stage)) throw new Error(`${group} ${stage} is unknown`);
      const profile = profileFor(group, stage);
      const path = figure.split('.');
      expect(at(profile, path)).toBe(Number(value));
      expect(standingAt(profile, path)).toBe(standing);
      expect(at(profile, [...path.slice(0, -1), 'source']) ?? '').toBe(source);
    });
  }
});

describe('The warm-temperate burrowing clam is kept as is common practice (no source)', () => {
  const group = 'warm-temperate-burrowing-clam';
  const practice = (low: number | undefined, high: number) => ({
    ...(low === undefined ? {} : { low }),
    high,
    standing: 'practice',
  });

  it('broodstock is conditioned at 18.3 to 23.9 °C, never above 30 °C', () => {
    expect(bandFor(group, 'conditioning', 'temperature')).toMatchObject({
      target: practice(18.3, 23.9),
      ceiling: { value: 30, standing: 'practice' },
    });
  });

  it('broodstock is conditioned at a salinity of 28 to 30', () => {
    expect(bandFor(group, 'conditioning', 'salinity')).toMatchObject({ target: practice(28, 30) });
  });

  it('embryos stand at 1 to 2 per mL and are shelled and feeding at 24 h', () => {
    expect(profileFor(group, 'embryo')).toMatchObject({
      stocking: { embryosPerMl: { target: practice(1, 2) } },
      shelledAndFeedingH: { value: 24, standing: 'practice' },
    });
  });

  it('larvae are kept at 22.2 to 30 °C and a salinity of 28 to 35', () => {
    expect(bandFor(group, 'larva', 'temperature')).toMatchObject({ target: practice(22.2, 30) });
    expect(bandFor(group, 'larva', 'salinity')).toMatchObject({ target: practice(28, 35) });
  });

  it('larvae get 50,000 to 100,000 cells/mL and new water daily', () => {
    expect(profileFor(group, 'larva')).toMatchObject({
      algaeCellsMl: { target: practice(50_000, 100_000) },
      waterChange: { everyH: 24, standing: 'practice' },
    });
  });

  it('larvae are ready to set on day 6 to 9 at 200 to 220 µm', () => {
    expect(profileFor(group, 'larva')).toMatchObject({
      readyToSetD: practice(6, 9),
      settleLengthUm: practice(200, 220),
    });
  });

  it('they set at 21,500 to 32,300 per m² with 100,000 to 150,000 cells/mL', () => {
    const setting = profileFor(group, 'setting');
    expect(setting).toMatchObject({ algaeCellsMl: { target: practice(100_000, 150_000) } });
    const target = setting?.stocking.larvaePerCm2?.target;
    expect(target?.standing).toBe('practice');
    expect((target?.low ?? 0) * 10_000).toBeCloseTo(21_500, 6);
    expect((target?.high ?? 0) * 10_000).toBeCloseTo(32_300, 6);
  });

  it('a thermal cycle rises 5.6 to 11.1 °C from about 21 °C, and its upper end passes the ceiling', () => {
    const spawning = profileFor(group, 'spawning');
    expect(spawning?.thermalCycle).toMatchObject({ ambientC: practice(21, 21), riseC: practice(5.6, 11.1) });
    expect(spawning?.temperatureC.ceiling).toMatchObject({ value: 30, standing: 'practice' });
    expect(spawning?.thermalCycle?.peakC.high).toBeGreaterThan(30);
  });

  it('the limits around these targets are placeholders', () => {
    for (const [stage, quantity] of [
      ['conditioning', 'temperature'],
      ['conditioning', 'salinity'],
      ['larva', 'temperature'],
      ['larva', 'salinity'],
    ] as const) {
      expect(bandFor(group, stage, quantity)?.limit.standing).toBe('placeholder');
    }
  });
});

describe('Every figure says how far it can be trusted', () => {
  it('every figure of every profile has a standing, both ends of a mixed one', () => {
    const without = EVERY_FIGURE.filter(([, { standing, lowStanding, highStanding }]) => {
      const known = (what: unknown): boolean => STANDINGS.some((name) => name === what);
      return !known(standing) || (standing === 'mixed') !== (known(lowStanding) && known(highStanding));
    });
    expect(EVERY_FIGURE.length).toBeGreaterThan(1000);
    expect(without.map(([path]) => path)).toEqual([]);
  });

  it('every figure that counts as read names its source', () => {
    const withoutSource = EVERY_FIGURE.filter(
      ([, { standing, lowStanding, highStanding, source }]) =>
        source === undefined && [standing, lowStanding, highStanding].some((one) => one === 'confirmed'),
    );
    expect(withoutSource.map(([path]) => path)).toEqual([]);
  });

  it('no placeholder and no common practice is dressed up with a source, unless a note says what the source saw', () => {
    const dressed = EVERY_FIGURE.filter(
      ([, { standing, source, note }]) =>
        (standing === 'placeholder' || standing === 'practice') && source !== undefined && note === undefined,
    );
    expect(dressed.map(([path]) => path)).toEqual([]);
  });

  it('every source key resolves to a citation and to what of it was seen', () => {
    const keys = EVERY_FIGURE.flatMap(([, { source }]) => (typeof source === 'string' ? [source] : []));
    for (const key of keys) expect(at(SOURCES, [key, 'cite']), key).toMatch(/\w{4}/);
    for (const source of Object.values(SOURCES)) expect(source.seen).not.toBe('');
  });
});

describe('Target lies inside limit, limit inside ceiling', () => {
  const ends = (span: unknown) => {
    const low = at(span, ['low']);
    const high = at(span, ['high']);
    return { low: typeof low === 'number' ? low : -Infinity, high: typeof high === 'number' ? high : Infinity };
  };
  const bands = EVERY_OBJECT.filter(([, object]) => 'target' in object && 'limit' in object);

  it('every stage of every group brings at least five bands', () =>
    expect(bands.length).toBeGreaterThanOrEqual(SPECIES_GROUPS.length * PROFILED_STAGES.length * 5));

  it('no limit is tighter than its target, where both have that end', () => {
    const tighter = bands.filter(([, { target, limit }]) => {
      const [wanted, alarm] = [ends(target), ends(limit)];
      const low = wanted.low !== -Infinity && alarm.low > wanted.low;
      const high = wanted.high !== Infinity && alarm.high < wanted.high;
      return low || high;
    });
    expect(tighter.map(([path]) => path)).toEqual([]);
  });

  it('no limit lies above its ceiling, and each spawning stage has a ceiling', () => {
    const above = bands.filter(
      ([, { limit, ceiling }]) => ends(limit).high > ends({ high: at(ceiling, ['value']) }).high,
    );
    expect(above.map(([path]) => path)).toEqual([]);
    for (const group of SPECIES_GROUPS) expect(group.stages.spawning.temperatureC.ceiling, group.id).toBeDefined();
  });

  it('no span runs backwards', () => {
    const backwards = EVERY_FIGURE.filter(([, span]) => ends(span).low > ends(span).high);
    expect(backwards.map(([path]) => path)).toEqual([]);
  });
});

describe('Oxygen in mg/L follows from the share of saturation', () => {
  it('each band in mg/L is its band in per cent of the water named in its note, to the decimal shown', () => {
    for (const group of SPECIES_GROUPS) {
      for (const stage of PROFILED_STAGES) {
        const { oxygenMgL, oxygenSaturationPct } = group.stages[stage];
        const water = /of ([\d.]+) mg\/L, air saturation at ([\d.]+) °C and salinity ([\d.]+)/.exec(
          oxygenMgL.target.note ?? '',
        );
        const [, , temperatureC, salinity] = (water ?? []).map(Number);
        const air = oxygenSolubilityMgL({ temperatureC: temperatureC ?? NaN, salinity: salinity ?? NaN });
        if (!air.ok) throw new Error(`${group.id} ${stage}: ${JSON.stringify(air.fault)}`);
        for (const part of ['target', 'limit'] as const) {
          const [mgL, pct] = [ends(oxygenMgL[part]), ends(oxygenSaturationPct[part])];
          // Half of the last decimal, and the 0.003 mg/L by which two published equations of solubility differ.
          expect(Math.abs(mgL.low - (pct.low / 100) * air.value), `${group.id} ${stage}`).toBeLessThan(0.055);
          expect(Math.abs(mgL.high - (pct.high / 100) * air.value), `${group.id} ${stage}`).toBeLessThan(0.055);
        }
      }
    }
  });

  const ends = ({ low = NaN, high = NaN }: { readonly low?: number; readonly high?: number }) => ({ low, high });
});

describe('How long animals stand a loss of oxygen', () => {
  it('early oyster larvae without oxygen: half dead after 11 h, ready ones after 51 h, juveniles 150 h (Widdows and others 1989, abstract)', () => {
    expect(OXYGEN_LOSS_HORIZONS.earlyLarva82UmAnoxiaH).toMatchObject({ value: 11, source: 'WIDDOWS89' });
    expect(OXYGEN_LOSS_HORIZONS.pediveliger312UmAnoxiaH).toMatchObject({ value: 51, source: 'WIDDOWS89' });
    expect(OXYGEN_LOSS_HORIZONS.juvenileAnoxiaH).toMatchObject({ value: 150, source: 'WIDDOWS89' });
  });

  it('newly set oysters: 84 h without oxygen, 131 h with little (Baker and Mann 1992, abstract)', () => {
    expect(OXYGEN_LOSS_HORIZONS.newlySetAnoxiaH).toMatchObject({ value: 84, source: 'BAKER92' });
    expect(OXYGEN_LOSS_HORIZONS.newlySetHypoxiaH).toMatchObject({ value: 131, source: 'BAKER92' });
  });

  it('adult Manila clams at 0.5 mg/L: 422 h (Li and others 2019, abstract)', () => {
    expect(OXYGEN_LOSS_HORIZONS.adultManilaClamAtHalfMgLH).toMatchObject({ value: 422, source: 'LI19' });
  });

  it('adult clams in air: 72 h at 20 °C, 48 h at 28 °C, 10 h at 35 °C (Sobral and Widdows 1997, abstract)', () => {
    expect(OXYGEN_LOSS_HORIZONS.adultClamInAirAt20CH).toMatchObject({ value: 72, source: 'SOBRAL97' });
    expect(OXYGEN_LOSS_HORIZONS.adultClamInAirAt28CH).toMatchObject({ value: 48, source: 'SOBRAL97' });
    expect(OXYGEN_LOSS_HORIZONS.adultClamInAirAt35CH).toMatchObject({ value: 10, source: 'SOBRAL97' });
  });

  it('each degree of warming takes 3.95 h and adds 0.07 mg/L (Vaquer-Sunyer and Duarte 2011, abstract)', () => {
    expect(OXYGEN_LOSS_PER_DEGREE.survivalTimeH).toMatchObject({ value: -3.95, source: 'VSD11' });
    expect(OXYGEN_LOSS_PER_DEGREE.lethalThresholdMgL).toMatchObject({ value: 0.07, source: 'VSD11' });
  });
});
