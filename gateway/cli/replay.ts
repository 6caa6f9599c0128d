import { makeChannelId } from '../../rules/channel.js';
import type { Effect } from '../../rules/engine/effect.js';
import type { Happening } from '../../rules/engine/happening.js';
import { emptyState } from '../../rules/engine/state.js';
import type { Hatchery } from '../../rules/hatchery.js';
import { UNIT } from '../../rules/quantity.js';
import { alarmChanges, replay as replayHappenings } from '../../rules/replay.js';
import { fault, ok, type Result } from '../../rules/result.js';
import { findingSentence } from '../../rules/words/finding.js';
import { isoWithOffset } from '../http/moment.js';
import { parseSiteFile } from '../site-file/parse.js';
import type { Wanted } from '../site-file/wanted.js';
import { parseArguments } from './arguments.js';
import { type Command, DONE, failed, type Io, wrongUsage } from './command.js';
import { parseRecorded, type Recorded } from './recorded.js';
import { readText } from './text-file.js';

export const replay: Command = {
  name: 'replay',
  summary: 'what would have sounded: recorded readings through the same watch',
  help: `nightwater replay READINGS.csv --site FILE.yaml [--json]

Puts recorded readings through the same watch that runs live, under the limits of a site file, and prints what would
have sounded and when. Nothing is kept and nobody is called. It ends at the last reading.

READINGS.csv has the columns time,tank,quantity,value in any order:
  time       ISO 8601 with its offset (2030-05-01T03:05:00-04:00), or milliseconds since 1970
  tank       id or name of a place in the site file
  quantity   temperature, oxygen-mg-l, salinity and so on; value in °C, mg/L, practical salinity
  value      a number with a decimal point

  --site FILE.yaml   as “nightwater site export” writes it
  --json             one JSON document instead of lines`,
  run: async (args, io) => {
    const typed = parseArguments(args, { site: 'value', json: 'flag' });
    if (!typed.ok) return wrongUsage(io, 'replay', typed.fault);
    const { words, values, flags } = typed.value;
    const [path, extra] = words;
    if (path === undefined || extra !== undefined) return wrongUsage(io, 'replay', 'Name one file of readings.');
    if (values.site === undefined) return wrongUsage(io, 'replay', '--site FILE.yaml is missing: it holds the limits.');
    const read = readBoth(path, values.site);
    if (!read.ok) return failed(io, ...read.fault);
    const replayed = replayRecorded(read.value.wanted, read.value.recorded);
    if (flags.json) io.out(JSON.stringify(replayed, undefined, 2));
    else say(io, replayed);
    return DONE;
  },
};

type Both = { readonly wanted: Wanted; readonly recorded: readonly Recorded[] };

const readBoth = (path: string, sitePath: string): Result<Both, readonly string[]> => {
  const [site, readings] = [readText(sitePath), readText(path)];
  if (!site.ok || !readings.ok) return fault([site, readings].flatMap((each) => (each.ok ? [] : [each.fault])));
  const wanted = parseSiteFile(site.value);
  if (!wanted.ok)
    return fault(wanted.fault.map(({ line, column, sentence }) => `${sitePath}:${line}:${column}: ${sentence}`));
  const recorded = parseRecorded(readings.value, wanted.value.places);
  if (!recorded.ok) return fault(recorded.fault.map(({ line, sentence }) => `${path}:${line}: ${sentence}`));
  return ok({ wanted: wanted.value, recorded: recorded.value });
};

export type ReplayedAlarm = {
  readonly time: string;
  readonly atMs: number;
  readonly event: string;
  readonly alarmId: string;
  readonly placeId: string;
  readonly place: string;
  readonly channelId?: string;
  readonly condition: string;
  readonly priority: string;
  readonly value?: number;
  readonly sentence: string;
};

export type ReplayedRoom = {
  readonly site: string;
  readonly from: string;
  readonly to: string;
  readonly readings: number;
  /** How often something began to sound. */
  readonly sounded: number;
  /** Channels that had readings and no line that could sound. */
  readonly withoutLimit: readonly string[];
  readonly alarms: readonly ReplayedAlarm[];
};

/** A channel for each tank and quantity of the file, ruled by what the file recorded; from its first reading to its last. */
export const replayRecorded = (wanted: Wanted, recorded: readonly Recorded[]): ReplayedRoom => {
  const ids = recorded.map(({ placeId, quantity }) => makeChannelId({ placeId, quantity }));
  const channels = [...new Set(ids)];
  const sourceOf = new Map(channels.map((id, index) => [id, index + 1]));
  const hatchery = hatcheryOf(wanted, recorded, sourceOf);
  const [fromMs, toMs] = [recorded[0]?.atMs ?? 0, recorded.at(-1)?.atMs ?? 0];
  const happenings: Happening[] = [
    { kind: 'hatchery', atMs: fromMs, hatchery },
    { kind: 'link', atMs: fromMs, broker: 'up' },
    { kind: 'start', atMs: fromMs },
    ...recorded.map(
      ({ atMs, value }, index): Happening => ({
        kind: 'reading',
        atMs,
        sourceId: sourceOf.get(ids[index] ?? '') ?? 0,
        raw: value,
      }),
    ),
  ];
  const { effects, state } = replayHappenings(emptyState(hatchery, fromMs), happenings);
  const alarms = alarmChanges(effects).map((effect) => replayedAlarm(effect, hatchery));
  const limited = new Set(state.plan.channels.filter(({ wants }) => wants !== undefined).map(({ id }) => id));
  return {
    site: wanted.site.name,
    from: isoWithOffset(fromMs, wanted.site.zone),
    to: isoWithOffset(toMs, wanted.site.zone),
    readings: recorded.length,
    sounded: alarms.filter(({ event }) => event === 'cond-on').length,
    withoutLimit: channels.filter((id) => !limited.has(id)),
    alarms,
  };
};

const hatcheryOf = (
  { site, places }: Wanted,
  recorded: readonly Recorded[],
  sourceOf: ReadonlyMap<string, number>,
): Hatchery => {
  const quantities = new Map(recorded.map(({ placeId, quantity }) => [makeChannelId({ placeId, quantity }), quantity]));
  const mappings = [...quantities].map(([channelId, quantity]) => ({
    sourceId: sourceOf.get(channelId) ?? 0,
    channelId,
    unit: UNIT[quantity],
    fromMs: 0,
    ruling: true,
  }));
  return { site: { ...site, id: 'replay' }, places, mappings, calibrations: [] };
};

const replayedAlarm = (
  { atMs, event, alarm: { id, finding } }: Extract<Effect, { do: 'alarm' }>,
  { site, places }: Hatchery,
): ReplayedAlarm => {
  const place = places.find((each) => each.id === finding.placeId)?.name ?? finding.placeId;
  const { headline, cause } = findingSentence(finding, { ...site, place, nowMs: atMs });
  return {
    time: isoWithOffset(atMs, site.zone),
    atMs,
    event,
    alarmId: id,
    placeId: finding.placeId,
    place,
    ...(finding.channelId === undefined ? {} : { channelId: finding.channelId }),
    condition: finding.condition,
    priority: finding.priority,
    ...(finding.value === undefined ? {} : { value: finding.value }),
    sentence: `${headline}; ${cause}`,
  };
};

/** In words of a log; an event without a word keeps its code. */
const EVENTS: Readonly<Record<string, string>> = { 'cond-on': 'sounds', 'cond-off': 'is over', retired: 'is over' };

const say = ({ out }: Io, { site, from, to, readings, sounded, withoutLimit, alarms }: ReplayedRoom): void => {
  for (const { time, priority, place, event, sentence } of alarms) {
    out(`${time}  ${priority.padEnd(6)}  ${(EVENTS[event] ?? event).padEnd(8)}  ${place}: ${sentence}`);
  }
  out(
    `${site}: ${readings} readings from ${from} to ${to}; ${sounded} ${sounded === 1 ? 'alarm' : 'alarms'} would have sounded.`,
  );
  if (withoutLimit.length > 0)
    out(`Not watched, because the site file gives them no line: ${withoutLimit.join(', ')}.`);
};
