import type { CellSpan } from '../chart/scene.js';
import { type Room, useRoom } from '../state/room.js';
import { saidOf } from '../state/said.js';
import { beneath, beside, type SaidLayout } from '../state/said-layout.js';
import { useSteady } from '../state/steady.js';
import type { StripShape } from '../state/strip-shape.js';
import { MarkPicture } from './mark.js';
import { textWidth } from './text-width.js';

/** Words that are read from four metres (see style/wall.css). */
const WORD_PX = 50;
const TITLE_PX = 38;

type WordsProps = { readonly shape: StripShape; readonly px: number; readonly width: number };
type BeneathProps = WordsProps & { readonly spans: readonly CellSpan[]; readonly height: number };

const NOTHING: SaidLayout = { shown: [], more: 0 };
const saidIn = (room: Room, id: string) => {
  const strip = room.strips.value.find((one) => one.id === id);
  return strip === undefined ? undefined : saidOf(strip, room.nowMs.value, room.reader.value);
};

/** Under each tank what is to be said of it. */
export const Beneath = ({ shape, spans, px, width, height }: BeneathProps) => {
  const room = useRoom();
  const { shown, more } = useSteady(() => {
    const said = saidIn(room, shape.id);
    const lefts = spans.map(({ x }) => x);
    const paper = { width, gap: 18 * px, widthOf: (text: string) => textWidth(text, WORD_PX * px) };
    return said === undefined ? NOTHING : beneath(said, lefts, paper);
  }, [shape, spans, px, width]);
  return (
    <ul class="beneath" style={{ height: `${height}px` }}>
      {shown.map(({ said, text, x }) => (
        <li key={`${said.cell} ${said.phrase.short}`} class={`said-${said.tone}`} style={{ left: `${x}px` }}>
          {text}
        </li>
      ))}
      {more === 0 ? null : <li class="beneath-more">+{more}</li>}
    </ul>
  );
};

/** Beside the name of the line, where the tanks are folded: each phrase with its tank and its mark. */
export const Beside = ({ shape, px, width }: WordsProps) => {
  const room = useRoom();
  const { shown, more } = useSteady(() => {
    const said = saidIn(room, shape.id);
    const paper = {
      width: width - textWidth(shape.name, TITLE_PX * px) - 30 * px,
      gap: 36 * px,
      lead: 60 * px,
      rest: 120 * px,
      widthOf: (text: string) => textWidth(text, WORD_PX * px),
    };
    return said === undefined ? NOTHING : beside(said, paper);
  }, [shape, px, width]);
  return (
    <ul class="beside">
      {shown.map(({ said, text }) => (
        <li key={`${said.cell} ${said.phrase.short}`} class={`said-${said.tone}`}>
          <MarkPicture mark={said.mark} tone={said.tone} />
          {text}
        </li>
      ))}
      {more === 0 ? null : <li class="beside-more">+{more}</li>}
    </ul>
  );
};
