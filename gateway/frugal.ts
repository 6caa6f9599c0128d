import { setFlagsFromString } from 'node:v8';

/**
 * What has gone out of use may grow to this share of what is in use before it is cleared away, percent. Left to itself
 * the runtime waits for several times as much: on a small board beside a broker that is memory for nothing. Read anew at
 * each clearing, so that it counts from when it is said. Measured by `npm run bench -- memory`.
 */
const GARBAGE_PCT = 30;

/** Keeps the memory of this process close to what is in use. */
export const beFrugal = (): void => setFlagsFromString(`--heap-growing-percent=${GARBAGE_PCT}`);
