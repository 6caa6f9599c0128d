import type { AppParts } from './parts.js';

export type WakingRouteParts = NonNullable<AppParts['waking']>;
