import type { Condition } from './condition.js';
import { LIMIT_CONDITIONS } from './limit.js';
import { NOT_PLAUSIBLE } from './not-plausible.js';
import { PROBE_IN_AIR } from './probe-in-air.js';
import { SILENT } from './silent.js';

/** Every condition there is, in the order in which they look. */
export const CONDITIONS: readonly Condition[] = [...LIMIT_CONDITIONS, NOT_PLAUSIBLE, PROBE_IN_AIR, SILENT];
