import { firstLayout } from './001-first.js';
import type { Migration } from './migration.js';

/** In order. A released step is never edited, only followed. */
export const MIGRATIONS: readonly Migration[] = [firstLayout];

export const KNOWN_VERSION = MIGRATIONS.at(-1)?.version ?? 0;
