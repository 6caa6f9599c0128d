import type { ConditionCode } from '../../../rules/conditions/finding.js';
import type { Hatchery } from '../../../rules/hatchery.js';
import type { Place } from '../../../rules/place.js';
import { type Courses, larvae, site, WATER, type Watch, watch } from '../../support/watch.js';

export type Spell = {
  readonly minutes: number;
  readonly courses: Courses;
  /** Said or done by somebody as it begins. */
  readonly begins?: (watched: Watch) => void;
  /** What else arrives each minute. */
  readonly also?: (watched: Watch) => void;
  /** Probes that give the very same value again and again. */
  readonly stuck?: ReadonlySet<string>;
};

/** One trouble as it comes, from calm water to mended: the same five promises are asked of each. */
export type Scenario = {
  readonly code: ConditionCode;
  readonly subject: string;
  readonly settings: Hatchery;
  /** When the watch begins; at night where it does not matter. */
  readonly startMs?: number;
  /** Minutes of calm before, and its courses where calm is not what it is elsewhere. */
  readonly calm: number;
  readonly quiet?: Courses;
  readonly trouble: Spell;
  readonly mended: Spell;
  /** The channel that a stuck probe would hide it on; undefined where no probe of water is behind it. */
  readonly eye?: string;
};

export const one = (more: Partial<Place> = {}, probes: readonly string[] = WATER): Hatchery =>
  site([larvae('l1', more)], { l1: { probes, board: 'b1' } });

export const supply = (id: string, kind: Place['kind']): Place => ({ id, kind, name: id, order: 9 });

const flowing = (id: string, order: number): Place =>
  larvae(id, { order, regime: 'flow-through', lineId: 'north', airMainId: 'air-a', stage: 'post-set' });

/** Three tanks on one line and one air main, two of them on one board. */
export const northLine = site(
  [supply('north', 'line'), supply('air-a', 'air-main'), flowing('s1', 1), flowing('s2', 2), flowing('s3', 3)],
  {
    s1: { probes: WATER, board: 'b1' },
    s2: { probes: WATER, board: 'b1' },
    s3: { probes: WATER, board: 'b2' },
  },
);

/** Its calm, lived through. */
export const begun = ({ settings, startMs, calm, quiet }: Scenario): Watch => {
  const watched = watch(settings, startMs);
  watched.lives(calm, quiet);
  return watched;
};

/** The same courses, begun so many minutes ago. */
const shifted = (courses: Courses, minutes: number): Courses =>
  Object.fromEntries(
    Object.entries(courses).map(([id, course]) => [
      id,
      typeof course === 'function' ? (minute: number) => course(minute + minutes) : course,
    ]),
  );

/** Lives through a spell minute by minute. */
export const lived = (
  watched: Watch,
  { minutes, courses, begins, also, stuck }: Spell,
  afterMinute: (minute: number) => void = () => {},
): void => {
  begins?.(watched);
  for (let minute = 0; minute < minutes; minute += 1) {
    watched.lives(1, shifted(courses, minute), stuck);
    also?.(watched);
    afterMinute(minute);
  }
};
