import { isSpeciesGroupId } from '../../rules/stage/profiles.js';
import type { Tank } from '../tank.js';
import type { Course } from './course.js';
import type { Night } from './night.js';
import { PERIOD_S } from './plant.js';
import { HOUR_MS, MINUTE_MS, type Span, within } from './span.js';
import { sourcesOf } from './told.js';
import * as stood from './tolerance.js';

/** What a person who goes and looks finds. */
export type Cause = 'failure' | 'harm' | 'unseen' | 'nothing';

/** Unseen for less than this is nothing that anybody would get up for. */
const LEAST_HORIZON_MS = 30 * MINUTE_MS;

/**
 * Half of the shortest time in which this tank could come to harm from full oxygen and its set-point: by its own heater
 * stuck on, or by its animals when air and flow stop. Unseen for longer is a reason to wake somebody.
 */
const horizonMs = (tank: Tank, of: 'warmth' | 'oxygen'): number => {
  const hours = of === 'warmth' ? hoursToHeat(tank) : hoursToNoOxygen(tank);
  return Math.max(LEAST_HORIZON_MS, 0.5 * hours * HOUR_MS);
};

const hoursToHeat = ({ heater, speciesGroup, stage, volumeL }: Tank): number => {
  if (heater === undefined || !isSpeciesGroupId(speciesGroup)) return Infinity;
  const perH = (heater.powerKw * 3600) / (volumeL * 4.1);
  const hot = stood.HEAT_ONE_HOUR_C[speciesGroup].value - heater.setC;
  return Math.min(hot, stood.SPAWNING_RISE_C[stage]?.value ?? hot) / perH;
};

const hoursToNoOxygen = ({ animals, stage, volumeL }: Tank): number =>
  7 / ((1.4 * animals.restMgH) / volumeL) +
  (stood.ANOXIA_HALF_DEAD_H[stage]?.value ?? Infinity) * stood.HARM_SHARE.value;

type Spell = Span & { readonly tank: string };

const QUANTITIES = [
  ['warmth', ['temperature']],
  ['oxygen', ['oxygen-mg-l', 'oxygen-saturation']],
] as const;

const spellsOf = (course: Course, ids: ReadonlySet<number>, startMs: number, endMs: number): readonly Span[] => {
  const spells: Span[] = [];
  let lastMs = startMs;
  for (const { atMs, heard } of course.moments) {
    if (!heard.some(({ sourceId, isHonest }) => isHonest && ids.has(sourceId))) continue;
    if (atMs - lastMs > 4 * PERIOD_S * 1000) spells.push({ fromMs: lastMs, toMs: atMs });
    lastMs = atMs;
  }
  if (endMs - lastMs > 4 * PERIOD_S * 1000) spells.push({ fromMs: lastMs, toMs: endMs + HOUR_MS });
  return spells;
};

/** The times for which a tank's warmth or oxygen cannot be told, and which last long enough for it to be harmed unseen. */
export const unseenSpells = (night: Night, course: Course): readonly Spell[] => {
  const sources = sourcesOf(night.plant);
  return night.plant.tanks.flatMap((tank) =>
    QUANTITIES.flatMap(([of, quantities]) => {
      const ids = new Set(
        sources.flatMap(({ probe: { place, quantity } }, index) =>
          place.kind === 'tank' && place.id === tank.id && (quantities as readonly string[]).includes(quantity)
            ? [index + 1]
            : [],
        ),
      );
      const least = horizonMs(tank, of);
      return spellsOf(course, ids, night.hours.preludeMs, night.hours.endMs)
        .filter(({ fromMs, toMs }) => toMs - fromMs >= least)
        .map((spell) => ({ ...spell, tank: tank.id }));
    }),
  );
};

/** Tanks that a call about a board or a place is about. */
const tanksOf = (night: Night, places: readonly string[]): ReadonlySet<string> => {
  const named = new Set(places);
  const boards = night.plant.boards.filter(({ id }) => named.has(id));
  return new Set([
    ...named,
    ...boards.flatMap(({ probes }) => probes.map(({ place }) => ('id' in place ? place.id : ''))),
  ]);
};

/** Judges calls by what is true, not by what anybody's limit says. */
export const causesIn = (night: Night, course: Course) => {
  const spells = unseenSpells(night, course);
  return ({ atMs, places }: { readonly atMs: number; readonly places: readonly string[] }): Cause => {
    const { failure } = night;
    const about = tanksOf(night, places);
    const isSite = about.has(night.told.site.id);
    if (failure !== undefined && atMs >= failure.fromMs && (isSite || failure.places.some((id) => about.has(id))))
      return 'failure';
    if (course.harmed.some((harm) => about.has(harm.tank))) return 'harm';
    return spells.some((spell) => (isSite || about.has(spell.tank)) && within(spell, atMs)) ? 'unseen' : 'nothing';
  };
};
