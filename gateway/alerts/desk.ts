import type { AlarmPicture } from '../../rules/alarm/alarm.js';
import { alarmPicture } from '../../rules/alarm/alarm.js';
import type { AlertHappening } from '../../rules/alerts/alerts.js';
import type { FaultAnswer } from '../../rules/alerts/answer.js';
import type { Alerting } from '../../rules/alerts/faults.js';
import { personBehind } from '../../rules/alerts/person.js';
import type { Effect } from '../../rules/engine/effect.js';
import { openAlarms } from '../../rules/engine/picture.js';
import type { EngineState } from '../../rules/engine/state.js';
import { fault, ok, type Result } from '../../rules/result.js';
import type { FaultPicture } from '../../rules/wire/waking.js';
import type { Clock } from '../clock.js';
import type { Journal } from '../journal/journal.js';
import type { WakingDeed } from '../journal/wakings.js';
import { buildAnswerLinks, type LinkClaim } from './answer-link.js';
import { faultPicture } from './fault-picture.js';
import { buildKeeping } from './keeping.js';
import { headlineOf, refreshed } from './messages.js';
import { numbersAt } from './people.js';
import { buildSending } from './sending.js';
import { pretendAlarm, type Trouble } from './trouble.js';
import type { Senders } from './way.js';
import { type Scene, sceneAt } from './world.js';

export type AlarmEffect = Extract<Effect, { do: 'alarm' }>;

export type AlertsParts = {
  readonly journal: Pick<Journal, 'ladders' | 'outbox' | 'settings' | 'wakings' | 'together' | 'meta'>;
  readonly clock: Pick<Clock, 'now'>;
  readonly senders: Senders;
  readonly state: () => EngineState;
  /** Tells the engine that a person acknowledges an alarm. */
  readonly acknowledge: (alarmId: string, by: string, atMs: number) => void;
  readonly publicUrl?: string;
  /** Uniform in [0, 1), for the backoff. */
  readonly random: () => number;
};

export type AnswerFault = { readonly code: 'no-such-fault' | 'no-such-person' | 'nobody-to-pass-to' };

/** Who is woken, how, until when: the shell around rules/alerts. */
export type Alerts = {
  /** Inside the transaction that lands them: ladders and messages that alarm changes cause. `after`: the engine then. */
  land(effects: readonly AlarmEffect[], after: EngineState): void;
  /** The transaction was committed: what it wrote is the state, and is sent. `moved`: open alarms whose finding moved. */
  landed(moved?: readonly AlarmPicture[]): void;
  /** The transaction was rolled back. */
  undone(): void;
  /** The engine is there: from now on messages leave, and `state` is asked. */
  start(): void;
  /** Each second: what is due is called, what waits is sent. */
  tick(): void;
  answer(faultId: string, answer: Omit<FaultAnswer, 'atMs'>): Result<FaultPicture, AnswerFault>;
  faults(): readonly FaultPicture[];
  fault(id: string): FaultPicture | undefined;
  readLink(token: string): LinkClaim | undefined;
  /** Where it is and what is wrong, in words as things stand now. */
  headline(id: string): { readonly place: string; readonly headline: string };
  /** Trouble that is no alarm of the engine, as the silence of another gateway; the same again changes nothing. */
  raise(trouble: Trouble): void;
  /** It is over. */
  clear(id: string): void;
  /** A message outside any ladder, as of a drill; false when the very same was made before. */
  post(messages: readonly Parameters<Journal['outbox']['add']>[0][]): number;
  /** Resolves when nothing is on its way. */
  idle(): Promise<void>;
};

export const buildAlerts = (parts: AlertsParts): Alerts => {
  const { journal, clock } = parts;
  const kept = journal.ladders.open();
  // A machine without a clock of its own may start in the past: what is due must not wait for it to catch up.
  let heardMs = Math.max(clock.now(), ...kept.map(({ changedMs }) => changedMs));
  let alerting: Alerting = { faults: Object.fromEntries(kept.map((one) => [one.id, one])), nowMs: heardMs };
  let pending: Alerting | undefined;
  const troubles = new Map<string, Trouble['says']>();
  let started = false;
  const keeping = buildKeeping(journal, clock.now, (call) => troubles.get(call.faultId)?.(call));
  journal.outbox.recover(RESEND_MS);

  const scene = (state = parts.state()): Scene => sceneAt(journal, state, clock.now());

  const together = (happenings: readonly AlertHappening[]): void => {
    alerting = journal.together(() => keeping.run(happenings, scene(), alerting));
  };

  const sending = buildSending({
    ...parts,
    links: buildAnswerLinks(journal),
    reader: () => scene().reader,
    addressOf: (personId, way) =>
      scene()
        .people.find(({ id }) => id === personId)
        ?.ways.find((one) => one.way === way)?.address,
    numbers: () => numbersAt(journal, clock.now(), parts.state().hatchery.site.zone),
    refreshed: (message) => refreshed(message, alerting, scene(), clock.now()),
    onFailed: ({ faultId, label }) => {
      if (alerting.faults[faultId] !== undefined) together([{ kind: 'failed', atMs: clock.now(), faultId, label }]);
    },
  });

  const tick = (): void => {
    const atMs = clock.now();
    const backMs = heardMs - atMs;
    if (backMs > CLOCK_SLACK_MS) {
      journal.outbox.shift(backMs);
      alerting = { ...alerting, nowMs: heardMs };
    }
    heardMs = atMs;
    if (backMs > CLOCK_SLACK_MS || isDue(alerting, atMs)) together([{ kind: 'tick', atMs }]);
    sending.pump();
  };

  const troubled = (id: string, placeId: string, event: 'cond-on' | 'retired'): void => {
    const atMs = clock.now();
    const deeds = event === 'cond-on' ? (['start-escalation'] as const) : (['stop-escalation'] as const);
    together([{ kind: 'alarm', atMs, event, deeds, alarm: pretendAlarm(id, placeId, atMs) }]);
    sending.pump();
  };

  const answer: Alerts['answer'] = (faultId, given) => {
    const at = scene();
    const about = alerting.faults[faultId];
    if (about === undefined) return fault({ code: 'no-such-fault' });
    const person = at.people.find(({ id }) => id === given.by);
    if (person === undefined || (given.to !== undefined && !at.people.some(({ id }) => id === given.to)))
      return fault({ code: 'no-such-person' });
    const atMs = clock.now();
    if (
      given.verb === 'pass-on' &&
      given.to === undefined &&
      at.world.roster.order(atMs).every((id) => id === given.by)
    )
      return fault({ code: 'nobody-to-pass-to' });
    alerting = journal.together(() => {
      keeping.writeDown(about, atMs, person.name, answerDeed(given));
      return keeping.run([{ kind: 'answer', faultId, atMs, ...given }], at, alerting);
    });
    // Silences the room: whoever goes has acknowledged every alarm that the fault has now.
    if (given.verb === 'going' || given.verb === 'there')
      for (const { id, calling } of about.members) if (calling) parts.acknowledge(id, person.name, atMs);
    sending.pump();
    const after = alerting.faults[faultId] ?? journal.ladders.byId(faultId) ?? about;
    return ok(faultPicture(after, at.people));
  };

  return {
    land: (effects, after) => {
      const atMs = clock.now();
      const at = scene(after);
      const news = effects.map(({ alarm, event, deeds, by }): AlertHappening => {
        const acting = by === undefined ? {} : { by: personBehind(at.people, by)?.id ?? by };
        return { kind: 'alarm', atMs, alarm: alarmPicture(alarm), event, deeds, ...acting };
      });
      pending = keeping.run(news, at, alerting);
    },
    landed: (moved = []) => {
      alerting = pending ?? alerting;
      pending = undefined;
      if (!started) return;
      if (moved.length > 0) together(moved.map((alarm) => ({ kind: 'finding', atMs: clock.now(), alarm })));
      sending.pump();
    },
    undone: () => {
      pending = undefined;
    },
    start: () => {
      started = true;
      together(strays(alerting, openAlarms(parts.state()), clock.now()));
      sending.pump();
    },
    tick,
    answer,
    faults: () => {
      const { people } = scene();
      return Object.values(alerting.faults).map((one) => faultPicture(one, people));
    },
    fault: (id) => {
      const found = alerting.faults[id];
      return found === undefined ? undefined : faultPicture(found, scene().people);
    },
    headline: (id) => headlineOf(alerting.faults[id] ?? journal.ladders.byId(id), scene()),
    readLink: (token) => buildAnswerLinks(journal).read(token, clock.now()),
    raise: ({ id, placeId, says }) => {
      troubles.set(id, says);
      if (alerting.faults[id]?.members.some(({ calling }) => calling) !== true) troubled(id, placeId, 'cond-on');
    },
    clear: (id) => {
      const about = alerting.faults[id];
      if (about !== undefined) troubled(id, about.placeId, 'retired');
    },
    post: (messages) => {
      const made = journal.together(() => messages.filter((message) => journal.outbox.add(message)).length);
      sending.pump();
      return made;
    },
    idle: sending.idle,
  };
};

/** What had begun to be sent when the gateway died may have gone out: it is not sent again within the minute. */
const RESEND_MS = 60_000;

/** Less is no step of the clock. */
const CLOCK_SLACK_MS = 1_000;

/** Each minute at least, so that a start knows how late it is by the clock. */
const isDue = ({ faults, nowMs }: Alerting, atMs: number): boolean =>
  atMs - nowMs >= 60_000 ||
  Object.values(faults).some(({ ladder }) => ladder?.dueMs !== undefined && ladder.dueMs <= atMs);

const answerDeed = ({ verb, by, minutes, to }: Omit<FaultAnswer, 'atMs'>): WakingDeed => ({
  what: 'answer',
  verb,
  personId: by,
  ...(minutes === undefined ? {} : { minutes }),
  ...(to === undefined ? {} : { to }),
});

/** Alarms that ask for a person without a ladder, and members that are gone: only after the layout of the journal changed. */
const strays = ({ faults }: Alerting, alarms: readonly AlarmPicture[], atMs: number): readonly AlertHappening[] => {
  const members = new Set(Object.values(faults).flatMap(({ members: all }) => all.map(({ id }) => id)));
  const lost = alarms.filter(
    ({ id, state, inhibit }) => state === 'unack' && inhibit === undefined && !members.has(id),
  );
  return lost.map((alarm) => ({ kind: 'alarm', atMs, alarm, event: 'cond-on', deeds: ['start-escalation'] }));
};
