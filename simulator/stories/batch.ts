import { lotsIn } from '../../rules/log/book.js';
import { isKind } from '../../rules/log/entry.js';
import type { Stage } from '../../rules/stage/stage.js';
import { tallyWords } from '../../rules/words/animals.js';
import { entryWords } from '../../rules/words/entry.js';
import { entryNames } from '../../rules/words/entry-name.js';
import { namesFor } from '../../rules/words/name.js';
import { BATCH, batchDays } from './batch-days.js';
import { type Played, playBatch, type Sounded } from './batch-play.js';

/** The midnight before the parents come. */
const MIDNIGHT_MS = Date.UTC(2026, 4, 4);
const SEED = 7;
/** From the overheating on, until the tray is cool again and the ceiling has rung off. */
const EPISODE_MS = 45 * 60_000;

export type BatchStory = {
  /** Every stage that the animals were in, in order. */
  readonly stages: readonly Stage[];
  /** Alarms that sounded without a reason. */
  readonly needlessAlarms: number;
  /** The ceiling sounded when the tray was overheated, and at no water swap. */
  readonly ceilingSounded: boolean;
  /** After each entry every animal was accounted for. */
  readonly stockBalanced: boolean;
  readonly logEntries: number;
};

const CEILING: readonly string[] = ['above-ceiling', 'heading-for-ceiling', 'heater-stuck-on', 'too-fast'];

export const tellBatch = (
  seed = SEED,
): { readonly story: BatchStory; readonly played: Played; readonly needless: readonly Sounded[] } => {
  const days = batchDays(MIDNIGHT_MS);
  const played = playBatch(days, seed);
  const isEpisode = ({ atMs, placeId }: Sounded): boolean =>
    placeId === 't1' && atMs >= days.overheatedMs && atMs < days.overheatedMs + EPISODE_MS;
  const needless = played.sounded.filter((one) => !(isEpisode(one) && CEILING.includes(one.code)));
  const atSwap = played.sounded.some(
    ({ atMs, code }) =>
      code === 'above-ceiling' && days.swaps.some(({ fromMs, toMs }) => fromMs <= atMs && atMs < toMs),
  );
  const sounded = played.sounded.some((one) => one.code === 'above-ceiling' && isEpisode(one));
  return {
    played,
    needless,
    story: {
      stages: stagesOf(played),
      needlessAlarms: needless.length,
      ceilingSounded: sounded && !atSwap,
      stockBalanced: played.stockBalanced,
      logEntries: played.record.written.size,
    },
  };
};

const stagesOf = ({ record }: Played): readonly Stage[] => {
  const stages: Stage[] = [];
  const be = (stage: Stage): void => {
    if (stages.at(-1) !== stage) stages.push(stage);
  };
  for (const entry of record.ruling.entries) {
    if (isKind(entry, 'brought-in', 'stage')) be(entry.fields.stage);
    if (isKind(entry, 'eggs-stocked')) be('embryo');
    if (isKind(entry, 'drain-down') && entry.fields.stage !== undefined) be(entry.fields.stage);
  }
  return stages;
};

const CLOCK = (atMs: number): string => new Date(atMs).toISOString().slice(0, 16).replace('T', ' ');

/** The story in lines for a person. */
export const batchLines = (): readonly string[] => {
  const { story, played, needless } = tellBatch();
  const reader = { zone: 'UTC', hours: 24, temperatureUnit: 'C', placeName: (id: string) => id.toUpperCase() } as const;
  const diary = played.record.ruling.entries
    .filter((entry) => !isKind(entry, 'feeding', 'work-end', 'work'))
    .map(
      (entry) =>
        `${CLOCK(entry.atMs)}  ${(entry.placeId ?? '').toUpperCase().padEnd(3)} ${entryNames().kind[entry.kind]}: ${entryWords(entry, reader)}`,
    );
  const left = lotsIn(played.record.stock.book, 'p1')
    .map((lot) => tallyWords(lot, reader))
    .join(', ');
  return [
    ...diary,
    '',
    ...played.sounded.map(({ atMs, code, placeId }) => `${CLOCK(atMs)}  sounded: ${placeId.toUpperCase()} ${code}`),
    '',
    `Batch ${BATCH}: ${story.stages.map((stage) => namesFor().stage[stage]).join(' → ')}; ${left} in P1.`,
    `${needless.length} needless alarms; the ceiling ${story.ceilingSounded ? 'sounded when the tray was overheated, and at no water swap' : 'did not do as it should'}.`,
    `The stock ${story.stockBalanced ? 'added up after each' : 'did not add up after some'} of ${story.logEntries} entries.`,
  ];
};

/** `npm run story -- batch [--json]`: whether everything went as it should. */
export const tell = (args: readonly string[]): { readonly text: string; readonly ok: boolean } => {
  const { story } = tellBatch();
  const ok = story.needlessAlarms === 0 && story.ceilingSounded && story.stockBalanced;
  return { text: args.includes('--json') ? JSON.stringify(story) : batchLines().join('\n'), ok };
};
