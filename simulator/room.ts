import { stepSingle } from './linear-step.js';
import type { Weather } from './weather.js';

export type Room = {
  readonly id: string;
  readonly circuit: string;
  /** Heated to at least this while there is power; undefined in an open shed. */
  readonly heatedToC: number | undefined;
  /** How long the walls hold the room against the weather, hours. */
  readonly holdH: number;
  /** What sun through the roof and running pumps add. */
  readonly sunC: number;
  readonly pumpsC: number;
};

/** Room temperature `dtS` later: it follows the weather through its walls and is held up by its heating. */
export const stepRoom = (
  temperatureC: number,
  room: Room,
  weather: Weather,
  around: { readonly powered: boolean; readonly extraC: number },
  dtS: number,
): number => {
  const outsideC = weather.airC + room.sunC * weather.light + around.extraC;
  const ownC = around.powered ? outsideC + room.pumpsC : outsideC;
  const targetC = around.powered && room.heatedToC !== undefined ? Math.max(room.heatedToC, ownC) : ownC;
  return stepSingle(temperatureC, targetC / room.holdH, 1 / room.holdH, dtS / 3600);
};
