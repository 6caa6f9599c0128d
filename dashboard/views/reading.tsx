import { Page } from '../parts/page.js';
import { Reading } from '../parts/reading.js';

/** How to read this, beside the room as it is: an open alarm stands above it as on every page. */
export const ReadingPage = () => (
  <Page here="reading">
    <Reading />
  </Page>
);
