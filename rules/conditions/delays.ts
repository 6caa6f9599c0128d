import type { Place } from '../place.js';
import type { Quantity } from '../quantity.js';
import type { Timing } from './condition.js';

type Habit = { readonly deadband: number; readonly onDelayMs: number; readonly offDelayMs: number };

const S = 1_000;

/**
 * Deadband in the quantity's unit, and delays, where the hatchery set none. Terms: ISA-18.2 (from memory). Figures:
 * common practice, no source; temperature's deadband is narrower than the standard's 1 % of range, for larvae.
 */
const HABITS: { readonly [quantity in Quantity]?: Habit } = {
  temperature: { deadband: 0.2, onDelayMs: 120 * S, offDelayMs: 60 * S },
  salinity: { deadband: 0.5, onDelayMs: 120 * S, offDelayMs: 60 * S },
  'oxygen-mg-l': { deadband: 0.3, onDelayMs: 60 * S, offDelayMs: 60 * S },
  'oxygen-saturation': { deadband: 3, onDelayMs: 60 * S, offDelayMs: 60 * S },
  ph: { deadband: 0.05, onDelayMs: 300 * S, offDelayMs: 60 * S },
  level: { deadband: 0.02, onDelayMs: 60 * S, offDelayMs: 60 * S },
  flow: { deadband: 0.2, onDelayMs: 15 * S, offDelayMs: 15 * S },
  pressure: { deadband: 0.5, onDelayMs: 15 * S, offDelayMs: 15 * S },
  contact: { deadband: 0, onDelayMs: 5 * S, offDelayMs: 30 * S },
};
const OTHERWISE: Habit = { deadband: 0, onDelayMs: 120 * S, offDelayMs: 60 * S };

const habitOf = (quantity: Quantity | undefined): Habit =>
  quantity === undefined ? OTHERWISE : (HABITS[quantity] ?? OTHERWISE);

export const deadbandOf = (place: Place, quantity: Quantity | undefined): number =>
  (quantity === undefined ? undefined : place.wants?.[quantity]?.deadband) ?? habitOf(quantity).deadband;

export const limitTiming = (place: Place, quantity: Quantity | undefined): Timing => {
  const own = quantity === undefined ? undefined : place.wants?.[quantity];
  const habit = habitOf(quantity);
  return { onDelayMs: own?.onDelayMs ?? habit.onDelayMs, offDelayMs: own?.offDelayMs ?? habit.offDelayMs };
};
