import { describe, expect, it } from 'vitest';
import { mixed, span } from '../../../rules/stage/figure.js';
import {
  BAND_QUANTITIES,
  bandFor,
  isSpeciesGroupId,
  profileFor,
  SPECIES_GROUPS,
} from '../../../rules/stage/profiles.js';
import { isStage, PROFILED_STAGES, STAGES } from '../../../rules/stage/stage.js';
import { isConfirmed, STANDING_MEANING, STANDINGS } from '../../../rules/stage/standing.js';

describe('A stage and a species group find their figures', () => {
  it('there are eleven stages, an empty tank among them', () => {
    expect(STAGES).toEqual([
      'quarantine',
      'cold-hold',
      'conditioning',
      'ripe',
      'spawning',
      'embryo',
      'larva',
      'setting',
      'post-set',
      'nursery',
      'empty',
    ]);
    expect(isStage('larva')).toBe(true);
    expect(isStage('post_set')).toBe(false);
  });

  it('there are eight species groups, each with seven stages of figures', () => {
    expect(SPECIES_GROUPS.map(({ id }) => id)).toEqual([
      'warm-temperate-burrowing-clam',
      'hard-clam',
      'manila-clam',
      'pacific-oyster',
      'eastern-oyster',
      'bay-scallop',
      'geoduck',
      'atlantic-surfclam',
    ]);
    for (const group of SPECIES_GROUPS) expect(Object.keys(group.stages).sort()).toEqual([...PROFILED_STAGES].sort());
    expect(isSpeciesGroupId('geoduck')).toBe(true);
    expect(isSpeciesGroupId('mussel')).toBe(false);
  });

  it('an empty tank wants nothing', () => {
    expect(profileFor('hard-clam', 'empty')).toBeUndefined();
    for (const quantity of BAND_QUANTITIES) expect(bandFor('hard-clam', 'empty', quantity)).toBeUndefined();
  });

  it('no group has figures for pH: nothing is made up', () => {
    for (const { id } of SPECIES_GROUPS) {
      for (const stage of STAGES) expect(bandFor(id, stage, 'ph')).toBeUndefined();
    }
  });

  it('every other quantity has a band at every stage but the empty one', () => {
    for (const { id } of SPECIES_GROUPS) {
      for (const stage of STAGES.filter((one) => one !== 'empty')) {
        for (const quantity of BAND_QUANTITIES.filter((one) => one !== 'ph')) {
          expect(bandFor(id, stage, quantity), `${id} ${stage} ${quantity}`).toBeDefined();
        }
      }
    }
  });
});

describe('A stage without figures of its own borrows them, and says so', () => {
  it('ripe animals are watched as conditioned ones', () => {
    const ripe = bandFor('pacific-oyster', 'ripe', 'temperature');
    const conditioning = bandFor('pacific-oyster', 'conditioning', 'temperature');
    expect(ripe?.limit).toMatchObject({ low: 15, high: 25 });
    expect(ripe?.target.low).toBe(conditioning?.target.low);
  });

  it('a figure read for conditioning is only an analogy for ripe animals', () => {
    expect(bandFor('pacific-oyster', 'conditioning', 'temperature')?.target.standing).toBe('confirmed');
    expect(bandFor('pacific-oyster', 'ripe', 'temperature')?.target.standing).toBe('analogy');
  });

  it('of two ends only the one that was read becomes an analogy; a placeholder stays one', () => {
    expect(bandFor('eastern-oyster', 'conditioning', 'salinity')?.limit.lowStanding).toBe('confirmed');
    expect(bandFor('eastern-oyster', 'quarantine', 'salinity')?.limit).toMatchObject({
      low: 10,
      high: 35,
      standing: 'mixed',
      lowStanding: 'analogy',
      highStanding: 'placeholder',
    });
  });

  it.each(['quarantine', 'cold-hold'] as const)(
    '%s has a salinity and an oxygen limit, but no temperature',
    (stage) => {
      for (const { id } of SPECIES_GROUPS) {
        expect(bandFor(id, stage, 'temperature')).toEqual({
          target: { standing: 'unknown' },
          limit: { standing: 'unknown' },
        });
        expect(bandFor(id, stage, 'salinity')?.limit.low).toBe(bandFor(id, 'conditioning', 'salinity')?.limit.low);
        expect(bandFor(id, stage, 'oxygen-saturation')?.limit.low).toBeGreaterThan(0);
      }
    },
  );

  it('nothing borrowed counts as confirmed', () => {
    for (const { id } of SPECIES_GROUPS) {
      for (const stage of ['quarantine', 'cold-hold', 'ripe'] as const) {
        for (const quantity of BAND_QUANTITIES) {
          const { target, limit } = bandFor(id, stage, quantity) ?? {};
          const standings = [target, limit].flatMap((one) => [one?.standing, one?.lowStanding, one?.highStanding]);
          expect(standings.some((standing) => standing !== undefined && isConfirmed(standing))).toBe(false);
        }
      }
    }
  });
});

describe('The standing of a figure', () => {
  it('only what was read, or read in a quotation, is confirmed', () => {
    expect(STANDINGS.filter(isConfirmed)).toEqual(['confirmed', 'confirmed-secondary']);
  });

  it('every standing has its meaning in words', () => {
    for (const standing of STANDINGS) expect(STANDING_MEANING[standing]).not.toBe('');
  });

  it('an open end is absent, and zero is a number', () => {
    expect(span(undefined, 20, 'practice')).toEqual({ high: 20, standing: 'practice' });
    expect(span(0, 0, 'memory')).toEqual({ low: 0, high: 0, standing: 'memory' });
    expect(mixed(1, 'practice', 2, 'confirmed').standing).toBe('mixed');
  });
});
