import { useId, useRef } from 'preact/hooks';
import type { Span } from '../../rules/review/piece.js';
import type { ChannelReadings } from '../../rules/wire/api.js';
import type { Wants } from '../../rules/wire/picture.js';
import { durationWords } from '../../rules/words/clock.js';
import type { Reader } from '../../rules/words/language.js';
import { namesFor } from '../../rules/words/name.js';
import { lineWords } from '../../rules/words/number.js';
import { useElementWidth } from '../parts/element-width.js';
import { meanPath, type Paper, spanPath, valueSpan } from './strip-path.js';

export type Apart = Span & { readonly label: string };
export type TimeStripProps = {
  readonly readings: ChannelReadings;
  /** The same quantity of tanks without deaths. */
  readonly beside: readonly ChannelReadings[];
  readonly wants: Wants | undefined;
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

const linesOf = (wants: Wants | undefined): readonly number[] =>
  [wants?.targetLow, wants?.targetHigh, wants?.limitLow, wants?.limitHigh].filter((line) => line !== undefined);

/** A channel over a stretch of time on paper of its own values: drawn as lines, so that it prints as it is seen. */
export const TimeStrip = (props: TimeStripProps) => {
  const holder = useRef<HTMLDivElement>(null);
  const measured = useElementWidth(holder);
  const width = Math.max(measured, 320);
  const { readings, beside, wants, span, height, cursorMs, onCursor } = props;
  const [low, high] = valueSpan([readings, ...beside], linesOf(wants));
  const paper: Paper = {
    x: (atMs) => ((atMs - span.fromMs) / (span.toMs - span.fromMs)) * width,
    y: (value) => height - ((value - low) / (high - low)) * height,
  };
  const pointed = (event: PointerEvent & { readonly currentTarget: Element }): void => {
    const box = event.currentTarget.getBoundingClientRect();
    onCursor(span.fromMs + ((event.clientX - box.left) / box.width) * (span.toMs - span.fromMs));
  };
  return (
    <div ref={holder} class="time-strip" onPointerMove={pointed} onPointerLeave={() => onCursor(undefined)}>
      <svg viewBox={`0 0 ${width} ${height}`} width="100%" height={height} aria-hidden="true">
        <Ground {...props} paper={paper} width={width} />
        {beside.map((other) => (
          <path key={other.channelId} class="strip-beside" d={meanPath(other, paper)} />
        ))}
        <path class="strip-span" d={spanPath(readings, paper)} />
        <path class="strip-mean" d={meanPath(readings, paper)} />
        {cursorMs === undefined ? null : (
          <line class="strip-cursor" x1={paper.x(cursorMs)} x2={paper.x(cursorMs)} y1={0} y2={height} />
        )}
      </svg>
    </div>
  );
};

type GroundProps = TimeStripProps & { readonly paper: Paper; readonly width: number };

/** What lies behind the trace: target, limits, gaps with their reason, declared work, the onset. */
const Ground = ({ readings, wants, work, onset, reader, height, paper, width }: GroundProps) => {
  const hatch = useId();
  const { quantity, gaps } = readings;
  const [top, bottom] = [wants?.targetHigh, wants?.targetLow].map((line) =>
    line === undefined ? undefined : paper.y(line),
  );
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
      {top === undefined && bottom === undefined ? null : (
        <rect
          class="strip-water"
          x={0}
          y={top ?? 0}
          width={width}
          height={Math.max(0, (bottom ?? height) - (top ?? 0))}
        />
      )}
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
      {[wants?.limitLow, wants?.limitHigh].map((line) =>
        line === undefined ? null : (
          <g key={line}>
            <line class="strip-limit" x1={0} x2={width} y1={paper.y(line)} y2={paper.y(line)} />
            <text class="strip-word" x={4} y={paper.y(line) + (paper.y(line) < 18 ? 14 : -4)}>
              limit {lineWords(quantity, line, reader)}
            </text>
          </g>
        ),
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
