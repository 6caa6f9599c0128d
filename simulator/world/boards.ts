import type { Board } from '../board.js';
import type { Probe, Quantity } from '../probe.js';
import { headerProbes, probe, probesIn } from './build.js';

const WATER: readonly Quantity[] = ['temperature', 'conductivity', 'oxygen-saturation'];
const WATER_MG: readonly Quantity[] = ['temperature', 'salinity', 'oxygen-mg-l'];

const onTanks = (ids: readonly string[], heightM: number, quantities: readonly Quantity[]): readonly Probe[] =>
  ids.flatMap((id) => probesIn(id, heightM, quantities));

const inTank = (id: string, quantity: Quantity): Probe => probe({ kind: 'tank', id }, quantity, 0.1);

/** Six boards, of every form that the gateway reads. */
export const boards: readonly Board[] = [
  {
    id: 'north-1',
    circuit: 'circuit-1',
    periodS: 10,
    phaseS: 1,
    form: 'senml-json',
    stamps: 'seconds',
    clockAheadMs: 400,
    holds: 360,
    probes: [
      ...onTanks(['B1', 'B2', 'B3'], 0.3, WATER),
      ...headerProbes('north', ['temperature', 'conductivity', 'level']),
      probe({ kind: 'air-main', id: 'air-a' }, 'contact', 0),
      probe({ kind: 'circuit', id: 'circuit-1' }, 'contact', 0),
    ],
  },
  {
    id: 'north-2',
    circuit: 'circuit-1',
    periodS: 10,
    phaseS: 4,
    form: 'object',
    stamps: 'seconds',
    clockAheadMs: -1200,
    holds: 0,
    probes: onTanks(['B4', 'B5'], 0.25, WATER_MG),
  },
  {
    id: 'larval-1',
    circuit: 'circuit-2',
    periodS: 5,
    phaseS: 2,
    form: 'bare',
    stamps: 'none',
    clockAheadMs: 0,
    holds: 0,
    probes: [...onTanks(['L1', 'L2'], 0.12, WATER), inTank('L2', 'contact')],
  },
  {
    id: 'larval-2',
    circuit: 'circuit-2',
    periodS: 5,
    phaseS: 0,
    form: 'senml-cbor',
    stamps: 'seconds',
    clockAheadMs: 150,
    holds: 720,
    probes: [
      ...onTanks(['L3', 'L4', 'L5'], 0.2, WATER),
      inTank('L4', 'level'),
      ...headerProbes('larval', ['temperature', 'conductivity', 'level']),
    ],
  },
  {
    id: 'seed-1',
    circuit: 'circuit-2',
    periodS: 10,
    phaseS: 7,
    form: 'object',
    stamps: 'milliseconds',
    clockAheadMs: 2100,
    holds: 360,
    probes: [
      ...onTanks(['S1', 'S2', 'S3'], 0.15, WATER_MG),
      ...headerProbes('seed', ['temperature', 'salinity', 'level']),
    ],
  },
  {
    id: 'seed-2',
    circuit: 'circuit-2',
    periodS: 10,
    phaseS: 3,
    form: 'bare',
    stamps: 'none',
    clockAheadMs: 0,
    holds: 0,
    probes: [
      ...onTanks(['S4', 'U1'], 0.2, WATER),
      inTank('U1', 'flow'),
      probe({ kind: 'air-main', id: 'air-b' }, 'contact', 0),
      probe({ kind: 'circuit', id: 'circuit-2' }, 'contact', 0),
    ],
  },
];
