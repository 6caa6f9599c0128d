import { MARKS, type Mark, type Tone } from '../chart/mark.js';
import { MarkPicture } from './mark.js';
import { ScaleFigure } from './scale-figure.js';

const MARK_WORDS: { readonly [mark in Mark]: readonly [tone: Tone, name: string, meaning: string] } = {
  float: ['calm', 'In target', 'The water is as wanted. Nothing to do.'],
  ring: ['ink', 'Outside target', 'Advice. It does not sound, and wakes nobody.'],
  diamond: ['alarm', 'Alarm', 'Outside a limit, or a ceiling is coming. Somebody must go.'],
  'diamond-answered': ['alarm', 'Alarm, answered', 'Somebody is going.'],
  silent: ['ink', 'Silent', 'No reading arrives. Nobody knows how the water is.'],
  implausible: ['ink', 'Not plausible', 'The probe gives what water cannot be.'],
  lifted: ['muted', 'Out of water', 'Declared work; the name of it and the time left stand beside it.'],
  unwatched: ['muted', 'Not watched', 'No limit is set, or it is muted. It will not sound.'],
};

/** How the drawing is read: the one scale, and what each mark means. */
export const Reading = () => (
  <>
    <h1 class="page-title">How to read this</h1>
    <p class="page-note">
      Each channel of each tank is a float on one scale: that of its own wants. The middle of the band is the middle of
      its target, whatever the quantity. A room that is well lies in the water.
    </p>
    <ScaleFigure />
    <dl class="mark-list">
      {MARKS.map((mark) => {
        const [tone, name, meaning] = MARK_WORDS[mark];
        return (
          <div key={mark}>
            <dt>
              <MarkPicture mark={mark} tone={tone} /> {name}
            </dt>
            <dd>{meaning}</dd>
          </div>
        );
      })}
    </dl>
  </>
);
