import { alarmPicture } from './alarm/alarm.js';
import { DEFAULT_POLICIES } from './alerts/policy.js';
import { hourOf, type WatchPlan } from './alerts/watch-plan.js';
import type { Effect } from './engine/effect.js';
import type { Happening } from './engine/happening.js';
import { emptyState } from './engine/state.js';
import type { Hatchery } from './hatchery.js';
import { replayInto } from './replay.js';
import type { Sounding } from './wire/soundings.js';
import type { DeclaredWork } from './work.js';

export type SoundingsQuestion = {
  readonly hatchery: Hatchery;
  readonly placeId: string;
  /** Recorded, in order of arrival; they may begin before `fromMs`, so that the watch has settled by then. */
  readonly happenings: Iterable<Happening>;
  readonly fromMs: number;
  readonly toMs: number;
  readonly watch: WatchPlan;
};

/**
 * The alarms of one place that recorded happenings would have caused in a span: the same watch as the live one, with
 * nobody called and nothing kept. An alarm beneath declared work, or put aside, does not sound.
 */
export const soundingsOf = ({ hatchery, placeId, happenings, fromMs, toMs, watch }: SoundingsQuestion) => {
  const open = new Map<string, Sounding>();
  const ended: Sounding[] = [];
  let readings = 0;

  const take = (effect: Effect): void => {
    if (effect.do !== 'alarm' || effect.alarm.finding.placeId !== placeId) return;
    const { id, finding, inhibit, activatedMs, state } = alarmPicture(effect.alarm);
    const known = open.get(id);
    const isOver = effect.event === 'cond-off' || effect.event === 'retired' || state === 'normal';
    if (known === undefined) {
      if (inhibit === undefined && !isOver)
        open.set(id, { atMs: Math.max(activatedMs, effect.atMs), finding, wakes: false });
      return;
    }
    if (!isOver) return;
    open.delete(id);
    ended.push({ ...known, endedMs: effect.atMs });
  };

  const counted = function* (): Generator<Happening> {
    for (const happening of happenings) {
      if (happening.kind === 'reading' && happening.atMs >= fromMs) readings += 1;
      yield happening;
    }
  };
  replayInto(emptyState(hatchery, 0), counted(), take);

  const inSpan = [...ended, ...open.values()].filter(({ atMs }) => atMs >= fromMs && atMs < toMs);
  const soundings = inSpan
    .map((one) => ({ ...one, wakes: wakes(one, { watch, zone: hatchery.site.zone, toMs }) }))
    .toSorted((a, b) => a.atMs - b.atMs);
  return { readings, soundings };
};

type Night = { readonly watch: WatchPlan; readonly zone: string; readonly toMs: number };

/** By night, of a priority that calls people, and longer than its ladder waits before the first call. */
const wakes = ({ atMs, endedMs, finding }: Sounding, { watch, zone, toMs }: Night): boolean => {
  const first = DEFAULT_POLICIES.night[finding.priority]?.steps[0];
  if (first === undefined || hourOf(watch, atMs, zone) === 'day') return false;
  return (endedMs ?? toMs) - atMs >= first.afterMs;
};

/** A tank with what supplies it, and nothing else: the rest of the hatchery does not speak in these readings. */
export const hatcheryAround = (hatchery: Hatchery, placeId: string): Hatchery => {
  const place = hatchery.places.find(({ id }) => id === placeId);
  const near = new Set([placeId, place?.lineId, place?.airMainId, place?.circuitId, place?.roomId]);
  const places = hatchery.places.filter(({ id, kind }) => near.has(id) || kind === 'intake');
  const kept = new Set(places.map(({ id }) => id));
  const mappings = hatchery.mappings.filter(({ channelId }) => kept.has(channelId.split('.')[0] ?? ''));
  return { ...hatchery, places, mappings };
};

/** What people had declared, told at the times at which it was known: its end not before it came. */
export const workHappenings = (work: readonly DeclaredWork[], fromMs: number): readonly Happening[] => {
  const edges = work.flatMap((one) => [one.fromMs, ...(one.endedMs === undefined ? [] : [one.endedMs])]);
  const known = (atMs: number): readonly DeclaredWork[] =>
    work
      .filter((one) => one.fromMs <= atMs)
      .map(({ endedMs, ...one }) => (endedMs !== undefined && endedMs <= atMs ? { ...one, endedMs } : one));
  return [...new Set([fromMs, ...edges.filter((atMs) => atMs > fromMs)])]
    .sort((a, b) => a - b)
    .map((atMs) => ({ kind: 'work', atMs, work: known(atMs) }));
};
