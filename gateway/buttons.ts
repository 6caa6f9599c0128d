import { createHash } from 'node:crypto';
import { openWork } from '../rules/log/declared.js';
import { makeUlid } from '../rules/log/ulid.js';
import type { Button } from '../rules/wire/log.js';
import type { ChannelPicture } from '../rules/wire/picture.js';
import type { Stop } from './clock.js';
import type { Journal } from './journal/journal.js';
import type { LogDesk } from './log-desk.js';
import type { Watchkeeper } from './watchkeeper-contract.js';

export const BUTTON = 'button';

export const rulingButtons = ({ settings }: Pick<Journal, 'settings'>, atMs: number): readonly Button[] =>
  settings.allRuling(BUTTON, atMs).map(({ body }) => body as Button);

export type ButtonParts = {
  readonly journal: Pick<Journal, 'settings'>;
  readonly watchkeeper: Pick<Watchkeeper, 'onLanded'>;
  readonly log: Pick<LogDesk, 'write' | 'record'>;
  readonly now: () => number;
  /** Told when what a button writes is refused. */
  readonly complain: (what: string, error: unknown) => void;
};

/** A contact bounces, and wet hands press twice. */
const AGAIN_MS = 5_000;

/** The same press has the same name, however often its message comes. */
const pressId = (channelId: string, atMs: number): string =>
  makeUlid(atMs, createHash('sha256').update(`${channelId} ${atMs}`).digest().subarray(0, 10));

/** Boards' contacts that somebody mapped to a log entry or to declared work. */
export const heedButtons = (parts: ButtonParts): Stop => {
  const { journal, watchkeeper, log, now, complain } = parts;
  const last = new Map<string, number>();
  const pressedMs = new Map<string, number>();

  const press = (button: Button, atMs: number): void => {
    if (atMs - (pressedMs.get(button.id) ?? -Infinity) < AGAIN_MS) return;
    pressedMs.set(button.id, atMs);
    const written = log.write(
      { id: pressId(button.channelId, atMs), atMs, ...deedOf(button, log) },
      `button ${button.id}`,
    );
    if (!written.ok) complain(`button ${button.id} was pressed, and nothing was written`, written.fault);
  };
  const hear = ({ id, value, atMs }: ChannelPicture): void => {
    if (value === undefined || atMs === undefined) return;
    const before = last.get(id);
    last.set(id, value);
    // The first word after a start says how the contact stands, not that somebody pressed it.
    if (before === undefined || before === value) return;
    for (const button of rulingButtons(journal, now())) {
      if (button.channelId === id && (value !== 0) === (button.pressed === 'on')) press(button, atMs);
    }
  };
  return watchkeeper.onLanded(({ channels }) => {
    for (const channel of channels) if (channel.quantity === 'contact') hear(channel);
  });
};

const deedOf = ({ does }: Button, log: ButtonParts['log']): object => {
  if (does.kind === 'entry') {
    const { placeId, entry: kind, fields } = does;
    return { kind, fields, ...(placeId === undefined ? {} : { placeId }) };
  }
  const { placeId, work, minutes } = does;
  const running = openWork(log.record().work).find((one) => one.placeId === placeId && one.kind === work);
  if (running !== undefined) return { kind: 'work-end', placeId, fields: { workId: running.id } };
  return { kind: 'work', placeId, fields: { work, minutes } };
};
