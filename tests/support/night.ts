import type { Effect } from '../../rules/engine/effect.js';
import type { Happening } from '../../rules/engine/happening.js';
import { type EngineState, emptyState } from '../../rules/engine/state.js';
import { step } from '../../rules/engine.js';
import type { Hatchery } from '../../rules/hatchery.js';
import type { Quantity } from '../../rules/quantity.js';
import { hatchery, NOON_MS } from './hatchery.js';

export const MINUTE = 60_000;

export type AlarmEffect = Extract<Effect, { do: 'alarm' }>;

/** A value, its course over the minutes, or silence. */
export type Said = number | ((minute: number) => number) | undefined;

/** Calm larval water: about 30 practical salinity at 26 °C. */
const CALM: { readonly [quantity in Quantity]?: number } = { temperature: 26, conductivity: 47.3, 'oxygen-mg-l': 6.6 };

const line = ({ event, alarm }: AlarmEffect): string => `${event} ${alarm.finding.condition} ${alarm.subject}`;

/** An engine that a test talks to in the words of a night. Time only moves when it is told to. */
export type Night = {
  readonly now: () => number;
  readonly state: () => EngineState;
  readonly tell: (happening: Happening) => readonly Effect[];
  /** A fresh, unstamped reading now. */
  readonly reads: (sourceId: number, raw: number) => readonly Effect[];
  /** Every probe reads each 10 s for so long: a calm room, but for what is said here; undefined is silent. */
  readonly runs: (minutes: number, said?: Readonly<Record<number, Said>>) => void;
  readonly passes: (minutes: number) => void;
  readonly alarms: () => readonly AlarmEffect[];
  /** `cond-on above-limit l2.temperature` and so on, in order. */
  readonly story: () => readonly string[];
  /** Those of the story that call somebody. */
  readonly calls: () => readonly string[];
};

export const night = (settings: Hatchery = hatchery(), startMs = NOON_MS): Night => {
  let state = emptyState(settings, startMs);
  let nowMs = startMs;
  const effects: Effect[] = [];
  const tell = (happening: Happening): readonly Effect[] => {
    const done = step(state, happening);
    state = done.state;
    effects.push(...done.effects);
    return done.effects;
  };
  tell({ kind: 'hatchery', atMs: startMs, hatchery: settings });
  tell({ kind: 'start', atMs: startMs });
  const reads = (sourceId: number, raw: number) => tell({ kind: 'reading', atMs: nowMs, sourceId, raw });
  const passes = (minutes: number): void => {
    nowMs += minutes * MINUTE;
    tell({ kind: 'tick', atMs: nowMs });
  };
  const alarms = () => effects.filter((effect) => effect.do === 'alarm');
  return {
    now: () => nowMs,
    state: () => state,
    tell,
    reads,
    passes,
    runs: (minutes, said = {}) => {
      for (let count = 1; count <= minutes * 6; count += 1) {
        nowMs += 10_000;
        for (const { sourceId, quantity } of state.plan.probes) {
          const raw = sourceId in said ? said[sourceId] : CALM[quantity];
          if (raw !== undefined) reads(sourceId, typeof raw === 'number' ? raw : raw(count / 6));
        }
      }
    },
    alarms,
    story: () => alarms().map(line),
    calls: () =>
      alarms()
        .filter(({ deeds }) => deeds.includes('annunciate'))
        .map(line),
  };
};
