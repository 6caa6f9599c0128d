import { useSignal } from '@preact/signals';
import { useCallback, useEffect, useMemo } from 'preact/hooks';
import { ok } from '../../rules/result.js';
import type { ReviewedChannel } from '../../rules/review/channel.js';
import type { Span } from '../../rules/review/piece.js';
import type { Review } from '../../rules/review/review.js';
import type { ChannelReadings } from '../../rules/wire/api.js';
import { clockTicks, clockWords, dateWords } from '../../rules/words/clock.js';
import type { LogReader } from '../../rules/words/entry.js';
import { namesFor } from '../../rules/words/name.js';
import { valueWords } from '../../rules/words/number.js';
import { channelName, whenWords } from '../../rules/words/review.js';
import { TimeStrip } from '../chart/time-strip.js';
import type { Asked } from '../link/api.js';
import { useAsked } from '../state/asked.js';
import { useApi } from '../state/gateway.js';
import { useLogReader } from '../state/places.js';
import { drawnFirst, stripPoints } from '../state/strip-readings.js';
import { Pills } from './pills.js';
import { ReviewComputed } from './review-computed.js';
import { ReviewEvents } from './review-events.js';

const MINUTE_MS = 60_000;
/** The width of a clock's words on a phone, as a share of the strip. */
const LAST_TICK = 0.13;
const HOUR_MS = 60 * MINUTE_MS;
const ZOOMS = [
  [String(14 * 24 * HOUR_MS), '14 days'],
  [String(72 * HOUR_MS), '72 h'],
  [String(24 * HOUR_MS), '24 h'],
  [String(6 * HOUR_MS), '6 h'],
  [String(HOUR_MS), '1 h'],
  [String(10 * MINUTE_MS), '10 min'],
] as const;

type StripsProps = {
  readonly review: Review;
  /** Everything has come that is drawn at first. */
  readonly onDrawn: () => void;
};

/** Every channel of the review over one stretch of time, the supply above the tanks. */
export const ReviewStrips = ({ review, onDrawn }: StripsProps) => {
  const api = useApi();
  const reader = useLogReader();
  const { onset, channels } = review;
  const length = useSignal(String(24 * HOUR_MS));
  const endMs = useSignal(onset.certainDeadMs);
  const cursorMs = useSignal<number | undefined>(undefined);
  const span = { fromMs: endMs.value - Number(length.value), toMs: endMs.value };
  const first = useMemo(() => drawnFirst(channels), [channels]);
  const asking = (ids: readonly string[]) => async (): Promise<Asked<readonly ChannelReadings[]>> => {
    const points = stripPoints(span);
    const asked = await Promise.all(ids.map((id) => api.readings(id, span.fromMs, span.toMs, points)));
    return asked.find((one) => !one.ok) ?? ok(asked.flatMap((one) => (one.ok ? [one.value] : [])));
  };
  const { answer } = useAsked(asking(first.own), `${span.fromMs} ${span.toMs}`);
  const { answer: beside } = useAsked(asking(first.beside), `${span.fromMs} ${span.toMs}`);
  const drawn = useMemo(
    () => [answer.value, beside.value].flatMap((one) => (one.kind === 'here' ? one.value : [])),
    [answer.value, beside.value],
  );
  useEffect(() => {
    if (beside.value.kind !== 'waiting' && answer.value.kind !== 'waiting') onDrawn();
  }, [answer.value, beside.value]);
  const refused = [answer.value, beside.value].find((one) => one.kind === 'refused');
  const zoom = (value: string): void => {
    // The cursor, where it was last, stays in the picture; without one the deaths do.
    const middle = cursorMs.peek() ?? onset.certainDeadMs;
    const half = Number(value) / 2;
    endMs.value = Math.min(onset.certainDeadMs, Math.max(middle + half, span.fromMs + Number(value)));
    length.value = value;
  };
  const shift = (share: number): void => {
    endMs.value += share * Number(length.peek());
  };
  return (
    <>
      <div class="no-print">
        <Pills label="How far back" value={length} choices={ZOOMS} onChoose={zoom} />
        <div class="pill-row pill-row-short">
          <button type="button" class="pill" onClick={() => shift(-0.5)}>
            Earlier
          </button>
          <button type="button" class="pill" onClick={() => shift(0.5)}>
            Later
          </button>
        </div>
      </div>
      <p class="review-cursor">
        {cursorMs.value === undefined
          ? `${whenWords(span.fromMs, reader)} to ${whenWords(span.toMs, reader)}. Thin broken lines: the same in tanks without deaths${beside.value.kind === 'waiting' ? ' (fetching …)' : ''}.`
          : whenWords(cursorMs.value, reader)}
      </p>
      {refused === undefined ? null : <p class="page-note">{refused.problem.detail}</p>}
      {answer.value.kind !== 'here' ? (
        <p class="page-note">Fetching …</p>
      ) : (
        <Stack
          review={review}
          readings={drawn}
          isWhole={beside.value.kind === 'here'}
          span={span}
          cursorMs={cursorMs.value}
          onCursor={(at) => (cursorMs.value = at)}
        />
      )}
    </>
  );
};

type StackProps = {
  readonly review: Review;
  readonly readings: readonly ChannelReadings[];
  /** Tanks without deaths are among them. */
  readonly isWhole: boolean;
  readonly span: Span;
  readonly cursorMs: number | undefined;
  readonly onCursor: (atMs: number | undefined) => void;
};

const Stack = ({ review, readings, isWhole, span, cursorMs, onCursor }: StackProps) => {
  const reader = useLogReader();
  const shown = review.channels.filter(({ part, readings: count }) => part !== 'unaffected' && count > 0);
  const readingsOf = useCallback((id: string) => readings.find(({ channelId }) => channelId === id), [readings]);
  const besideOf = ({ quantity, part }: ReviewedChannel) =>
    part === 'supply'
      ? []
      : review.channels
          .filter((other) => other.part === 'unaffected' && other.quantity === quantity)
          .flatMap(({ channelId }) => readingsOf(channelId) ?? []);
  const { certainAliveMs, certainDeadMs } = review.onset;
  return (
    <div class="review-stack" data-whole={isWhole ? 'yes' : 'no'}>
      {shown.map((channel) => {
        const own = readingsOf(channel.channelId);
        if (own === undefined) return null;
        return (
          <section key={channel.channelId} class="review-strip">
            <h3>
              {channelName(channel.channelId, reader)}
              <small>{cursorMs === undefined ? '' : valueAt(own, cursorMs, reader)}</small>
            </h3>
            <TimeStrip
              readings={own}
              beside={besideOf(channel)}
              ruled={channel.wants}
              span={span}
              work={workOf(review, channel.placeId, reader)}
              {...(certainAliveMs === undefined ? {} : { onset: { fromMs: certainAliveMs, toMs: certainDeadMs } })}
              reader={reader}
              height={112}
              cursorMs={cursorMs}
              onCursor={onCursor}
            />
          </section>
        );
      })}
      <ReviewComputed {...{ review, span, readingsOf, cursorMs, onCursor }} />
      <ReviewEvents review={review} span={span} />
      <TimeWords span={span} reader={reader} />
    </div>
  );
};

const workOf = ({ work }: Review, placeId: string, reader: LogReader) =>
  work
    .filter((one) => one.placeId === placeId)
    .map(({ kind, fromMs, untilMs, endedMs }) => ({
      fromMs,
      toMs: endedMs ?? untilMs,
      label: namesFor(reader).work[kind],
    }));

/** The bucket under the cursor; its span where it is one. */
export const valueAt = (
  { atMs, mean, min, max, quantity, bucketMs }: ChannelReadings,
  at: number,
  reader: LogReader,
): string => {
  const index = atMs.findLastIndex((one) => one <= at);
  const [value, low, high] = [mean[index], min[index], max[index]];
  if (value === undefined || value === null || at - (atMs[index] ?? 0) > Math.max(bucketMs, 5 * MINUTE_MS))
    return ' not measured';
  const words = ` ${valueWords(quantity, value, reader)}`;
  if (bucketMs === 0 || low === undefined || low === null || high === undefined || high === null) return words;
  return `${words} (${valueWords(quantity, low, reader)} to ${valueWords(quantity, high, reader)})`;
};

/** The clock below the strips. */
export const TimeWords = ({ span, reader }: { span: Span; reader: LogReader }) => {
  const hours = (span.toMs - span.fromMs) / HOUR_MS;
  const every = [1, 2, 4, 6, 12].find((step) => hours / step <= 8) ?? 12;
  const all = hours <= 2 ? minutes(span) : clockTicks(span.fromMs, span.toMs, every, reader.zone);
  const even = all.filter((_, n) => n % Math.ceil(all.length / 8) === 0);
  // Further right its words would be cut.
  const sparse = even.filter((at) => at <= span.toMs - LAST_TICK * (span.toMs - span.fromMs));
  return (
    <p class="time-words" aria-hidden="true">
      {sparse.map((at) => (
        <span key={at} style={{ left: `${((at - span.fromMs) / (span.toMs - span.fromMs)) * 100}%` }}>
          {hours > 60 ? dateWords(at, reader) : clockWords(at, reader)}
        </span>
      ))}
    </p>
  );
};

const minutes = ({ fromMs, toMs }: Span): readonly number[] => {
  const step = toMs - fromMs > 20 * MINUTE_MS ? 10 * MINUTE_MS : 2 * MINUTE_MS;
  const first = Math.ceil(fromMs / step) * step;
  return Array.from({ length: Math.ceil((toMs - first) / step) }, (_, n) => first + n * step);
};
