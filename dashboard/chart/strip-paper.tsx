import type { ComponentChildren } from 'preact';
import { useRef } from 'preact/hooks';
import type { Span } from '../../rules/review/piece.js';
import { useElementWidth } from '../parts/element-width.js';
import type { Paper } from './strip-path.js';

export type PaperProps = {
  readonly span: Span;
  /** Least and most value on it. */
  readonly values: readonly [low: number, high: number];
  readonly height: number;
  readonly cursorMs: number | undefined;
  readonly onCursor: (atMs: number | undefined) => void;
};
type Drawn = PaperProps & { readonly children: (paper: Paper, width: number) => ComponentChildren };

/** Paper of a stretch of time and a range of values, with the cursor that all strips of a page share. */
export const StripPaper = ({ span, values: [low, high], height, cursorMs, onCursor, children }: Drawn) => {
  const holder = useRef<HTMLDivElement>(null);
  const measured = useElementWidth(holder);
  const width = Math.max(measured, 320);
  const paper: Paper = {
    x: (atMs) => ((atMs - span.fromMs) / (span.toMs - span.fromMs)) * width,
    y: (value) => height - ((value - low) / (high - low)) * height,
  };
  const pointed = (event: PointerEvent & { readonly currentTarget: Element }): void => {
    const box = event.currentTarget.getBoundingClientRect();
    onCursor(span.fromMs + ((event.clientX - box.left) / box.width) * (span.toMs - span.fromMs));
  };
  return (
    <div
      ref={holder}
      class="time-strip"
      onPointerDown={pointed}
      onPointerMove={pointed}
      onPointerLeave={(event) => {
        // A finger lifts: what it pointed at stays readable.
        if (event.pointerType === 'mouse') onCursor(undefined);
      }}
    >
      <svg viewBox={`0 0 ${width} ${height}`} width="100%" height={height} aria-hidden="true">
        {children(paper, width)}
        {cursorMs === undefined ? null : (
          <line class="strip-cursor" x1={paper.x(cursorMs)} x2={paper.x(cursorMs)} y1={0} y2={height} />
        )}
      </svg>
    </div>
  );
};
