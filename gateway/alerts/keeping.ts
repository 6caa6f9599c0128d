import { type AlertHappening, stepAlerts } from '../../rules/alerts/alerts.js';
import type { AlertFault, Alerting, FaultCall } from '../../rules/alerts/faults.js';
import type { FaultNotice, Notice } from '../../rules/alerts/notice.js';
import type { Journal } from '../journal/journal.js';
import type { WakingDeed } from '../journal/wakings.js';
import { messagesOf } from './messages.js';
import type { Scene } from './world.js';

/** Steps the ladders and keeps what comes of it. Every call here is made inside a transaction of the journal. */
export type Keeping = {
  run(happenings: readonly AlertHappening[], at: Scene, from: Alerting): Alerting;
  /** One entry of the journal, which screens and the review read. */
  writeDown(about: Pick<AlertFault, 'id' | 'placeId'>, atMs: number, by: string, deed: WakingDeed): void;
};

export const buildKeeping = (
  journal: Pick<Journal, 'ladders' | 'outbox' | 'wakings'>,
  now: () => number,
  /** What a trouble that is no alarm of the engine says of itself. */
  ownWords: (call: FaultCall) => Notice | undefined,
): Keeping => {
  /** Inside a transaction. */
  const run = (happenings: readonly AlertHappening[], at: Scene, from: Alerting): Alerting => {
    let alerting = from;
    for (const happening of happenings) {
      const stepped = stepAlerts(alerting, happening, at.world);
      alerting = stepped.alerting;
      for (const { fault: changed, open } of stepped.changed) journal.ladders.put(changed, open);
      for (const faultId of stepped.settled) journal.outbox.dropCalls(faultId, happening.atMs, 'settled');
      for (const call of stepped.calls)
        alerting = make(call, stepped.changed.find(({ fault: { id } }) => id === call.faultId)?.fault, at, alerting);
    }
    return alerting;
  };

  /** Writes down a call and its messages; a call that reaches nobody by its ways moves the ladder on. */
  const make = (call: FaultCall, changed: AlertFault | undefined, at: Scene, now: Alerting): Alerting => {
    const about = changed ?? now.faults[call.faultId];
    if (about === undefined) return now;
    const messages = messagesOf(call, about, at, { before: lastNotice(call.faultId), own: ownWords(call) });
    for (const message of messages) journal.outbox.add(message);
    const { kind, label, to, ways, atMs } = call;
    const names = to.map((id) => at.people.find((person) => person.id === id)?.name ?? id);
    writeDown(about, atMs, 'Nightwater', { what: 'call', kind, label, to, names, ways, messages: messages.length });
    if (kind !== 'call' && kind !== 'nobody') return now;
    return run([{ kind: 'made', atMs, faultId: about.id, label, messages: messages.length }], at, now);
  };

  const lastNotice = (faultId: string): FaultNotice | undefined =>
    journal.outbox
      .byFault(faultId)
      .flatMap(({ notice }) => ('faultId' in notice ? [notice] : []))
      .at(-1);

  const writeDown: Keeping['writeDown'] = ({ id, placeId }, atMs, by, deed) => {
    journal.wakings.add({ atMs, recordedMs: now(), faultId: id, placeId, by, deed });
  };

  return { run, writeDown };
};
