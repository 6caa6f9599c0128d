import { type Mark, SHAPES, type Tone } from '../chart/mark.js';

/** The shape of a state, beside the words that say it: every line of text is its own key to the drawing. */
export const MarkPicture = ({ mark, tone }: { readonly mark: Mark; readonly tone: Tone }) => {
  const { path, filled, dashed } = SHAPES[mark];
  return (
    <svg class={`mark mark-${tone}`} viewBox="-1.5 -1.5 3 3" aria-hidden="true">
      <path
        d={path}
        fill={filled ? 'currentColor' : 'none'}
        stroke={filled ? 'none' : 'currentColor'}
        stroke-width={mark === 'unwatched' ? 0.5 : 0.3}
        stroke-linecap={dashed === true ? 'butt' : 'round'}
        stroke-dasharray={dashed === true ? '.42 .365' : undefined}
      />
    </svg>
  );
};
