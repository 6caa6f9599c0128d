import { connectAsync } from 'mqtt';
import { normalAt } from '../random.js';
import { oxygenAtSaturation } from '../seawater.js';
import type { Tank } from '../tank.js';
import { mixed, type Surroundings, stillWater, type Water } from '../water.js';
import { stepWater } from '../water-step.js';
import { larvalTanks } from '../world/larval-line.js';

/** One tank of larvae with a board of its own that publishes bare numbers, as the cheapest boards do. */
export type NightWater = {
  /** Lets the water go on to that moment, and publishes what its probes say, each acknowledged by the gateway. */
  publish(atMs: number): Promise<void>;
  /** Somebody pulls the plug of the heater and cools the water down gently. */
  mend(): void;
  close(): Promise<void>;
};

const NIGHT: Omit<Surroundings, 'heater' | 'supply'> = {
  roomC: 19,
  humidity: 0.7,
  light: 0,
  flowLMin: 0,
  fillLMin: 0,
  drainLMin: 0,
  leakLMin: 0,
  airOn: true,
  chiller: 'thermostat',
  feedingPerH: 0,
  foulingPerH: 0,
};
const SUPPLY = { temperatureC: 22.5, salinity: 33, oxygenMgL: 7 };

/** A larval tank of the invented hatchery, of 400 L: its heater can warm it by about 4 °C an hour. */
const tankOf = (): Tank => {
  const found = larvalTanks.find(({ id }) => id === 'L2');
  if (found?.heater === undefined) throw new Error('The invented hatchery has no heated L2');
  return { ...found, volumeL: 400, depthM: 0.9, heater: { ...found.heater, powerKw: 1.8 } };
};

export const nightWater = async (broker: string, sticksMs: number): Promise<NightWater> => {
  const client = await connectAsync(broker.includes('://') ? broker : `mqtt://${broker}`);
  const tank = tankOf();
  let water: Water = stillWater(tank, tank.heater?.setC ?? 25, 31);
  let nowMs: number | undefined;
  let isMended = false;
  const heater = (atMs: number): Surroundings['heater'] => (isMended ? 'off' : atMs >= sticksMs ? 'on' : 'thermostat');
  const say = (quantity: string, value: number, decimals: number): Promise<unknown> =>
    client.publishAsync(`tanks/${tank.id}/${quantity}`, value.toFixed(decimals), { qos: 1 });
  return {
    publish: async (atMs) => {
      const seconds = nowMs === undefined ? 0 : (atMs - nowMs) / 1000;
      if (seconds > 0) water = stepWater(water, tank, { ...NIGHT, supply: SUPPLY, heater: heater(atMs) }, seconds);
      nowMs = atMs;
      const { temperatureC, oxygenMgL } = mixed(water);
      const saturation = (100 * oxygenMgL) / oxygenAtSaturation(temperatureC, water.salinity);
      await Promise.all([
        say('temperature', temperatureC + 0.02 * normalAt(1, atMs), 2),
        say('salinity', water.salinity + 0.02 * normalAt(2, atMs), 2),
        say('oxygen-saturation', saturation + 0.3 * normalAt(3, atMs), 1),
      ]);
    },
    mend: () => {
      isMended = true;
    },
    close: () => client.endAsync(),
  };
};
