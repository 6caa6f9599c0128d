import { isChattering } from '../../rules/alerts/chatter.js';
import { type AlertFault, type Alerting, callKey, type FaultCall } from '../../rules/alerts/faults.js';
import type { CallKind } from '../../rules/alerts/ladder.js';
import { type FaultNotice, faultNotice, type Notice } from '../../rules/alerts/notice.js';
import { noticeWords } from '../../rules/words/notice.js';
import type { Message, NewMessage } from '../journal/outbox.js';
import type { Scene } from './world.js';

/** Kinds that tell what others did; they never fold into a summary and wake nobody. */
const NOTES: readonly CallKind[] = ['taken', 'cleared'];
const LIVES_MS = 3_600_000;

export const noticeOf = (call: FaultCall, fault: AlertFault, { people, picture }: Scene): FaultNotice | undefined =>
  faultNotice(call, fault, { picture: picture(), people, faults: [], chattering: isChattering(fault.activationsMs) });

/** What a message says when the alarms it was about are gone already: the place, and what it was. */
const lastWords = (call: FaultCall, fault: AlertFault, scene: Scene, before: FaultNotice | undefined): FaultNotice => {
  const name = scene.picture().places.find(({ id }) => id === fault.placeId)?.name ?? fault.placeId;
  const { ladder } = fault;
  const priority = ladder?.priority ?? 'low';
  const finding = before?.finding ?? {
    condition: 'above-limit',
    placeId: fault.placeId,
    priority,
    sinceMs: ladder?.startedMs ?? call.atMs,
  };
  return {
    kind: call.kind,
    atMs: call.atMs,
    faultId: fault.id,
    alarmId: fault.id,
    key: call.key,
    priority,
    place: before?.place ?? { id: fault.placeId, name },
    finding,
    tanks: [name],
    others: [],
    told: [],
  };
};

/** One message for each person and way of a call; none for a way that a person has not. */
export const messagesOf = (
  call: FaultCall,
  fault: AlertFault,
  scene: Scene,
  { before, own }: { readonly before?: FaultNotice | undefined; readonly own?: Notice | undefined } = {},
): readonly NewMessage[] => {
  const notice = own ?? noticeOf(call, fault, scene) ?? lastWords(call, fault, scene, before);
  const harmMs = 'finding' in notice ? notice.finding.harm?.atMs : undefined;
  const common = {
    faultId: fault.id,
    label: call.label,
    isCall: !NOTES.includes(call.kind),
    priority: 'priority' in notice ? notice.priority : (fault.ladder?.priority ?? 'high'),
    ...(harmMs === undefined ? {} : { harmMs }),
    madeMs: call.atMs,
    expiresMs: call.atMs + LIVES_MS,
    notice,
  };
  return call.to.flatMap((personId) => {
    const ways = scene.people.find(({ id }) => id === personId)?.ways ?? [];
    return ways
      .filter(({ way }) => call.ways.includes(way))
      .map(({ way }) => ({ ...common, personId, way, key: `${call.key}|${personId}|${way}` }));
  });
};

/** What a message says at the moment of sending: time left is counted from there, not from the decision. */
export const refreshed = (message: Message, { faults }: Alerting, at: Scene, atMs: number): Notice => {
  const { notice } = message;
  const about = faults[message.faultId];
  if (about?.ladder === undefined || !('faultId' in notice)) return notice;
  const { kind, key } = notice;
  const call: FaultCall = {
    kind,
    key,
    atMs,
    label: message.label,
    roles: [],
    to: [],
    ways: [],
    faultId: about.id,
    run: about.runs,
  };
  return noticeOf(call, about, at) ?? notice;
};

/** Where a fault is and what is wrong now, for the page behind a link; the place alone once its alarms are gone. */
export const headlineOf = (
  about: AlertFault | undefined,
  scene: Scene,
): { readonly place: string; readonly headline: string } => {
  if (about === undefined) return { place: '', headline: '' };
  const key = callKey(about.id, about.runs, 'look');
  const call: FaultCall = { ...LOOK, atMs: scene.atMs, key, faultId: about.id, run: about.runs };
  const notice = noticeOf(call, about, scene);
  const place = scene.picture().places.find(({ id }) => id === about.placeId)?.name ?? about.placeId;
  return { place, headline: notice === undefined ? '' : noticeWords(notice, scene.reader).title };
};

const LOOK = { kind: 'call', label: 'look', roles: [], to: [], ways: [] } as const;
