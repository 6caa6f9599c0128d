import type { Event } from '../event.js';
import type { Hatchery } from '../hatchery.js';
import type { Random } from '../random.js';
import type { Tank } from '../tank.js';
import { HOUR_MS, type Hours, MINUTE_MS } from './span.js';

export const FAILURE_KINDS = [
  'heater-stuck',
  'heater-cold',
  'chiller-off',
  'air-off',
  'flow-left-off',
  'rain',
  'header-lost',
  'bed-foul',
  'leak',
  'power-cut',
] as const;
export type FailureKind = (typeof FAILURE_KINDS)[number];

/** Something real that goes wrong, and everything that it can be noticed by. */
export type Failure = {
  readonly kind: FailureKind;
  readonly fromMs: number;
  readonly events: readonly Event[];
  /** Tanks, lines, air mains and circuits: an alarm about one of them is about this failure. */
  readonly places: readonly string[];
};

/** How often each kind is drawn, against the others (judgement from practice: no statistics were found). */
const OFTEN: { readonly [kind in FailureKind]: number } = {
  'heater-stuck': 4,
  'heater-cold': 2,
  'chiller-off': 1.5,
  'air-off': 2,
  'flow-left-off': 2,
  rain: 1.5,
  'header-lost': 2,
  'bed-foul': 1,
  leak: 2,
  'power-cut': 2,
};

type Draw = {
  readonly plant: Hatchery;
  readonly random: Random;
  readonly fromMs: number;
  readonly endMs: number;
};

const oneOf = (
  { random }: Draw,
  tanks: readonly Tank[],
  make: (tank: Tank) => readonly Event[],
): Omit<Failure, 'kind' | 'fromMs'> | undefined => {
  if (tanks.length === 0) return undefined;
  const tank = random.pick(tanks);
  return { events: make(tank), places: [tank.id] };
};

/** Until long after the night: nobody mends it in the water that both watches see. */
const still = ({ fromMs, endMs }: Draw) => ({ fromMs, toMs: endMs + HOUR_MS });

const onLine = (plant: Hatchery, line: string): readonly string[] => [
  line,
  ...plant.tanks.filter((tank) => tank.line === line).map(({ id }) => id),
];

const powerCut = (draw: Draw): Omit<Failure, 'kind' | 'fromMs'> => {
  const { plant, random, fromMs, endMs } = draw;
  const toMs = Math.min(endMs + HOUR_MS, fromMs + random.uniform(0.7, 9) * HOUR_MS);
  const circuits = random.chance(0.6) ? ['mains-a', 'mains-b'] : ['mains-a'];
  const events = circuits.map((circuit): Event => ({ kind: 'power-cut', circuit, fromMs, toMs }));
  const all = [...plant.lines, ...plant.airMains, ...plant.tanks, ...plant.rooms].map(({ id }) => id);
  return { events, places: [...circuits, ...all] };
};

const MAKE: { readonly [kind in FailureKind]: (draw: Draw) => Omit<Failure, 'kind' | 'fromMs'> | undefined } = {
  'heater-stuck': (draw) =>
    oneOf(
      draw,
      draw.plant.tanks.filter(({ heater }) => heater !== undefined),
      ({ id }) => [{ kind: 'heater-stuck-on', tank: id, ...still(draw) }],
    ),
  'heater-cold': (draw) =>
    oneOf(
      draw,
      draw.plant.tanks.filter(({ heater }) => heater !== undefined),
      ({ id }) => [{ kind: 'heater-dead', tank: id, ...still(draw) }],
    ),
  'chiller-off': (draw) =>
    oneOf(
      draw,
      draw.plant.tanks.filter(({ chiller }) => chiller !== undefined),
      ({ id }) => [{ kind: 'chiller-off', tank: id, ...still(draw) }],
    ),
  'air-off': (draw) => {
    const main = draw.random.pick(draw.plant.airMains).id;
    const tanks = draw.plant.tanks.filter(({ airMain }) => airMain === main).map(({ id }) => id);
    return { events: [{ kind: 'air-off', main, ...still(draw) }], places: [main, ...tanks] };
  },
  'flow-left-off': (draw) =>
    oneOf(
      draw,
      draw.plant.tanks.filter(({ flowLMin }) => flowLMin > 0),
      ({ id }) => [{ kind: 'flow-off', tank: id, declared: false, ...still(draw) }],
    ),
  rain: (draw) => {
    const { plant, random } = draw;
    const line = random.pick(['seed', 'seed', 'brood']);
    const toMs = draw.fromMs + random.uniform(1, 6) * HOUR_MS;
    return {
      events: [{ kind: 'rain', line, mmH: random.uniform(6, 45), fromMs: draw.fromMs, toMs }],
      places: onLine(plant, line),
    };
  },
  'header-lost': (draw) => {
    const line = draw.random.pick(['seed', 'seed', 'brood']);
    return { events: [{ kind: 'intake-pump-off', line, ...still(draw) }], places: onLine(draw.plant, line) };
  },
  'bed-foul': (draw) =>
    oneOf(
      draw,
      draw.plant.tanks.filter(({ bed }) => bed.kind !== 'none'),
      ({ id }) => [{ kind: 'bed-fouling', tank: id, loadPerH: draw.random.uniform(1, 8), ...still(draw) }],
    ),
  leak: (draw) =>
    oneOf(draw, draw.plant.tanks, (tank) => {
      const lMin = tank.flowLMin + tank.volumeL / (60 * draw.random.uniform(0.7, 7));
      return [{ kind: 'leak', tank: tank.id, lMin, ...still(draw) }];
    }),
  'power-cut': powerCut,
};

const drawKind = (random: Random): FailureKind => {
  let left = random.uniform(0, 1) * FAILURE_KINDS.reduce((sum, kind) => sum + OFTEN[kind], 0);
  for (const kind of FAILURE_KINDS) {
    left -= OFTEN[kind];
    if (left < 0) return kind;
  }
  return 'heater-stuck';
};

/** Flow is left off when the adults were fed, in the evening; all else may begin at any hour but the last three. */
const beginOf = (kind: FailureKind, random: Random, { startMs }: Hours): number => {
  const hour = kind === 'flow-left-off' ? random.uniform(0.3, 1.5) : random.uniform(0.5, 7);
  return startMs + Math.round((hour * HOUR_MS) / MINUTE_MS) * MINUTE_MS;
};

/** A failure of a kind that this hatchery can have. */
export const drawFailure = (plant: Hatchery, random: Random, hours: Hours): Failure => {
  for (;;) {
    const kind = drawKind(random);
    const fromMs = beginOf(kind, random, hours);
    const made = MAKE[kind]({ plant, random, fromMs, endMs: hours.endMs });
    if (made !== undefined) return { kind, fromMs, ...made };
  }
};
