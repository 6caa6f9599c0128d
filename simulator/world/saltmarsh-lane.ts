import type { Hatchery } from '../hatchery.js';
import { seedFrom } from '../random.js';
import { boards } from './boards.js';
import { larvalLine, larvalTanks } from './larval-line.js';
import { northLine, northTanks } from './north-line.js';
import { seedLine, seedTanks } from './seed-line.js';

/** An invented clam hatchery on an invented shore: fifteen tanks on three lines. Its people are Ines, Tomas and Maren. */
export const saltmarshLane = (seed: number): Hatchery => ({
  site: { id: 'saltmarsh-lane', name: 'Saltmarsh Lane Hatchery' },
  seed,
  climate: { seed: seedFrom(seed, 'climate'), meanC: 16, dayC: 5, spellC: 2.5, sunHours: 0, wetness: 0.35 },
  rooms: [
    { id: 'broodstock-room', circuit: 'circuit-1', heatedToC: 16, holdH: 9, sunC: 2, pumpsC: 1 },
    { id: 'larval-room', circuit: 'circuit-2', heatedToC: 21, holdH: 9, sunC: 1, pumpsC: 2 },
    { id: 'seed-shed', circuit: 'circuit-2', heatedToC: undefined, holdH: 2.5, sunC: 5, pumpsC: 0.5 },
  ],
  circuits: ['circuit-1', 'circuit-2'],
  airMains: [
    { id: 'air-a', circuit: 'circuit-1' },
    { id: 'air-b', circuit: 'circuit-2' },
  ],
  lines: [northLine, larvalLine, seedLine],
  tanks: [...northTanks, ...larvalTanks, ...seedTanks],
  boards,
});

/** What the lines are called on the wall. */
export const LINE_NAMES: { readonly [line: string]: string } = {
  north: 'North line',
  larval: 'Larval line',
  seed: 'Seed line',
};

export const PEOPLE = ['Ines', 'Tomas', 'Maren'] as const;
