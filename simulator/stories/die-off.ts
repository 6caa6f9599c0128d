import { once } from 'node:events';
import { writeFile } from 'node:fs/promises';
import type { Review } from '../../rules/review/review.js';
import { bandFor } from '../../rules/stage/profiles.js';
import type { FrozenReview } from '../../rules/wire/review.js';
import { declaredSpan, startDieOffGateway } from './die-off-gateway.js';
import { DEAD_IN, writeAndFreeze } from './die-off-log.js';
import { pagesOf, printReview } from './die-off-paper.js';
import { type DieOff, dieOffAt } from './die-off-water.js';

export type DieOffStory = {
  /** The supply line that the affected tanks follow. */
  readonly line?: string;
  /** The channel that moved first. */
  readonly firstMover?: string;
  /** Hours beyond the limit of the tanks with deaths together, in the 24-hour window: by the review, and recomputed from the raw file. */
  readonly exposureHours: number;
  readonly exposureHoursFromRaw: number;
  readonly gapReason?: string;
  readonly drainDownCounted: boolean;
  readonly pdfPages?: number;
  readonly review: string;
};

const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;
const LONGEST_STEP_MS = 180_000;

/** Nine in the morning, UTC, of today or yesterday. */
const lastMorning = (nowMs: number): number => Math.floor((nowMs - 10 * HOUR_MS) / DAY_MS) * DAY_MS + 9 * HOUR_MS;

type Raw = ReadonlyMap<string, readonly (readonly [atMs: number, value: number])[]>;

/** Channel, unit, time, arrival, value, usable: as the columns of the raw file stand. */
const readRaw = (csv: string): Raw => {
  const by = new Map<string, (readonly [number, number])[]>();
  for (const line of csv.trimEnd().split('\r\n').slice(1)) {
    const [channel = '', , time = '', , value = '', usable] = line.split(',');
    if (usable !== '1') continue;
    by.set(channel, [...(by.get(channel) ?? []), [Date.parse(time), Number(value)]]);
  }
  return by;
};

/** Hours over a line between two times, straight between readings, in the plainest way. */
const hoursOver = (
  raw: Raw,
  channel: string,
  line: number,
  { fromMs, toMs }: { fromMs: number; toMs: number },
): number => {
  const own = (raw.get(channel) ?? []).filter(([at]) => at >= fromMs && at <= toMs);
  let hours = 0;
  for (const [n, [at, value]] of own.entries()) {
    const before = own[n - 1];
    if (before === undefined || at - before[0] > LONGEST_STEP_MS) continue;
    const [a, b] = [before[1] - line, value - line];
    const share = a > 0 && b > 0 ? 1 : a <= 0 && b <= 0 ? 0 : Math.max(a, b) / Math.abs(a - b);
    hours += (share * (at - before[0])) / HOUR_MS;
  }
  return hours;
};

const exposureIn = (review: Review, id: string): number =>
  review.channels.find(({ channelId }) => channelId === `${id}.temperature`)?.exposures['24h']?.beyond.limitHigh
    ?.hours ?? 0;

const told = ({ review }: FrozenReview, raw: Raw, dieOff: DieOff, address: string): DieOffStory => {
  const limit = bandFor('warm-temperate-burrowing-clam', 'post-set', 'temperature')?.limit.high ?? Number.NaN;
  const span = { fromMs: dieOff.deadMs - 40 * HOUR_MS, toMs: dieOff.deadMs };
  const declared = declaredSpan(dieOff);
  const plain = DEAD_IN.map((id) => {
    const channel = `${id}.temperature`;
    if (id !== 'n2') return hoursOver(raw, channel, limit, span);
    const parts = [
      { fromMs: span.fromMs, toMs: declared.fromMs },
      { fromMs: declared.toMs, toMs: span.toMs },
    ];
    return parts.reduce((sum, part) => sum + hoursOver(raw, channel, limit, part), 0);
  });
  const gap = review.whole.channels
    .find(({ channelId }) => channelId === 'n1.temperature')
    ?.gaps.find(({ fromMs, toMs }) => fromMs < dieOff.outage.toMs && toMs > dieOff.outage.fromMs);
  const { along } = review.pattern;
  const night = hoursOver(raw, 'n2.temperature', limit, { fromMs: dieOff.sticks.fromMs, toMs: dieOff.deadMs });
  return {
    ...(along?.kind === 'line' ? { line: along.id } : {}),
    ...(review.firstMover.first === undefined ? {} : { firstMover: review.firstMover.first.channelId }),
    exposureHours: DEAD_IN.reduce((sum, id) => sum + exposureIn(review, id), 0),
    exposureHoursFromRaw: plain.reduce((sum, hours) => sum + hours, 0),
    ...(gap === undefined ? {} : { gapReason: gap.reason }),
    drainDownCounted: exposureIn(review, 'n2') > night + 0.01,
    review: address,
  };
};

const isWhole = (story: DieOffStory): boolean =>
  story.line === 'warm' &&
  story.firstMover === 'warm.temperature' &&
  Math.abs(story.exposureHours - story.exposureHoursFromRaw) < 0.01 &&
  story.gapReason === 'board-silent' &&
  !story.drainDownCounted;

const inWords = (story: DieOffStory): string =>
  [
    'A die-off: the heater of a header hangs at night, a board is silent for 40 minutes, a tank was drained the day before.',
    `affected tanks follow the line: ${story.line ?? 'none'}`,
    `first to move: ${story.firstMover ?? 'nothing'}`,
    `hours beyond the limit in the tanks with deaths: ${story.exposureHours.toFixed(2)}; from the raw file ${story.exposureHoursFromRaw.toFixed(2)}`,
    `the gap: ${story.gapReason ?? 'not found'}; the drain-down ${story.drainDownCounted ? 'was counted' : 'was not counted'}`,
    `pages on paper: ${story.pdfPages ?? 'no Chromium here'}`,
    `the review: ${story.review}`,
  ].join('\n');

/** `--stay` keeps the gateway running until it is interrupted or ended; `--pdf FILE` keeps the paper. */
export const tell = async (args: readonly string[]): Promise<{ readonly text: string; readonly ok: boolean }> => {
  const dieOff = dieOffAt(lastMorning(Date.now()));
  const gateway = await startDieOffGateway(dieOff, 11);
  try {
    const frozen = await writeAndFreeze(gateway, dieOff);
    const { id } = frozen.review;
    const raw = readRaw(await gateway.ask('GET', `/reviews/${id}/raw.csv`));
    const address = `${gateway.url}/reviews/${id}`;
    const pdf = await printReview(address);
    const kept = args[args.indexOf('--pdf') + 1];
    if (pdf !== undefined && args.includes('--pdf') && kept !== undefined) await writeFile(kept, pdf);
    const story = { ...told(frozen, raw, dieOff, address), ...(pdf === undefined ? {} : { pdfPages: pagesOf(pdf) }) };
    const text = args.includes('--json') ? JSON.stringify(story, undefined, 2) : inWords(story);
    if (!args.includes('--stay')) return { text, ok: isWhole(story) };
    process.stdout.write(`${text}\n`);
    await Promise.race(['SIGINT', 'SIGTERM', 'SIGHUP'].map((signal) => once(process, signal)));
    return { text: '', ok: isWhole(story) };
  } finally {
    await gateway.close();
  }
};
