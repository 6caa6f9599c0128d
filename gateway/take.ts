import type { Happening } from '../rules/engine/happening.js';
import { decode } from './intake/decode.js';
import type { Item, Oddity } from './intake/decoded.js';
import type { Delivery } from './intake/delivery.js';
import { makeMalformedMessage } from './intake/malformed-message.js';
import { fingerprintOf, isRepeat, type Packet } from './intake/redelivery.js';
import type { Landing, MalformedMessage } from './journal/landing.js';
import type { Sources } from './journal/sources.js';

export type TakeParts = {
  readonly sources: Pick<Sources, 'byKey' | 'ensure'>;
  /** The fingerprint last landed under a packet id. */
  readonly fingerprint: (packetId: number) => string | undefined;
  /** Whether this oddity of this topic is to be kept: not more than once in a while. */
  readonly isNewOddity: (topic: string, oddity: Oddity, atMs: number) => boolean;
};

export type Taken = {
  readonly happenings: readonly Happening[];
  readonly malformed: readonly MalformedMessage[];
  readonly boards: Landing['boards'];
  readonly packets: readonly Packet[];
  /** Messages that were seen before, and retained values without a stamp: counted, no readings. */
  readonly repeats: number;
  readonly ageless: number;
};

type Draft = {
  readonly happenings: Happening[];
  readonly malformed: MalformedMessage[];
  readonly boards: Landing['boards'][number][];
  readonly packets: Map<number, string>;
  repeats: number;
  ageless: number;
};

/** A group of messages as happenings for the engine: every source known by number, repeats left out, faults kept. */
export const takeGroup = (group: readonly Delivery[], parts: TakeParts): Taken => {
  const draft: Draft = { happenings: [], malformed: [], boards: [], packets: new Map(), repeats: 0, ageless: 0 };
  for (const delivery of group) takeOne(draft, delivery, parts);
  const packets = [...draft.packets].map(([packetId, fingerprint]) => ({ packetId, fingerprint }));
  return { ...draft, packets };
};

const takeOne = (draft: Draft, delivery: Delivery, parts: TakeParts): void => {
  const known = (packetId: number): string | undefined => draft.packets.get(packetId) ?? parts.fingerprint(packetId);
  if (isRepeat(delivery, known)) {
    draft.repeats += 1;
    return;
  }
  if (delivery.packetId !== undefined && delivery.qos !== 0) {
    draft.packets.set(delivery.packetId, fingerprintOf(delivery));
  }
  const decoded = decode(delivery);
  switch (decoded.kind) {
    case 'empty':
      return;
    case 'malformed':
      draft.malformed.push(makeMalformedMessage(delivery, decoded));
      return;
    case 'status':
      return takeStatus(draft, delivery, decoded);
    case 'readings':
      for (const oddity of decoded.oddities) {
        const isNew = parts.isNewOddity(delivery.topic, oddity, delivery.arrivalMs);
        if (isNew) draft.malformed.push(makeMalformedMessage(delivery, oddity));
      }
      for (const item of decoded.items) takeItem(draft, delivery, item, parts);
  }
};

const takeStatus = (
  draft: Draft,
  { arrivalMs: atMs }: Delivery,
  { board, online }: { readonly board: string; readonly online: boolean },
): void => {
  const state = online ? 'online' : 'offline';
  draft.boards.push({ board, state, atMs });
  draft.happenings.push({ kind: 'board', atMs, board, state });
};

const takeItem = (draft: Draft, delivery: Delivery, item: Item, { sources }: TakeParts): void => {
  const { raw, time } = item;
  const source = sources.byKey(item.key) ?? sources.ensure(sourceIn(item, delivery.arrivalMs));
  // A broker's kept message tells what was, not when: without the board's own stamp it is no reading.
  if (delivery.retained && time?.kind !== 'stamped') {
    draft.ageless += 1;
    return;
  }
  const reading = { kind: 'reading', atMs: delivery.arrivalMs, sourceId: source.id, raw } as const;
  if (time === undefined) draft.happenings.push(reading);
  else if (delivery.retained) draft.happenings.push({ ...reading, deviceMs: time.deviceMs, retained: true });
  else draft.happenings.push({ ...reading, deviceMs: time.deviceMs });
};

const sourceIn = (item: Item, firstSeenMs: number): Parameters<Sources['ensure']>[0] => {
  const { raw: _raw, time: _time, nextWithinMs: _next, ...said } = item;
  return { ...said, firstSeenMs };
};
