import { onTestFinished } from 'vitest';
import { type AlarmEffect, type Alerts, buildAlerts } from '../../gateway/alerts/desk.js';
import { WATCH } from '../../gateway/alerts/people.js';
import { accepted, type Outcome, type Outgoing, type Sender } from '../../gateway/alerts/way.js';
import type { Journal } from '../../gateway/journal/journal.js';
import { openJournal } from '../../gateway/journal/open.js';
import { landingOf } from '../../gateway/landing-of.js';
import type { Alarm } from '../../rules/alarm/alarm.js';
import { type AlarmEvent, alarmStep, isOpen, NORMAL } from '../../rules/alarm/lifecycle.js';
import { type Person, WAYS, type Way } from '../../rules/alerts/person.js';
import type { WatchPlan } from '../../rules/alerts/watch-plan.js';
import type { Finding } from '../../rules/conditions/finding.js';
import { type EngineState, emptyState } from '../../rules/engine/state.js';
import type { Place } from '../../rules/place.js';
import { type HandClock, handClock } from './hand-clock.js';
import { hatchery, tank } from './hatchery.js';
import { NIGHT_MS } from './ladder-night.js';
import { ALWAYS, PEOPLE, settle } from './people.js';

/** What a way was given, and how it answers. */
export type Said = {
  readonly way: Way;
  readonly person: string;
  readonly title: string;
  readonly key: string;
  readonly atMs: number;
};

export type AlertRoom = {
  readonly clock: HandClock;
  readonly journal: Journal;
  readonly alerts: Alerts;
  readonly said: readonly Said[];
  /** How a way answers from now on. */
  answers(way: Way, how: (message: Outgoing) => Outcome | Promise<Outcome>): void;
  /** An event of one alarm, landed with what it causes; the life of the alarm is that of rules/alarm/lifecycle. */
  alarm(event: AlarmEvent, id?: string, more?: Partial<Finding>): void;
  /** The gateway's ticks, second by second. */
  passes(minutes: number): Promise<void>;
  /** Lines of the log about waking, oldest first: `02:10:00 call Asta` and so on. */
  log(): readonly string[];
  /** As a killed process: nothing more is written by it, and the folder is free. */
  dies(): void;
};

type RoomSettings = {
  readonly startMs?: number;
  readonly people?: readonly Person[];
  readonly plan?: WatchPlan;
  readonly random?: () => number;
  readonly tanks?: readonly Place[];
  /** False: dies after each commit, before anything is sent. */
  readonly sends?: boolean;
};

const clockOf = (atMs: number): string => new Date(atMs).toISOString().slice(11, 19);

const openIn = (folder: string): Journal => {
  const opened = openJournal(folder, { durability: 'second' });
  if (!opened.ok) throw new Error(JSON.stringify(opened.fault));
  return opened.value;
};

/** Alarms that live by the real table and are landed as the engine's are. */
const openAlarmTable = (journal: Journal, clock: HandClock, tanks: readonly Place[]) => {
  const alarms = new Map<string, Alarm>();
  const base = emptyState(hatchery(tanks), clock.now());
  const state = (): EngineState => ({
    ...base,
    hatchery: hatchery(tanks),
    judgements: [...alarms.values()].map((alarm) => ({ raw: true, rawMs: 0, on: true, lagMs: 0, alarm })),
  });
  const step = (event: AlarmEvent, id: string, more: Partial<Finding>, by?: string): AlarmEffect | undefined => {
    const atMs = clock.now();
    const fresh: Finding = {
      condition: 'heater-stuck-on',
      placeId: 'l2',
      channelId: 'l2.temperature',
      priority: 'high',
      sinceMs: atMs,
      value: 29.9,
      line: { kind: 'ceiling', side: 'high', value: 32 },
    };
    const before = alarms.get(id) ?? {
      id,
      subject: more.channelId ?? 'l2.temperature',
      finding: fresh,
      life: NORMAL,
      activatedMs: atMs,
      changedMs: atMs,
    };
    const { life, deeds, accepted: taken } = alarmStep(before.life, event, false);
    if (!taken) return undefined;
    const alarm = { ...before, life, changedMs: atMs, finding: { ...before.finding, ...more } };
    if (isOpen(life) || life.inhibits.length > 0) alarms.set(id, alarm);
    else alarms.delete(id);
    return { do: 'alarm', atMs, event, alarm, deeds, ...(by === undefined ? {} : { by }) };
  };
  for (const { id, subject, finding, state: core, activatedMs, changedMs } of journal.alarms.open())
    alarms.set(id, { id, subject, finding, life: { core, inhibits: [] }, activatedMs, changedMs });
  return { state, step };
};

/** A gateway's alerts without its network and engine: real journal, real ladders, a clock turned by hand. */
export const openAlertRoom = (
  folder: string,
  {
    startMs = NIGHT_MS,
    people = PEOPLE,
    plan = ALWAYS,
    random = () => 0.5,
    sends = true,
    tanks = [tank('l1'), tank('l2', { order: 1 })],
  }: RoomSettings = {},
): AlertRoom => {
  const journal = openIn(folder);
  let isClosed = false;
  const close = (): void => {
    if (!isClosed) journal.close();
    isClosed = true;
  };
  onTestFinished(close);
  if (journal.settings.latest(WATCH, WATCH) === undefined) settle(journal, people, plan, startMs);
  const clock = handClock(startMs);
  const table = openAlarmTable(journal, clock, tanks);
  const said: Said[] = [];
  const how = new Map<Way, (message: Outgoing) => Outcome | Promise<Outcome>>();
  const senders = Object.fromEntries(
    WAYS.map((way): [Way, Sender] => [
      way,
      async (message) => {
        said.push({ way, person: message.personId, title: message.words.title, key: message.key, atMs: clock.now() });
        return (how.get(way) ?? (() => accepted()))(message);
      },
    ]),
  );
  const land = (effect: AlarmEffect | undefined): void => {
    if (effect === undefined) return;
    journal.together(() => {
      journal.land(landingOf([effect]));
      alerts.land([effect], table.state());
    });
    if (sends) alerts.landed();
  };
  const alerts = buildAlerts({
    journal,
    clock,
    random,
    senders,
    state: table.state,
    acknowledge: (alarmId, by) => land(table.step('ack', alarmId, {}, by)),
    publicUrl: 'https://water.example',
  });
  alerts.start();
  return {
    clock,
    journal,
    alerts,
    said,
    answers: (way, next) => void how.set(way, next),
    alarm: (event, id = 'a1', more = {}) => land(table.step(event, id, more, event === 'ack' ? 'Asta' : undefined)),
    passes: async (minutes) => {
      for (let count = 0; count < minutes * 60; count += 1) {
        clock.passes(1_000);
        alerts.tick();
        await alerts.idle();
      }
    },
    log: () =>
      journal.wakings.between(0, Number.MAX_SAFE_INTEGER).flatMap(({ atMs, by, deed }) => {
        if (deed.what === 'call') return [`${clockOf(atMs)} ${deed.kind} ${deed.names.join(',')}`];
        return deed.what === 'answer' ? [`${clockOf(atMs)} ${deed.verb} ${by}`] : [];
      }),
    dies: close,
  };
};
