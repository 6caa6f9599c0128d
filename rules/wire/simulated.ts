import type { Mapping, Site, Source } from '../hatchery.js';
import type { Entry } from '../log/entry.js';
import type { Place } from '../place.js';
import type { WorkKind } from '../work.js';

/**
 * What the simulator tells a demo gateway, one JSON a line on its standard output. Live readings do not come this way:
 * they come over MQTT like any board's.
 */
export type SimulatedSource = Omit<Source, 'id' | 'firstSeenMs'> & Pick<Mapping, 'channelId' | 'unit' | 'periodMs'>;

export type SimulatorLine =
  | {
      readonly kind: 'hatchery';
      readonly site: Omit<Site, 'id'>;
      readonly places: readonly Place[];
      readonly sources: readonly SimulatedSource[];
    }
  /** Past readings: place in `sources`, device ms, raw value. */
  | { readonly kind: 'past'; readonly readings: readonly (readonly [source: number, deviceMs: number, raw: number])[] }
  /** What the people of the invented hatchery have written so far, oldest first; before the first past readings. */
  | { readonly kind: 'log'; readonly entries: readonly Entry[] }
  /** All of the past is told; a `DemoLine` is awaited. */
  | { readonly kind: 'ready' }
  /** A person of the invented hatchery declares work. */
  | {
      readonly kind: 'work';
      readonly placeId: string;
      readonly work: WorkKind;
      readonly by: string;
      readonly fromMs: number;
      readonly untilMs: number;
    };

/** What the gateway answers, one JSON a line on the simulator's standard input; its end ends the simulator. */
export type DemoLine = { readonly kind: 'live'; readonly broker: string };

export const makeLine = (line: SimulatorLine | DemoLine): string => `${JSON.stringify(line)}\n`;

/** The inverse of `makeLine`, for lines of our own making. */
export const parseSimulatorLine = (text: string): SimulatorLine => JSON.parse(text) as SimulatorLine;
export const parseDemoLine = (text: string): DemoLine => JSON.parse(text) as DemoLine;
