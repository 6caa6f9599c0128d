import type { Task, WorkKind } from '../work.js';

/**
 * What can be wrong with water, probe, supply or work. A condition's code is part of the journal: never reuse one.
 * The sentences are in rules/words.
 */
export const CONDITION_CODES = [
  'above-limit',
  'below-limit',
  'above-ceiling',
  'below-ceiling',
  'heading-for-ceiling',
  'heater-stuck-on',
  'heat-lost',
  'oxygen-falling',
  'too-fast',
  'probe-in-air',
  'not-plausible',
  'silent',
  'board-offline',
  'clock-wrong',
  'battery-low',
  'line-moved-together',
  'work-overdue',
  'cooling-lost',
  'off-schedule',
  'salinity-shift',
  'flow-lost',
  'air-lost',
  'mains-lost',
  'supersaturated',
  'dawn-oxygen-falling',
  'bed-anoxia',
  'clean-bed-by',
  'stuck',
  'noisy',
  'drifting',
  'level-falling',
  'wet-floor',
  'everything-silent',
  'upkeep-overdue',
] as const;
export type ConditionCode = (typeof CONDITION_CODES)[number];

/** Priority = consequence if nobody acts × time left to act (ISA-18.2 idea); high and medium may wake a person. */
export const PRIORITIES = ['low', 'medium', 'high'] as const;
export type Priority = (typeof PRIORITIES)[number];

/** The line of a channel that a finding is about, in the channel's unit. */
export type Line = {
  readonly kind: 'target' | 'limit' | 'ceiling';
  readonly side: 'low' | 'high';
  readonly value: number;
};

/** Clock time of harm with its interval, and what it rests on. `latestMs` undefined: may never be reached. */
export type Harm = {
  readonly atMs: number;
  readonly earliestMs: number;
  readonly latestMs?: number;
  readonly basis: readonly string[];
};

/** How much there has been beyond the line since it was crossed: °C h for a temperature, mg/L h for oxygen. */
export type Exposure = { readonly unitHours: number; readonly hours: number };

/** Water to add, litres, and no faster than over so many hours. Only ever after a hand measurement. */
export type Remedy = { readonly add: 'fresh-water' | 'sea-water'; readonly litres: number; readonly overHours: number };

/** A condition's judgement now: codes and canonical numbers only, no sentence. */
export type Finding = {
  readonly condition: ConditionCode;
  readonly placeId: string;
  readonly channelId?: string;
  readonly priority: Priority;
  readonly sinceMs: number;
  readonly value?: number;
  readonly line?: Line;
  readonly harm?: Harm;
  /** Slope per hour in the channel's unit, where the finding rests on one. */
  readonly perHour?: number;
  /** Facts that speak for it (`heater-power-agrees`, `sisters-moved-too` ...). */
  readonly evidence?: readonly string[];
  /** What to check first, in order, for this regime and stage. */
  readonly checks?: readonly string[];
  /** The limit crossed has not been confirmed by the hatchery. */
  readonly unconfirmed?: boolean;
  readonly exposure?: Exposure;
  readonly remedy?: Remedy;
  /** Declared work, or work that is due, that the finding is about. */
  readonly work?: WorkKind;
  readonly task?: Task;
  readonly boardId?: string;
  /** Places that it is about beside `placeId`, the worst first, of so many that share the supply. */
  readonly places?: readonly string[];
  readonly ofPlaces?: number;
};
