import type { Reader } from '../../rules/words/language.js';
import { lineWords } from '../../rules/words/number.js';
import { useRoom } from '../state/room.js';

const HEIGHT = 300;
/** Where each line lies in the drawing, and what it is. */
const wordsFor = (reader: Reader): readonly (readonly [y: number, words: string])[] => {
  const degrees = (temperatureC: number): string => lineWords('temperature', temperatureC, reader);
  return [
    [26, `ceiling ${degrees(32)}: never`],
    [66, `limit ${degrees(30)}: sounds`],
    [114, `target to ${degrees(28)}`],
    [162, 'middle'],
    [210, `target from ${degrees(24)}`],
    [258, `limit ${degrees(22)}: sounds`],
  ];
};

/** The scale with its words and, in small, the values of one tank: what ±1 and ±2 mean in degrees. */
export const ScaleFigure = () => (
  <figure class="scale-figure">
    <div class="scale-drawing">
      <svg
        viewBox="0 0 620 300"
        preserveAspectRatio="xMaxYMid slice"
        role="img"
        aria-label="The waterline: target in the middle, limits above and below, a ceiling over the upper limit"
      >
        <path class="reading-ceiling" d="M0 26H620" />
        <path class="reading-limit" d="M2 66H620M2 258H620" />
        <path class="reading-water" d="M0 114H620V210H0Z" />
        <path class="reading-surface" d="M0 114H620M0 210H620" />
        <path class="reading-trail" d="M14 168C50 140 74 190 108 172S150 146 172 154" />
        <circle class="reading-float" cx="172" cy="154" r="13" />
        <path class="reading-trail reading-ink" d="M230 168C270 172 300 196 336 230" />
        <circle class="reading-ring" cx="336" cy="230" r="14" />
        <path class="reading-trail reading-loud" d="M400 156C440 146 470 90 506 58" />
        <path class="reading-fan" d="M506 58L548 26L600 26Z" />
        <path class="reading-diamond" d="M506 38L526 58L506 78L486 58Z" />
      </svg>
      <ul class="scale-words">
        {wordsFor(useRoom().reader.value).map(([y, words]) => (
          <li key={words} style={{ top: `${(100 * y) / HEIGHT}%` }}>
            {words}
          </li>
        ))}
      </ul>
    </div>
    <figcaption>
      Temperature of a tank of larvae, as an example. The trail is the last three hours; the fan is what comes next.
    </figcaption>
  </figure>
);
