import { type LineAssociation, lineAssociation } from '../husbandry/line-association.js';
import type { Stage } from '../stage/stage.js';

/** A tank with animals at the time, and all that it shares with others. */
export type PatternTank = {
  readonly placeId: string;
  readonly affected: boolean;
  readonly lineId?: string;
  readonly airMainId?: string;
  readonly circuitId?: string;
  readonly roomId?: string;
  readonly stage?: Stage;
  readonly batches: readonly string[];
  /** Who wrote or did something there in the 72 hours before. */
  readonly people: readonly string[];
  /** Local days (their first moment) on which work was declared or written there. */
  readonly workDays: readonly number[];
};

export const SUPPLY_KINDS = ['line', 'air-main', 'circuit'] as const;
export const RIVAL_KINDS = ['room', 'batch', 'stage', 'person', 'day'] as const;
export type SharedKind = (typeof SUPPLY_KINDS)[number] | (typeof RIVAL_KINDS)[number];

/** Tanks that share something, counted: 4 of 5 affected on it, 0 of 6 elsewhere. */
export type Shared = {
  readonly kind: SharedKind;
  /** A place id, a batch, a stage, a person, or the first moment of a day. */
  readonly id: string;
  readonly tanks: readonly string[];
  readonly affectedOn: number;
  readonly of: number;
  readonly affectedElsewhere: number;
  readonly ofElsewhere: number;
  /** Absent where every tank shares it: there is nothing to compare with. */
  readonly association?: LineAssociation;
};

export type Pattern = {
  readonly affected: number;
  readonly of: number;
  /** Every supply, the one that the affected tanks follow most closely first. */
  readonly supplies: readonly Shared[];
  /** The supply that they follow, where one stands out. */
  readonly along?: Shared;
  /** What else runs along the same tanks: each would explain them too. */
  readonly rivals: readonly (Shared & { readonly asWell: boolean })[];
};

const VALUES: Readonly<Record<SharedKind, (tank: PatternTank) => readonly (string | undefined)[]>> = {
  line: ({ lineId }) => [lineId],
  'air-main': ({ airMainId }) => [airMainId],
  circuit: ({ circuitId }) => [circuitId],
  room: ({ roomId }) => [roomId],
  batch: ({ batches }) => batches,
  stage: ({ stage }) => [stage],
  person: ({ people }) => people,
  day: ({ workDays }) => workDays.map(String),
};

const countAffected = (tanks: readonly PatternTank[]): number => tanks.filter(({ affected }) => affected).length;

const sharedBy = (tanks: readonly PatternTank[], kind: SharedKind, id: string): Shared => {
  const has = (tank: PatternTank): boolean => VALUES[kind](tank).includes(id);
  const [on, elsewhere] = [tanks.filter(has), tanks.filter((tank) => !has(tank))];
  const [affectedOn, affectedElsewhere] = [countAffected(on), countAffected(elsewhere)];
  const association = lineAssociation({
    affectedOnLine: affectedOn,
    unaffectedOnLine: on.length - affectedOn,
    affectedElsewhere,
    unaffectedElsewhere: elsewhere.length - affectedElsewhere,
  });
  return {
    kind,
    id,
    tanks: on.map(({ placeId }) => placeId),
    affectedOn,
    of: on.length,
    affectedElsewhere,
    ofElsewhere: elsewhere.length,
    ...(association.ok ? { association: association.value } : {}),
  };
};

const KINDS: readonly SharedKind[] = [...SUPPLY_KINDS, ...RIVAL_KINDS];

/** The smaller chance first; what every tank shares last. Of equal ones that with more affected tanks, water before air before power. */
const closer = (a: Shared, b: Shared): number =>
  (a.association?.pOneSided ?? 1) - (b.association?.pOneSided ?? 1) ||
  b.affectedOn - a.affectedOn ||
  KINDS.indexOf(a.kind) - KINDS.indexOf(b.kind) ||
  a.id.localeCompare(b.id);

const everyShared = (tanks: readonly PatternTank[], kinds: readonly SharedKind[]): readonly Shared[] =>
  kinds
    .flatMap((kind) => {
      const ids = new Set(tanks.flatMap((tank) => VALUES[kind](tank)));
      return [...ids].flatMap((id) => (id === undefined ? [] : [sharedBy(tanks, kind, id)]));
    })
    .sort(closer);

const follows = ({ association, affectedOn }: Shared): boolean =>
  affectedOn > 0 && association !== undefined && association.attackFractionOnLine > association.attackFractionElsewhere;

/**
 * Do the affected tanks follow a supply, and what else runs along the same ones? With so few tanks the chance is a
 * courtesy: the counts say more. Nothing here is a cause. Check: 4 of 5 on one line and 0 of 6 elsewhere: chance 0.0152.
 */
export const patternOf = (tanks: readonly PatternTank[]): Pattern => {
  const supplies = everyShared(tanks, SUPPLY_KINDS);
  const [along] = supplies.filter(follows);
  const others = along === undefined ? [] : everyShared(tanks, KINDS);
  const rivals = others.flatMap((one) => {
    if (along === undefined || (one.kind === along.kind && one.id === along.id) || !follows(one)) return [];
    const together = one.tanks.filter((id) => along.tanks.includes(id) && isAffected(tanks, id)).length;
    if (together * 2 < along.affectedOn) return [];
    const asWell = (one.association?.pOneSided ?? 1) <= (along.association?.pOneSided ?? 1) * (1 + 1e-9);
    return [{ ...one, asWell }];
  });
  return {
    affected: countAffected(tanks),
    of: tanks.length,
    supplies,
    rivals,
    ...(along === undefined ? {} : { along }),
  };
};

const isAffected = (tanks: readonly PatternTank[], id: string): boolean =>
  tanks.some(({ placeId, affected }) => placeId === id && affected);
