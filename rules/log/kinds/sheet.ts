import { animals, atMs, batchId, cellsMl, count, line, placeId, someAnimals, stage, volumeL } from '../common.js';
import { fieldsOf, flag, listOf, maybe, number, whole } from '../field.js';
import { gut, sheetEnd, swimming } from './animals.js';

/** The drain-down sheet: one entry from the opened drain to where the animals are now. */
export const SHEET_KINDS = {
  'drain-down': fieldsOf({
    startedMs: maybe(atMs),
    screensUm: maybe(listOf(whole(1, 10_000, 'µm'), 1, 10)),
    /** Of what is put back, after dead and culled ones were taken out. */
    count: maybe(count),
    lengthsUm: maybe(listOf(number(10, 100_000, 'µm'), 1, 200)),
    swimming: maybe(swimming),
    gut: maybe(gut),
    dead: maybe(animals),
    culled: maybe(animals),
    fedL: maybe(volumeL),
    fedToCellsMl: maybe(cellsMl),
    /** The stage that they are in from now on, where it changes. */
    stage: maybe(stage),
    end: sheetEnd,
    /** Of `to` and `pooled`. */
    placeId: maybe(placeId),
    /** Of `split`: where how many went; the tank they came from may be one of them. */
    to: maybe(listOf(fieldsOf({ placeId, animals: someAnimals }), 1, 20)),
    /** Of `pooled`: what the mixed batch is called. */
    batchId: maybe(batchId),
    /** Of `dumped`. */
    why: maybe(line),
    accept: maybe(flag),
  }),
} as const;
