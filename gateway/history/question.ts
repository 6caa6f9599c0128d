import type { ReviewedChannel } from '../../rules/review/channel.js';
import type { ChannelReadings, Trails } from '../../rules/wire/api.js';
import type { HistoryRow } from './history.js';

import type { ReviewAsked } from './review.js';

/** What the worker is asked. `nowMs`: the time after this has no silence in it. */
export type Question =
  | {
      readonly ask: 'readings';
      readonly channelId: string;
      readonly fromMs: number;
      readonly toMs: number;
      readonly points: number;
      readonly nowMs: number;
    }
  | {
      readonly ask: 'trails';
      readonly channelIds: readonly string[];
      readonly fromMs: number;
      readonly toMs: number;
      readonly stepMs: number;
    }
  | { readonly ask: 'rows'; readonly channelId: string; readonly fromMs: number; readonly toMs: number }
  | ({ readonly ask: 'review' } & ReviewAsked)
  | { readonly ask: 'close' };

/** `continueMs`: where the next page begins; undefined after the last. */
export type RowPage = { readonly rows: readonly HistoryRow[]; readonly continueMs?: number };

export type AnswerTo = {
  readonly readings: ChannelReadings;
  readonly trails: Trails;
  readonly rows: RowPage;
  readonly review: ReviewedChannel;
  readonly close: undefined;
};

export type Asked = { readonly number: number; readonly question: Question };
export type Answered =
  | { readonly number: number; readonly answer: AnswerTo[Question['ask']] }
  | { readonly number: number; readonly bug: string };
