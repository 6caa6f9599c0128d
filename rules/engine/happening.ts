import type { Hatchery } from '../hatchery.js';
import type { Quantity } from '../quantity.js';
import type { DeclaredWork, Task } from '../work.js';

/** What a person does to an alarm. */
export type Verb = 'ack' | 'reset' | 'shelve' | 'unshelve' | 'out-of-service' | 'return-to-service';

/** Everything that can move the engine. `atMs` is the gateway's clock; in a replay, the reading's own time. */
export type Happening =
  | {
      readonly kind: 'reading';
      readonly atMs: number;
      readonly sourceId: number;
      /** As sent, in the source's unit. */
      readonly raw: number;
      readonly deviceMs?: number;
      /** From a broker's store: history at best, never fresh. */
      readonly retained?: boolean;
    }
  | { readonly kind: 'tick'; readonly atMs: number }
  /** The gateway began: whatever was silent has the benefit of the doubt again. */
  | { readonly kind: 'start'; readonly atMs: number }
  | { readonly kind: 'hatchery'; readonly atMs: number; readonly hatchery: Hatchery }
  | { readonly kind: 'work'; readonly atMs: number; readonly work: readonly DeclaredWork[] }
  | { readonly kind: 'board'; readonly atMs: number; readonly board: string; readonly state: 'online' | 'offline' }
  /** Somebody measured by hand. Canonical unit. Written down later, `measuredMs` says when it was. */
  | {
      readonly kind: 'hand';
      readonly atMs: number;
      readonly placeId: string;
      readonly quantity: Quantity;
      readonly value: number;
      readonly measuredMs?: number;
    }
  /** Work that comes back was done, as the log has it; at `doneMs` where it was written down later. */
  | {
      readonly kind: 'done';
      readonly atMs: number;
      readonly placeId: string;
      readonly task: Task;
      readonly doneMs?: number;
    }
  | { readonly kind: 'presence'; readonly atMs: number; readonly onSite: boolean }
  | { readonly kind: 'link'; readonly atMs: number; readonly broker: 'up' | 'down' }
  | {
      readonly kind: 'answer';
      readonly atMs: number;
      readonly alarmId: string;
      readonly verb: Verb;
      readonly by: string;
      readonly untilMs?: number;
      readonly reason?: string;
    };
