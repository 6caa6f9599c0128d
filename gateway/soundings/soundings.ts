import { once } from 'node:events';
import { Worker } from 'node:worker_threads';
import type { Hatchery } from '../../rules/hatchery.js';
import type { Place } from '../../rules/place.js';
import { fault, ok, type Result } from '../../rules/result.js';
import { hatcheryAround } from '../../rules/soundings.js';
import type { Soundings, SoundingsAsked } from '../../rules/wire/soundings.js';
import type { DeclaredWork } from '../../rules/work.js';
import { watchAt } from '../alerts/people.js';
import type { Journal } from '../journal/journal.js';
import { workerUrlBeside } from '../journal/worker-url.js';
import { loadHatchery } from '../settings.js';
import type { SoundingsWork } from './worker.js';

export type SoundingsParts = {
  readonly journal: Journal;
  readonly log: { record(): { readonly work: readonly DeclaredWork[] } };
  readonly clock: { now(): number };
};

export type SoundingsFault = 'soundings-busy' | 'soundings-too-long' | 'span-backwards' | 'no-such-place';

/** What recorded readings of a tank would have sounded under its lines and under others. */
export type AskSoundings = (asked: SoundingsAsked) => Promise<Result<Soundings, SoundingsFault>>;

/** A month of a tank with four probes is a million readings: more would keep a processor busy for minutes. */
export const LONGEST_DAYS = 31;
const DAY_MS = 86_400_000;

/** One question at a time, on a thread of its own: the live watch goes on beside it. */
export const buildAskSoundings = ({ journal, log, clock }: SoundingsParts): AskSoundings => {
  let busy = false;
  return async (asked) => {
    const work = soundingsWork({ journal, log, clock }, asked);
    if (!work.ok) return work;
    if (busy) return fault('soundings-busy');
    busy = true;
    try {
      return ok(await inWorker(work.value));
    } finally {
      busy = false;
    }
  };
};

const soundingsWork = (
  { journal, log, clock }: SoundingsParts,
  { fromMs, toMs: wantedMs, place }: SoundingsAsked,
): Result<SoundingsWork, SoundingsFault> => {
  const nowMs = clock.now();
  const toMs = Math.min(wantedMs, nowMs);
  if (fromMs >= toMs) return fault('span-backwards');
  if (toMs - fromMs > LONGEST_DAYS * DAY_MS) return fault('soundings-too-long');
  const whole = loadHatchery(journal, nowMs);
  if (!whole.places.some(({ id }) => id === place.id)) return fault('no-such-place');
  const asSet = hatcheryAround(whole, place.id);
  const near = new Set(asSet.places.map(({ id }) => id));
  const work = log.record().work.filter(({ placeId }) => near.has(placeId));
  return ok({
    ...{ journalPath: journal.path, placeId: place.id, fromMs, toMs, work },
    ...{ asSet, asAsked: withLines(asSet, place), watch: watchAt(journal, nowMs) },
  });
};

/** Only the lines are asked about; what the tank is stays as it is. */
const withLines = (hatchery: Hatchery, { id, wants, stageWants }: Place): Hatchery => ({
  ...hatchery,
  places: hatchery.places.map((place) => {
    if (place.id !== id) return place;
    const { wants: _w, stageWants: _s, held: _h, ...rest } = place;
    return { ...rest, ...(wants === undefined ? {} : { wants }), ...(stageWants === undefined ? {} : { stageWants }) };
  }),
});

const inWorker = async (work: SoundingsWork): Promise<Soundings> => {
  const worker = new Worker(workerUrlBeside(import.meta.url, 'soundings', 'worker'), { workerData: work });
  try {
    const [answer] = await once(worker, 'message');
    return answer as Soundings;
  } finally {
    await worker.terminate();
  }
};
