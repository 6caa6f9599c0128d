import { AIR_LOST } from './air-lost.js';
import { BATTERY_LOW } from './battery-low.js';
import { BED_ANOXIA } from './bed-anoxia.js';
import { BOARD_OFFLINE } from './board-offline.js';
import { CLEAN_BED_BY } from './clean-bed-by.js';
import { CLOCK_WRONG } from './clock-wrong.js';
import type { Condition } from './condition.js';
import { DAWN_OXYGEN } from './dawn-oxygen.js';
import { EVERYTHING_SILENT } from './everything-silent.js';
import { FLOW_LOST } from './flow-lost.js';
import { HEADING_FOR_CEILING } from './heading-for-ceiling.js';
import { COOLING_LOST, HEAT_LOST } from './heat-lost.js';
import { HEATER_STUCK_ON } from './heater-stuck-on.js';
import { LEVEL_FALLING } from './level-falling.js';
import { LIMIT_CONDITIONS } from './limit.js';
import { LINE_MOVED_TOGETHER } from './line-moved-together.js';
import { MAINS_LOST } from './mains-lost.js';
import { NOT_PLAUSIBLE } from './not-plausible.js';
import { OFF_SCHEDULE } from './off-schedule.js';
import { OXYGEN_FALLING } from './oxygen-falling.js';
import { PROBE_IN_AIR } from './probe-in-air.js';
import { DRIFTING, NOISY, STUCK } from './probe-trouble.js';
import { SALINITY_SHIFT } from './salinity-shift.js';
import { SILENT } from './silent.js';
import { SUPERSATURATED } from './supersaturated.js';
import { TOO_FAST } from './too-fast.js';
import { UPKEEP_OVERDUE } from './upkeep-overdue.js';
import { WET_FLOOR } from './wet-floor.js';
import { WORK_OVERDUE } from './work-overdue.js';

/**
 * Every condition there is, in the order in which they look: supplies before the tanks that hang on them, and the worse
 * of two before the milder, so that of one moment the one that covers has spoken first.
 */
export const CONDITIONS: readonly Condition[] = [
  EVERYTHING_SILENT,
  BOARD_OFFLINE,
  MAINS_LOST,
  AIR_LOST,
  LINE_MOVED_TOGETHER,
  HEATER_STUCK_ON,
  HEADING_FOR_CEILING,
  OXYGEN_FALLING,
  HEAT_LOST,
  COOLING_LOST,
  ...LIMIT_CONDITIONS,
  FLOW_LOST,
  LEVEL_FALLING,
  WET_FLOOR,
  NOT_PLAUSIBLE,
  PROBE_IN_AIR,
  SALINITY_SHIFT,
  TOO_FAST,
  OFF_SCHEDULE,
  SILENT,
  BED_ANOXIA,
  CLEAN_BED_BY,
  DAWN_OXYGEN,
  SUPERSATURATED,
  STUCK,
  NOISY,
  DRIFTING,
  CLOCK_WRONG,
  BATTERY_LOW,
  WORK_OVERDUE,
  UPKEEP_OVERDUE,
];
