import type { CellSpan } from '../chart/scene.js';
import type { Said } from '../state/said.js';
import { beneath, beside } from '../state/said-layout.js';
import { MarkPicture } from './mark.js';
import { textWidth } from './text-width.js';

/** Words that are read from four metres (see style/wall.css). */
const WORD_PX = 50;

type BeneathProps = {
  readonly said: readonly Said[];
  readonly spans: readonly CellSpan[];
  readonly px: number;
  readonly width: number;
  readonly height: number;
};

/** Under each tank what is to be said of it. */
export const Beneath = ({ said, spans, px, width, height }: BeneathProps) => {
  const lefts = spans.map(({ x }) => x);
  const { shown, more } = beneath(said, lefts, {
    width,
    gap: 18 * px,
    widthOf: (text) => textWidth(text, WORD_PX * px),
  });
  return (
    <ul class="beneath" style={{ height: `${height}px` }}>
      {shown.map(({ said: one, text, x }) => (
        <li key={`${one.cell} ${one.phrase.short}`} class={`said-${one.tone}`} style={{ left: `${x}px` }}>
          {text}
        </li>
      ))}
      {more === 0 ? null : <li class="beneath-more">+{more}</li>}
    </ul>
  );
};

/** Beside the name of the line, where the tanks are folded: each phrase with its tank and its mark. */
export const Beside = ({ said, px, width }: Pick<BeneathProps, 'said' | 'px' | 'width'>) => {
  const { shown, more } = beside(said, {
    width: width - 30 * px,
    gap: 36 * px,
    lead: 60 * px,
    rest: 120 * px,
    widthOf: (text) => textWidth(text, WORD_PX * px),
  });
  return (
    <ul class="beside">
      {shown.map(({ said: one, text }) => (
        <li key={`${one.cell} ${one.phrase.short}`} class={`said-${one.tone}`}>
          <MarkPicture mark={one.mark} tone={one.tone} />
          {text}
        </li>
      ))}
      {more === 0 ? null : <li class="beside-more">+{more}</li>}
    </ul>
  );
};
