import type { Scenario } from './scenario.js';
import { OF_LINES, OF_PROBES } from './scenarios-lines.js';
import { OF_WATER } from './scenarios-water.js';

/** Each condition once. */
export const SCENARIOS: readonly Scenario[] = [...OF_WATER, ...OF_LINES, ...OF_PROBES];
