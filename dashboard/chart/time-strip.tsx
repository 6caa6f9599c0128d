import { useId } from 'preact/hooks';
import type { DatedWants } from '../../rules/review/exposure.js';
import type { Span } from '../../rules/review/piece.js';
import type { ChannelReadings } from '../../rules/wire/api.js';
import type { Wants } from '../../rules/wire/picture.js';
import { durationWords } from '../../rules/words/clock.js';
import type { Reader } from '../../rules/words/language.js';
import { namesFor } from '../../rules/words/name.js';
import { lineWords } from '../../rules/words/number.js';
import { StripPaper } from './strip-paper.js';
import { meanPath, type Paper, spanPath, valueSpan } from './strip-path.js';

export type Apart = Span & { readonly label: string };
export type TimeStripProps = {
  readonly readings: ChannelReadings;
  /** The same quantity of tanks without deaths. */
  readonly beside: readonly ChannelReadings[];
  /** Target and limit, each from its moment on. */
  readonly ruled: DatedWants;
  readonly span: Span;
  /** Declared work. */
  readonly work: readonly Apart[];
  /** When the deaths began, as an interval. */
  readonly onset?: Span;
  readonly reader: Reader;
  readonly height: number;
  readonly cursorMs: number | undefined;
  readonly onCursor: (atMs: number | undefined) => void;
};

/** What lies beside is told apart by its dashes, in black and white too. */
export const BESIDE_DASHES = ['3 3', '9 3', '1.5 5', '9 3 1.5 3', '16 4', '5 2 1 2 1 2'] as const;

const linesOf = (wants: Wants | undefined): readonly number[] =>
  [wants?.targetLow, wants?.targetHigh, wants?.limitLow, wants?.limitHigh].filter((line) => line !== undefined);

/** A channel over a stretch of time on paper of its own values: drawn as lines, so that it prints as it is seen. */
export const TimeStrip = (props: TimeStripProps) => {
  const { readings, beside, ruled, span, height, cursorMs, onCursor } = props;
  const lines = ruled.filter(({ fromMs }) => fromMs < span.toMs).flatMap(({ wants }) => linesOf(wants));
  const values = valueSpan([readings, ...beside], lines);
  return (
    <StripPaper span={span} values={values} height={height} cursorMs={cursorMs} onCursor={onCursor}>
      {(paper, width) => (
        <>
          <Ground {...props} paper={paper} width={width} />
          {beside.map((other, n) => (
            <path
              key={`${other.channelId} ${other.fromMs}`}
              class="strip-beside"
              stroke-dasharray={BESIDE_DASHES[n % BESIDE_DASHES.length]}
              d={meanPath(other, paper)}
            />
          ))}
          <path class="strip-span" d={spanPath(readings, paper)} />
          <path class="strip-mean" d={meanPath(readings, paper)} />
        </>
      )}
    </StripPaper>
  );
};

type GroundProps = TimeStripProps & { readonly paper: Paper; readonly width: number };

/** What lies behind the trace: target, limits, gaps with their reason, declared work, the onset. */
const Ground = ({ readings, ruled, span, work, onset, reader, height, paper, width }: GroundProps) => {
  const hatch = useId();
  const { quantity, gaps } = readings;
  const clip = ({ fromMs, toMs }: Span) => {
    const from = Math.max(0, paper.x(fromMs));
    return { x: from, width: Math.max(1, Math.min(width, paper.x(toMs)) - from) };
  };
  return (
    <>
      <defs>
        <pattern id={hatch} width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(35)">
          <line class="strip-hatch" x1="0" x2="0" y1="0" y2="7" />
        </pattern>
      </defs>
      {ruledIn(ruled, span).map((part) => (
        <Ruled key={part.fromMs} part={part} {...clip(part)} {...{ quantity, reader, height, paper }} />
      ))}
      {onset === undefined ? null : (
        <g>
          <rect class="strip-onset" y={0} height={height} {...clip(onset)} />
          {clip(onset).width < 190 ? null : (
            <text class="strip-word" x={clip(onset).x + 5} y={height - 5}>
              deaths began in here
            </text>
          )}
        </g>
      )}
      {gaps.map((gap) => {
        const place = clip(gap);
        const label = `${namesFor(reader).gap[gap.reason]} ${durationWords(gap.toMs - gap.fromMs, reader)}`;
        return (
          <g key={`${gap.fromMs} ${gap.reason}`}>
            <rect y={0} height={height} fill={`url(#${hatch})`} {...place} />
            {place.width < label.length * 7 ? null : (
              <text class="strip-word strip-centre" x={place.x + place.width / 2} y={height / 2}>
                {label}
              </text>
            )}
          </g>
        );
      })}
      {work.map((one) => {
        const place = clip(one);
        return (
          <g key={`${one.fromMs} ${one.label}`}>
            <rect class="strip-work" y={height - 7} height={7} {...place} />
            <text class="strip-word" x={place.x + 2} y={height - 11}>
              {one.label}
            </text>
          </g>
        );
      })}
    </>
  );
};

type Part = Span & { readonly wants: Wants | undefined };

/** The lines of the span, each until the next; the same that changed nothing here are one. */
const ruledIn = (ruled: DatedWants, span: Span): readonly Part[] => {
  const parts: Part[] = [];
  for (const [n, { fromMs, wants }] of ruled.entries()) {
    const part = {
      fromMs: Math.max(fromMs, span.fromMs),
      toMs: Math.min(ruled[n + 1]?.fromMs ?? span.toMs, span.toMs),
    };
    if (part.fromMs >= part.toMs) continue;
    const before = parts.at(-1);
    if (before !== undefined && String(linesOf(before.wants)) === String(linesOf(wants)))
      parts[parts.length - 1] = { ...before, toMs: part.toMs };
    else parts.push({ ...part, wants });
  }
  return parts;
};

type RuledProps = Pick<GroundProps, 'reader' | 'height' | 'paper'> & {
  readonly part: Part;
  readonly x: number;
  readonly width: number;
  readonly quantity: ChannelReadings['quantity'];
};

/** Target as water, limits as dotted lines, where and while they ruled. */
const Ruled = ({ part: { wants }, x, width, quantity, reader, height, paper }: RuledProps) => {
  const [top, bottom] = [wants?.targetHigh, wants?.targetLow].map((line) =>
    line === undefined ? undefined : paper.y(line),
  );
  return (
    <g>
      {top === undefined && bottom === undefined ? null : (
        <rect
          class="strip-water"
          {...{ x, width }}
          y={top ?? 0}
          height={Math.max(0, (bottom ?? height) - (top ?? 0))}
        />
      )}
      {[wants?.limitLow, wants?.limitHigh].map((line) =>
        line === undefined ? null : (
          <g key={line}>
            <line class="strip-limit" x1={x} x2={x + width} y1={paper.y(line)} y2={paper.y(line)} />
            {width < 90 ? null : (
              <text class="strip-word" x={x + 4} y={paper.y(line) + (paper.y(line) < 18 ? 14 : -4)}>
                limit {lineWords(quantity, line, reader)}
              </text>
            )}
          </g>
        ),
      )}
    </g>
  );
};
