import { batchId, count, line, placeId, sharePct, someAnimals, speciesGroup, stage, ulid } from '../common.js';
import { choice, fieldsOf, flag, listOf, maybe } from '../field.js';

/** Entries that move the stock. */
export const ANIMAL_KINDS = {
  /** Broodstock, larvae or seed that came from elsewhere. */
  'brought-in': fieldsOf({
    batchId,
    speciesGroup,
    stage,
    count,
    origin: line,
    permit: maybe(line),
    certificate: maybe(line),
  }),
  /** Fertilised eggs of a run put into a tank: a batch begins. */
  'eggs-stocked': fieldsOf({
    batchId,
    speciesGroup,
    count,
    runId: maybe(ulid),
    parents: maybe(listOf(batchId, 1, 20)),
    fertilisedPct: maybe(sharePct),
  }),
  count: fieldsOf({ batchId: maybe(batchId), count }),
  deaths: fieldsOf({
    batchId: maybe(batchId),
    animals: someAnimals,
    signs: maybe(line),
    authorityTold: maybe(flag),
  }),
  cull: fieldsOf({ batchId: maybe(batchId), animals: someAnimals, why: maybe(line) }),
  sample: fieldsOf({ batchId: maybe(batchId), animals: someAnimals, purpose: maybe(line), sentTo: maybe(line) }),
  sale: fieldsOf({
    batchId: maybe(batchId),
    animals: someAnimals,
    to: line,
    permit: maybe(line),
    certificate: maybe(line),
  }),
  /** `accept`: a person has seen that limits become wider, and takes them. */
  move: fieldsOf({ to: placeId, animals: maybe(someAnimals), accept: maybe(flag) }),
  split: fieldsOf({ to: listOf(fieldsOf({ placeId, animals: someAnimals }), 1, 20), accept: maybe(flag) }),
  /** Put together with the animals of another place: from then on one batch of its own name. */
  pool: fieldsOf({ to: placeId, batchId: maybe(batchId), accept: maybe(flag) }),
  dump: fieldsOf({ why: line }),
  stage: fieldsOf({ stage, accept: maybe(flag) }),
} as const;

export const SWIMMING = ['all', 'most', 'half', 'few', 'none'] as const;
export const GUT = ['full', 'some', 'pale', 'empty'] as const;
export const SHEET_ENDS = ['back-in', 'to', 'split', 'pooled', 'dumped'] as const;

export const swimming = choice(SWIMMING);
export const gut = choice(GUT);
export const sheetEnd = choice(SHEET_ENDS);
