import type { Config } from '../config.js';

/** One thing looked at. `attention`: it works, and somebody should know. */
export type Looked = { readonly state: 'well' | 'attention' | 'failed'; readonly sentence: string };

/** Looks at one thing; undefined when it is not there to be looked at. */
export type Look = (config: Config, nowMs: number) => Promise<Looked | undefined>;

export const well = (sentence: string): Looked => ({ state: 'well', sentence });
export const attention = (sentence: string): Looked => ({ state: 'attention', sentence });
export const failing = (sentence: string): Looked => ({ state: 'failed', sentence });
