import type { Access } from '../access/access.js';
import type { Reports } from '../alerts/report.js';
import type { Waking } from '../alerts/waking.js';
import type { Clock } from '../clock.js';
import type { HostPort } from '../config.js';
import type { History } from '../history/history.js';
import type { Spool } from '../history/spool.js';
import type { Journal } from '../journal/journal.js';
import type { LogDesk } from '../log-desk.js';
import type { Photos } from '../photos.js';
import type { SettingsDesk } from '../settings.js';
import type { Watchkeeper } from '../watchkeeper-contract.js';

/** Where boards publish, as a board's owner has to type it. */
export type BoardDoor = HostPort & {
  readonly tls: boolean;
  /** The broker is another program: its passwords are not made here. */
  readonly external: boolean;
};

/** All that the pages and the API are made of. Tests pass other parts; there is nothing to switch. */
export type AppParts = {
  readonly clock: Clock;
  readonly watchkeeper: Watchkeeper;
  readonly journal: Journal;
  readonly history: History;
  /** Where a history database elsewhere is set. */
  readonly spool?: Pick<Spool, 'standing'>;
  readonly access: Access;
  readonly desk: SettingsDesk;
  readonly log: LogDesk;
  readonly photos: Photos;
  /** Who is woken; absent where nobody is, as in a replay. */
  readonly waking?: Pick<Waking, 'alerts' | 'desk' | 'pushKey' | 'story'> & { readonly reports: Reports };
  /** Asked each time: a port may be chosen late, an address may change. */
  readonly boardDoor: () => BoardDoor;
  /** Version of this program, and a word that changes with every build. */
  readonly version: string;
  readonly build: string;
  readonly publicUrl?: string;
  /** PEM, for https. */
  readonly tls?: { readonly cert: string; readonly key: string };
  /** Folder of the built pages; without one only the API is served. */
  readonly pages?: string;
  /** Told what only we can mend, with the request's number. */
  readonly complain: (what: string, error: unknown) => void;
};
