import type { BatchStory, NextStage } from '../log/batch.js';
import type { Lot } from '../log/book.js';
import type { Entry, EntryKind } from '../log/entry.js';
import type { Papers } from '../log/inspector.js';
import type { Doubt } from '../log/pen.js';
import type { OnSite, Overdue } from '../log/round.js';
import type { SpawningRun } from '../log/run.js';
import type { SeenPhase } from '../log/trace-phase.js';
import type { DeclaredWork } from '../work.js';

/** POST /api/v1/log: an entry as a phone made it. `by` is not sent: nobody signs for another. */
export type NewEntry<K extends EntryKind = EntryKind> = Omit<Entry<K>, 'by'>;

/** An entry as the log shows it: nothing is ever taken out of it, so what no longer counts says what stands for it. */
export type LogLine = {
  readonly entry: Entry;
  /** When it reached the gateway. */
  readonly recordedMs: number;
  /** The id of the version that counts now; absent where this one does. */
  readonly replacedBy?: string;
  /** It was taken back. */
  readonly struck?: true;
};

/** GET /api/v1/stock */
export type StockPicture = {
  readonly lots: readonly Lot[];
  readonly doubts: readonly (Doubt & { readonly entryId: string; readonly atMs: number })[];
  /** Tanks that no animals may be put into. */
  readonly disinfected: readonly { readonly placeId: string; readonly sinceMs: number; readonly product: string }[];
};

/** GET /api/v1/batches: one line each. */
export type BatchLine = Pick<BatchStory, 'id' | 'speciesGroup' | 'beganMs' | 'origin' | 'parents'> & {
  readonly lots: readonly Lot[];
};

/** GET /api/v1/batches/{id} */
export type BatchPicture = {
  readonly story: BatchStory;
  /** Per tank that it is in. */
  readonly next: readonly { readonly placeId: string; readonly next: NextStage }[];
  readonly lines: readonly LogLine[];
};

/** GET /api/v1/runs/{id}: the run and what the tray's probe saw of it. */
export type RunPicture = { readonly run: SpawningRun; readonly seen: readonly SeenPhase[] };

/** GET /api/v1/round */
export type RoundPicture = {
  readonly overdue: readonly Overdue[];
  readonly lastSeen: Readonly<Record<string, number>>;
  readonly onSite: readonly OnSite[];
};

/** GET /api/v1/work: declared and not ended. */
export type WorkList = readonly DeclaredWork[];

/** GET /api/v1/papers: what an inspector asks for. */
export type PapersPicture = Papers;

/** A board's contact that writes an entry or declares work when it is pressed. */
export type Button = {
  readonly id: string;
  /** A contact: `l2.contact`. */
  readonly channelId: string;
  /** Which way it goes when it is pressed. */
  readonly pressed: 'on' | 'off';
  readonly does:
    | { readonly kind: 'entry'; readonly placeId?: string; readonly entry: EntryKind; readonly fields: unknown }
    /** Pressed again while it lasts, it ends it. */
    | {
        readonly kind: 'work';
        readonly placeId: string;
        readonly work: DeclaredWork['kind'];
        readonly minutes: number;
      };
};
