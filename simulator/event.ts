import type { BoardFault, ProbeFault } from './fault.js';

/** Something that happens to the hatchery from one moment to another, as plain data. The end is excluded. */
export type Event = { readonly fromMs: number; readonly toMs: number } & Happening;

export type Happening =
  | { readonly kind: 'heater-stuck-on'; readonly tank: string }
  | { readonly kind: 'heater-dead'; readonly tank: string }
  | { readonly kind: 'chiller-off'; readonly tank: string }
  | { readonly kind: 'air-off'; readonly main: string }
  | { readonly kind: 'air-stone-blocked'; readonly tank: string }
  /** `declared` when it is part of a feeding that somebody wrote down; not so when the valve was forgotten. */
  | { readonly kind: 'flow-off'; readonly tank: string; readonly declared: boolean }
  | { readonly kind: 'rain'; readonly line: string; readonly mmH: number }
  | { readonly kind: 'intake-pump-off'; readonly line: string }
  | { readonly kind: 'leak'; readonly tank: string; readonly lMin: number }
  | { readonly kind: 'power-cut'; readonly circuit: string }
  | { readonly kind: 'heat-wave'; readonly room: string; readonly byC: number }
  /** The drain is open; the tank refills from its line afterwards. `declared`: somebody told the watch beforehand. */
  | { readonly kind: 'drain-down'; readonly tank: string; readonly declared: boolean }
  /** Water run through over the overflow; of its own temperature when it does not come as the header gives it. */
  | {
      readonly kind: 'water-change';
      readonly tank: string;
      readonly lMin: number;
      readonly temperatureC?: number;
      readonly declared: boolean;
    }
  /** `meals` is spread over the time of the event. */
  | { readonly kind: 'feeding'; readonly tank: string; readonly meals: number }
  | { readonly kind: 'probe-lifted'; readonly place: string; readonly quantity?: string; readonly declared: boolean }
  | { readonly kind: 'bed-fouling'; readonly tank: string; readonly loadPerH: number }
  | { readonly kind: 'probe-fault'; readonly place: string; readonly quantity: string; readonly fault: ProbeFault }
  | { readonly kind: 'board-fault'; readonly board: string; readonly fault: BoardFault };

/** What happens at a moment. A plain list, or rules that make the list for any day. */
export type Schedule = (atMs: number) => readonly Event[];

export const scheduleOf =
  (events: readonly Event[]): Schedule =>
  (atMs) =>
    inForce(events, atMs);

export const together =
  (...schedules: readonly Schedule[]): Schedule =>
  (atMs) =>
    schedules.flatMap((schedule) => schedule(atMs));

export const inForce = (events: readonly Event[], atMs: number): readonly Event[] =>
  events.filter(({ fromMs, toMs }) => fromMs <= atMs && atMs < toMs);

export type EventOf<K extends Happening['kind']> = Extract<Event, { readonly kind: K }>;

export const ofKind = <K extends Happening['kind']>(events: readonly Event[], kind: K): readonly EventOf<K>[] =>
  events.filter((event): event is EventOf<K> => event.kind === kind);
