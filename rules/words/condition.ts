import type { ConditionCode } from '../conditions/finding.js';
import type { WorkKind } from '../work.js';
import { type ByLanguage, inLanguage, type Reader } from './language.js';

/** `cause` is what is wrong in plain words; `still` is the headline where there is no value to give. */
export type ConditionPhrase = { readonly cause: string; readonly still: string };

/** `{line}`, `{quantity}`, `{place}`, `{work}`, `{task}` and `{board}` are filled in. */
export const CONDITION_PHRASES: ByLanguage<{ readonly [code in ConditionCode]: ConditionPhrase }> = {
  en: {
    'above-limit': { cause: 'above {line}', still: '{quantity} too high' },
    'below-limit': { cause: 'below {line}', still: '{quantity} too low' },
    'above-ceiling': { cause: 'over {line}, never to be passed', still: '{quantity} over the ceiling' },
    'below-ceiling': { cause: 'under {line}, never to be passed', still: '{quantity} under the floor' },
    'heading-for-ceiling': { cause: 'heading for {line}', still: '{quantity} heading for {line}' },
    'heater-stuck-on': { cause: 'heater looks stuck on', still: 'heater looks stuck on' },
    'heat-lost': { cause: 'heat is being lost: heater, flow or level', still: 'heat is being lost' },
    'cooling-lost': { cause: 'the cooling looks off', still: 'the cooling looks off' },
    'oxygen-falling': { cause: 'oxygen is running out: air, flow or crowding', still: 'oxygen falling' },
    'dawn-oxygen-falling': {
      cause: 'lower each dawn: the night uses more than it gets',
      still: 'oxygen lower each dawn',
    },
    supersaturated: { cause: 'too much gas in the water', still: 'too much gas' },
    'too-fast': { cause: '{quantity} changes faster than the animals stand', still: '{quantity} changes too fast' },
    'off-schedule': { cause: 'away from its planned change', still: '{quantity} off its plan' },
    'salinity-shift': { cause: 'fresher or saltier than the tank was', still: 'salinity has shifted' },
    'flow-lost': { cause: 'the flow has stopped', still: 'no flow' },
    'air-lost': { cause: 'the air has stopped', still: 'no air' },
    'mains-lost': { cause: 'mains power is off', still: 'mains off' },
    'bed-anoxia': { cause: 'the bed is likely without oxygen', still: 'bed likely without oxygen' },
    'clean-bed-by': { cause: 'the bed should be cleaned before then', still: 'bed to be cleaned' },
    'level-falling': { cause: 'the tank is losing water', still: 'the tank is losing water' },
    'wet-floor': { cause: 'water on the floor', still: 'water on the floor' },
    'probe-in-air': { cause: 'the probe looks out of the water', still: 'probe in air' },
    'not-plausible': { cause: '{quantity} probe gives what water cannot be', still: '{quantity} not plausible' },
    stuck: { cause: '{quantity} probe gives the same value again and again', still: '{quantity} probe stuck' },
    noisy: { cause: '{quantity} probe jumps about', still: '{quantity} probe noisy' },
    drifting: { cause: '{quantity} probe drifts away from what is beside it', still: '{quantity} probe drifts' },
    silent: { cause: 'no reading of {quantity} arrives', still: '{quantity} silent' },
    'everything-silent': { cause: 'no reading of anything arrives', still: 'everything silent' },
    'board-offline': { cause: 'board {board} is offline, nothing on it is watched', still: 'board offline' },
    'clock-wrong': { cause: 'the clock of board {board} is wrong', still: 'board clock wrong' },
    'battery-low': { cause: 'the battery of board {board} is nearly empty', still: 'battery low' },
    'line-moved-together': { cause: 'all its tanks moved together: look at the supply', still: 'the whole line moved' },
    'work-overdue': { cause: '{work} should have ended: its rules stand again', still: '{work} over time' },
    'upkeep-overdue': { cause: '{task} is overdue', still: '{task} is overdue' },
  },
};

const ALONE: ByLanguage<ConditionPhrase> = {
  en: {
    cause: 'somebody was working there alone and has not said that all is well',
    still: 'nobody heard of them yet',
  },
};

/** How a finding is said; a person who is late is not said like work that is. */
export const phraseOf = (
  { condition, work }: { readonly condition: ConditionCode; readonly work?: WorkKind | undefined },
  reader: Pick<Reader, 'language'>,
): ConditionPhrase =>
  condition === 'work-overdue' && work === 'alone'
    ? inLanguage(ALONE, reader)
    : inLanguage(CONDITION_PHRASES, reader)[condition];

/** Conditions of the probe or the supply have a value only by accident: their headline says what they are. */
export const WITHOUT_VALUE: readonly ConditionCode[] = [
  'probe-in-air',
  'not-plausible',
  'stuck',
  'noisy',
  'silent',
  'everything-silent',
  'board-offline',
  'clock-wrong',
  'mains-lost',
  'wet-floor',
  'work-overdue',
  'upkeep-overdue',
];
