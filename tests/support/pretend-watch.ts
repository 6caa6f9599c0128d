import type { Clock } from '../../gateway/clock.js';
import type { Journal } from '../../gateway/journal/journal.js';
import { loadHatchery } from '../../gateway/settings.js';
import type { LandedNews, Told, Watchkeeper } from '../../gateway/watchkeeper-contract.js';
import type { AlarmPicture } from '../../rules/alarm/alarm.js';
import { channelPicture, placePicture } from '../../rules/engine/picture.js';
import { type EngineState, emptyState } from '../../rules/engine/state.js';
import { step } from '../../rules/engine.js';
import type { Change } from '../../rules/wire/feed.js';

/** A watchkeeper that a test moves by hand: alarms are what the test says, settings and the journal are real. */
export type PretendWatch = Watchkeeper & {
  /** Journals a change of this alarm and tells it, as a commit does. */
  readonly alarm: (alarm: AlarmPicture, event?: string) => Change;
  readonly land: (news: Partial<LandedNews>) => void;
};

export const alarmOf = (id: string, more: Partial<AlarmPicture> = {}): AlarmPicture => ({
  id,
  subject: 'l2.temperature',
  finding: { condition: 'above-limit', placeId: 'l2', channelId: 'l2.temperature', priority: 'high', sinceMs: 1_000 },
  priority: 'high',
  state: 'unack',
  activatedMs: 1_000,
  changedMs: 1_000,
  ...more,
});

export const pretendWatch = (journal: Journal, clock: Clock): PretendWatch => {
  const listeners = new Set<(news: LandedNews) => void>();
  const alarms = new Map<string, AlarmPicture>();
  const atStart = loadHatchery(journal, clock.now());
  let state: EngineState = step(emptyState(atStart, clock.now()), {
    kind: 'hatchery',
    atMs: clock.now(),
    hatchery: atStart,
  }).state;
  const land = (news: Partial<LandedNews>): void => {
    const whole = { atMs: clock.now(), readings: 0, channels: [], alarms: [], changes: [], ...news };
    for (const listen of listeners) listen(whole);
  };
  const keep = (alarm: AlarmPicture, event: string): Change => {
    alarms.set(alarm.id, alarm);
    const nothing = { readings: [], revisions: [], malformed: [], boards: [], packets: [] };
    const landed = journal.land({ ...nothing, alarms: [{ atMs: clock.now(), alarm, event }] });
    const [change] = landed.changes;
    if (change === undefined) throw new Error('The journal told no change');
    land({ changes: [change] });
    return change;
  };
  const answer = (alarmId: string, verb: string, by: string): Told => {
    const alarm = alarms.get(alarmId);
    if (alarm === undefined || alarm.state !== 'unack') {
      const why = alarm === undefined ? 'no-such-alarm' : 'already-done';
      return { changes: [], refusal: { do: 'refuse', alarmId, verb: 'ack', why } };
    }
    return { changes: [keep({ ...alarm, state: 'ack', acknowledgedBy: by }, verb)] };
  };
  return {
    state: () => state,
    picture: () => {
      const { site, places } = state.hatchery;
      return {
        atMs: clock.now(),
        sequence: journal.sequence(),
        site: { ...pictured(site), demo: false },
        places: places.map((place) => placePicture(place, [])),
        channels: state.channels.map((_, index) => channelPicture(state, index)),
        alarms: [...alarms.values()].filter((each) => each.state !== 'normal'),
        boards: [],
        link: state.link,
        unnamedSources: 0,
      };
    },
    tell: (happening) => {
      if (happening.kind === 'answer') return answer(happening.alarmId, happening.verb, happening.by);
      state = step(state, happening).state;
      land({ places: state.hatchery.places.map((place) => placePicture(place, [])) });
      return { changes: [] };
    },
    onLanded: (listen) => {
      listeners.add(listen);
      return () => listeners.delete(listen);
    },
    alarm: (alarm, event = 'cond-on') => keep(alarm, event),
    land,
  };
};

const pictured = ({ altitudeM: _, ...site }: EngineState['hatchery']['site']) => site;
