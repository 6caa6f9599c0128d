/** What the gateway pushes: all that the phone shows before any network. */
export type PushMessage = {
  readonly v: 1;
  readonly kind: string;
  /** Messages of one fault replace each other. */
  readonly tag: string;
  readonly title: string;
  readonly body: string;
  readonly checks: readonly string[];
  readonly cautions: readonly string[];
  readonly loud: boolean;
  readonly atMs: number;
  readonly faultId?: string;
  readonly alarmId?: string;
  readonly drillId?: string;
  /** Allows one person to answer for one fault, for a few hours. */
  readonly token?: string;
  /** Whom to telephone. */
  readonly call?: { readonly name: string; readonly phone: string };
};

/** Undefined for what is none of ours. */
export const parsePush = (text: string): PushMessage | undefined => {
  try {
    const message = JSON.parse(text) as Partial<PushMessage>;
    return message.v === 1 && typeof message.title === 'string' && typeof message.tag === 'string'
      ? (message as PushMessage)
      : undefined;
  } catch {
    return undefined;
  }
};

/** Kinds that ask for an answer; the others only tell. */
const ASKING = ['call', 'again', 'worse', 'offered', 'nobody'];

/** A worker cannot dial: it opens the page where the number is one press away. */
export const CALL = 'call';

type Action = { readonly action: string; readonly title: string };

/** The answers that can be given from the notification itself. */
export const actionsOf = ({ kind, token, call }: PushMessage): readonly Action[] => {
  if (token === undefined) return [];
  if (kind === 'check-in')
    return [
      { action: 'there', title: 'I am well' },
      { action: 'safe', title: 'I have left' },
    ];
  if (!ASKING.includes(kind)) return [];
  return [
    { action: 'going', title: 'I am going' },
    { action: 'pass-on', title: 'Pass on' },
    ...(call === undefined ? [] : [{ action: CALL, title: `Call ${call.name}` }]),
  ];
};

export const bodyOf = ({ body, checks }: PushMessage): string =>
  [body, ...(checks.length === 0 ? [] : [`Check first: ${checks.join('. ')}`])]
    .filter((line) => line !== '')
    .join('\n');

/** Where a tap on the notification leads. */
export const pageOf = ({ token, alarmId, drillId }: PushMessage): string => {
  if (drillId !== undefined) return '/watch';
  if (token !== undefined) return `/answer?t=${encodeURIComponent(token)}`;
  return alarmId === undefined ? '/alarms' : `/alarms/${encodeURIComponent(alarmId)}`;
};

/** What was said to have been done, for the notification that takes the place of the first. */
export const DONE: Readonly<Record<string, string>> = {
  going: 'The others know that you are going. Say so when you are there',
  'pass-on': 'The next is being asked. It stays with you until they take it',
  there: 'Good. You will be asked again',
  safe: 'Good night',
};
export const NOT_DONE = 'Not told: the gateway did not take it. Open Nightwater, or call somebody';
