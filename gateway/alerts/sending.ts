import { backoffMs } from '../../rules/alerts/backoff.js';
import { gather, type Waiting } from '../../rules/alerts/gather.js';
import type { Notice } from '../../rules/alerts/notice.js';
import { nextToCall, type ToCall } from '../../rules/alerts/numbers.js';
import type { Reader } from '../../rules/words/language.js';
import { noticeWords } from '../../rules/words/notice.js';
import type { Clock } from '../clock.js';
import type { Journal } from '../journal/journal.js';
import type { Message } from '../journal/outbox.js';
import type { AnswerLinks } from './answer-link.js';
import { LINK_MS } from './answer-link.js';
import { dead, type Outcome, type Outgoing, type Senders } from './way.js';

export type SendingParts = {
  readonly journal: Pick<Journal, 'outbox' | 'together'>;
  readonly clock: Pick<Clock, 'now'>;
  readonly senders: Senders;
  readonly links: AnswerLinks;
  readonly publicUrl?: string;
  readonly random: () => number;
  readonly reader: () => Reader;
  /** Of a person's way, as it is set now; undefined when it was taken away. */
  readonly addressOf: (personId: string, way: Message['way']) => string | undefined;
  /** What the message says now: time left is counted from the sending, not from the decision. */
  readonly refreshed: (message: Message) => Notice;
  /** Whom somebody may telephone now, in order. */
  readonly numbers: () => readonly ToCall[];
  /** It did not go at the first try, or never will: the ladder need not wait for it. */
  readonly onFailed: (message: Message) => void;
};

export type Sending = {
  /** Sends what is due. Returns at once; what is on its way is not begun twice. */
  pump(): void;
  /** Resolves when nothing is on its way. */
  idle(): Promise<void>;
};

const WINDOW_MS = 600_000;
const WORST_NAMED = 5;

/** The outbox at work: gathers for each person and way, sends, writes down every try, backs off. */
export const buildSending = (parts: SendingParts): Sending => {
  const busy = new Map<string, Promise<void>>();
  const pump = (): void => {
    const nowMs = parts.clock.now();
    for (const [line, messages] of linesOf(dueOf(parts, nowMs))) {
      if (busy.has(line)) continue;
      const done = sendLine(parts, messages, nowMs).finally(() => {
        busy.delete(line);
        pump();
      });
      busy.set(line, done);
    }
  };
  return {
    pump,
    idle: async () => {
      while (busy.size > 0) await Promise.all(busy.values());
    },
  };
};

/** What is due and still of use; what is over is ended. */
const dueOf = ({ journal: { outbox }, onFailed }: SendingParts, nowMs: number): readonly Message[] =>
  outbox.due(nowMs).filter((message) => {
    if (message.expiresMs > nowMs) return true;
    outbox.end(message.id, nowMs, 'dead', 'expired');
    if (message.attempts === 0) onFailed(message);
    return false;
  });

/** A line is one person by one way: messages on it go one after the other, lines do not wait for each other. */
const linesOf = (messages: readonly Message[]): ReadonlyMap<string, readonly Message[]> => {
  const lines = new Map<string, Message[]>();
  for (const message of messages) {
    const line = `${message.personId} ${message.way}`;
    lines.set(line, [...(lines.get(line) ?? []), message]);
  }
  return lines;
};

const waitingOf = ({ id, faultId, madeMs, priority, harmMs }: Message): Waiting => ({
  id: String(id),
  faultId,
  atMs: madeMs,
  priority,
  ...(harmMs === undefined ? {} : { harmMs }),
});

const sendLine = async (parts: SendingParts, messages: readonly Message[], nowMs: number): Promise<void> => {
  const { outbox } = parts.journal;
  const [first] = messages;
  if (first === undefined) return;
  const byId = new Map(messages.map((message) => [String(message.id), message]));
  const pick = (waiting: readonly Waiting[]): Message[] => waiting.flatMap(({ id }) => byId.get(id) ?? []);
  const calls = messages.filter(({ isCall }) => isCall);
  const { own, together, againMs } = gather(
    calls.map(waitingOf),
    outbox.sentTo(first.personId, first.way, nowMs - WINDOW_MS),
    nowMs,
  );
  const now = new Set([...own, ...together].map(({ id }) => id));
  if (againMs !== undefined) {
    for (const call of calls) if (!now.has(String(call.id))) outbox.hold(call.id, againMs);
  }
  for (const message of pick(own)) await sendTogether(parts, [message]);
  if (together.length > 0) await sendTogether(parts, pick(together));
  for (const message of messages.filter(({ isCall }) => !isCall)) await sendTogether(parts, [message]);
};

/** One message of one or of many: the tries of all of them are this one. */
const sendTogether = async (parts: SendingParts, messages: readonly Message[]): Promise<void> => {
  const { journal, clock, senders } = parts;
  const [first] = messages;
  if (first === undefined) return;
  const begunMs = clock.now();
  journal.together(() => {
    for (const { id } of messages) journal.outbox.begin(id, begunMs);
  });
  const address = parts.addressOf(first.personId, first.way);
  const send = senders[first.way];
  const outcome =
    address === undefined || send === undefined
      ? dead('not-set-up')
      : await send(outgoingOf(parts, messages, first, address));
  settle(parts, messages, outcome);
};

/** Messages that are about no fault. */
const UNANSWERABLE = ['drill', 'morning', 'watch-empty', 'check-in-fails', 'test'];

const outgoingOf = (parts: SendingParts, messages: readonly Message[], first: Message, address: string): Outgoing => {
  const atMs = parts.clock.now();
  const notices = messages.map(parts.refreshed);
  const notice = messages.length === 1 ? notices[0] : undefined;
  const faults = notices.flatMap((one) => ('faultId' in one ? [one] : []));
  const said: Notice = notice ?? {
    kind: 'flood',
    atMs,
    key: first.key,
    worst: faults.slice(0, WORST_NAMED),
    faults: new Set(messages.map(({ faultId }) => faultId)).size,
  };
  const isAnswerable = messages.length === 1 && !UNANSWERABLE.includes(first.label);
  const claim = { faultId: first.faultId, personId: first.personId, untilMs: atMs + LINK_MS };
  const call = isAnswerable ? nextToCall(parts.numbers(), first.personId) : undefined;
  const token = isAnswerable ? parts.links.make(claim) : undefined;
  return {
    key: first.key,
    personId: first.personId,
    address,
    notice: said,
    words: noticeWords(said, parts.reader()),
    isCall: first.isCall,
    ...(isAnswerable ? { faultId: first.faultId } : {}),
    subject: isAnswerable ? first.faultId : said.kind,
    atMs,
    ...(token === undefined ? {} : { token }),
    ...(call === undefined ? {} : { call }),
    ...(parts.publicUrl === undefined ? {} : { link: linkOf(parts.publicUrl, token) }),
  };
};

const linkOf = (publicUrl: string, token: string | undefined): string =>
  token === undefined ? `${publicUrl}/alarms` : `${publicUrl}/answer?t=${token}`;

const settle = (
  { journal, clock, random, onFailed }: SendingParts,
  messages: readonly Message[],
  outcome: Outcome,
): void => {
  const atMs = clock.now();
  const { outbox } = journal;
  journal.together(() => {
    for (const { id, attempts } of messages) {
      if (outcome.kind === 'accepted') outbox.sent(id, atMs, messages.length > 1 ? 'flood' : 'single', outcome.detail);
      else if (outcome.kind === 'dead') outbox.end(id, atMs, 'dead', outcome.code, outcome.detail);
      else
        outbox.later(
          id,
          atMs,
          atMs + backoffMs(attempts, random(), outcome.retryAfterMs),
          outcome.code,
          outcome.detail,
        );
    }
  });
  // The next way does not wait for this one's further tries.
  if (outcome.kind !== 'accepted') for (const message of messages) if (message.attempts === 0) onFailed(message);
};
