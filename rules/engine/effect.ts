import type { Alarm } from '../alarm/alarm.js';
import type { AlarmDeed, AlarmEvent } from '../alarm/lifecycle.js';
import type { Score } from '../conditions/forecast.js';
import type { Verb } from './happening.js';

/** What the shell is asked to do. The engine itself does nothing. */
export type Effect =
  | {
      readonly do: 'keep';
      readonly sourceId: number;
      readonly deviceMs: number;
      readonly arrivalMs: number;
      readonly raw: number;
      readonly flags: number;
      readonly refusedMs?: number;
    }
  /** The verdict on an earlier reading, changed once by its successor. */
  | { readonly do: 'revise'; readonly sourceId: number; readonly deviceMs: number; readonly flags: number }
  | {
      readonly do: 'alarm';
      readonly atMs: number;
      readonly event: AlarmEvent | 'retired';
      readonly alarm: Alarm;
      readonly deeds: readonly AlarmDeed[];
      readonly by?: string;
      readonly reason?: string;
    }
  /** The time of a forecast has passed: how good it was, for the record. */
  | ({ readonly do: 'score' } & Score)
  /** A person's verb that changed nothing: the alarm is gone, or it was done already. */
  | {
      readonly do: 'refuse';
      readonly alarmId: string;
      readonly verb: Verb;
      readonly why: 'no-such-alarm' | 'already-done' | 'not-allowed-now';
    };
