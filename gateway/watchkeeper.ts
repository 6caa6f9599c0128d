import { type AlarmPicture, alarmPicture } from '../rules/alarm/alarm.js';
import type { Effect } from '../rules/engine/effect.js';
import { boardPictures, channelPicture, openAlarms, placePicture } from '../rules/engine/picture.js';
import { type EngineState, makeSnapshot, STATE_VERSION } from '../rules/engine/state.js';
import { type Step, step, stepAll } from '../rules/engine.js';
import type { Picture } from '../rules/wire/picture.js';
import type { Clock } from './clock.js';
import type { TakeDeliveries } from './intake/delivery.js';
import type { Journal } from './journal/journal.js';
import type { Landed } from './journal/landing.js';
import { landingOf } from './landing-of.js';
import { quietOddities } from './oddities.js';
import { takeGroup } from './take.js';
import type { Woken } from './wake-up.js';
import type { LandedNews, LandingGuest, Told, Watchkeeper } from './watchkeeper-contract.js';

const SNAPSHOT_MS = 60_000;

export type WatchkeeperParts = {
  readonly journal: Pick<Journal, 'together' | 'land' | 'sources' | 'packets' | 'malformed' | 'sequence'>;
  readonly clock: Clock;
  readonly woken: Woken;
  readonly demo: boolean;
  /** Whoever writes with each alarm change: who is woken for it is decided in the same transaction. */
  readonly guest?: LandingGuest;
};

const isAlarm = (effect: Effect): effect is Extract<Effect, { do: 'alarm' }> => effect.do === 'alarm';

export type Keeping = Watchkeeper & {
  readonly take: TakeDeliveries;
  /** Lets deadlines fire that are due by now. */
  readonly tick: () => void;
  /** The last snapshot, so that a planned stop starts again at once. */
  readonly close: () => void;
};

type Beside = Parameters<typeof landingOf>[1];

/** The owner of the one engine state: everything that moves it comes through here, one after the other. */
export const keepWatch = ({ journal, clock, woken, demo, guest }: WatchkeeperParts): Keeping => {
  const listeners = new Set<(news: LandedNews) => void>();
  const oddities = quietOddities();
  let state = woken.state;
  let snapshotMs = clock.now();

  /** Commits what a step caused; only then is it the state, and only then is anybody told. */
  const commit = (done: Step, readings: number, beside: Beside = {}, mustSnapshot = false): Landed => {
    const atMs = clock.now();
    const isDue = mustSnapshot || atMs - snapshotMs >= SNAPSHOT_MS;
    const snapshot = isDue ? { snapshot: { atMs, version: STATE_VERSION, body: makeSnapshot(done.state) } } : {};
    const landed = land(done, landingOf(done.effects, { ...beside, ...snapshot }));
    const before = state;
    state = done.state;
    if (isDue) snapshotMs = atMs;
    const news = newsOf(before, done, landed, { atMs, readings, malformed: (beside.malformed ?? []).length > 0 });
    tell(news);
    guest?.landed(news.alarms);
    return landed;
  };

  const land = (done: Step, landing: Parameters<Journal['land']>[0]): Landed => {
    const alarms = done.effects.filter(isAlarm);
    if (guest === undefined || alarms.length === 0) return journal.land(landing);
    try {
      return journal.together(() => {
        const landed = journal.land(landing);
        guest.land(alarms, done.state);
        return landed;
      });
    } catch (error) {
      guest.undone();
      throw error;
    }
  };

  const tell = (news: LandedNews): void => {
    for (const listen of listeners) listen(news);
  };

  const newsOf = (
    before: EngineState,
    { state: after, moved }: Step,
    { changes }: Landed,
    { atMs, readings, malformed }: { readonly atMs: number; readonly readings: number; readonly malformed: boolean },
  ): LandedNews => {
    const isResettled = before.plan !== after.plan || before.work !== after.work;
    return {
      atMs,
      readings,
      channels: [...moved].map((index) => channelPicture(after, index)),
      alarms: movedAlarms(before, after),
      changes,
      ...(isResettled ? { places: places(after) } : {}),
      ...(before.boards !== after.boards || malformed ? { boards: boards(after) } : {}),
      ...(before.link === after.link ? {} : { link: after.link }),
    };
  };

  const boards = (now: EngineState): Picture['boards'] => {
    const counts = [...journal.malformed.counts()].filter(([board]) => board !== '');
    return boardPictures(now, new Map(counts));
  };

  const picture = (): Picture => {
    const { site } = state.hatchery;
    const { lastReadingMs } = state;
    const { id, name, zone, temperatureUnit, hours, decimalMark } = site;
    const mark = decimalMark === undefined ? {} : { decimalMark };
    return {
      atMs: clock.now(),
      sequence: journal.sequence(),
      site: { id, name, zone, temperatureUnit, hours, ...mark, demo },
      places: places(state),
      channels: state.channels.map((_, index) => channelPicture(state, index)),
      alarms: openAlarms(state),
      boards: boards(state),
      link: state.link,
      ...(lastReadingMs === undefined ? {} : { lastReadingMs }),
      unnamedSources: journal.sources.list().filter(({ id: source }) => !state.plan.probeOf.has(source)).length,
    };
  };

  commit({ state, effects: woken.effects, moved: new Set() }, 0, {}, true);

  return {
    take: (group) => {
      const { happenings, ...beside } = takeGroup(group, {
        sources: journal.sources,
        fingerprint: journal.packets.fingerprint,
        isNewOddity: oddities,
      });
      const { malformed, boards: said, packets } = beside;
      commit(stepAll(state, happenings), happenings.length, { malformed, boards: said, packets });
    },
    tell: (...happenings): Told => {
      const done = stepAll(state, happenings);
      const { changes } = commit(done, 0, {}, true);
      const refusal = done.effects.find((effect) => effect.do === 'refuse');
      return refusal === undefined ? { changes } : { changes, refusal };
    },
    tick: () => {
      const atMs = clock.now();
      if (state.nextDueMs <= atMs) commit(step(state, { kind: 'tick', atMs }), 0);
    },
    state: () => state,
    picture,
    onLanded: (listen) => {
      listeners.add(listen);
      return () => listeners.delete(listen);
    },
    close: () => {
      commit({ state, effects: [], moved: new Set() }, 0, {}, true);
    },
  };
};

const places = ({ hatchery, work }: EngineState): Picture['places'] =>
  hatchery.places.map((place) => placePicture(place, work));

/** Open alarms whose finding moved while their state did not: those are not journalled, but a screen shows them. */
const movedAlarms = (before: EngineState, after: EngineState): LandedNews['alarms'] => {
  if (before.plan !== after.plan || before.judgements === after.judgements) return [];
  const moved: AlarmPicture[] = [];
  for (let index = 0; index < after.judgements.length; index += 1) {
    const [was, is] = [before.judgements[index]?.alarm, after.judgements[index]?.alarm];
    if (was === undefined || is === undefined || was.finding === is.finding || was.life !== is.life) continue;
    moved.push(alarmPicture(is));
  }
  return moved;
};
