import { MARKS } from '../chart/mark.js';
import { MarkPicture } from './mark.js';
import { Page } from './page.js';

/** The book of parts: how every shape is read. */
export const PartsBook = () => (
  <Page here="parts">
    <h1 class="page-title">How to read this</h1>
    <ol>
      {MARKS.map((mark) => (
        <li key={mark}>
          <MarkPicture mark={mark} tone="ink" /> {mark}
        </li>
      ))}
    </ol>
  </Page>
);
