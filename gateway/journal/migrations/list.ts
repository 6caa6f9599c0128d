import { firstLayout } from './001-first.js';
import { waking } from './002-waking.js';
import { sealedDays } from './003-sealed-days.js';
import { reviews } from './004-reviews.js';
import { forecastScores } from './005-forecast-scores.js';
import { due } from './006-due.js';
import { reviewLines } from './007-review-lines.js';
import type { Migration } from './migration.js';

/** In order. A released step is never edited, only followed. */
export const MIGRATIONS: readonly Migration[] = [
  firstLayout,
  waking,
  sealedDays,
  reviews,
  forecastScores,
  due,
  reviewLines,
];

export const KNOWN_VERSION = MIGRATIONS.at(-1)?.version ?? 0;
