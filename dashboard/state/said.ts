import type { ChannelPicture } from '../../rules/wire/picture.js';
import {
  channelPhrase,
  directionPhrase,
  type Phrase,
  sideOf,
  togetherPhrase,
  workPhrase,
} from '../../rules/words/channel.js';
import { forecastPhrase } from '../../rules/words/finding.js';
import type { Reader } from '../../rules/words/language.js';
import { isLifted, type Mark, markOf, type Tone, toneOf, urgency } from '../chart/mark.js';
import type { Cell, Strip } from './strip.js';

/** What is said in words about a strip: one entry a tank and reason, or one for several tanks with one fault. */
export type Said = {
  /** The first cell it is about. */
  readonly cell: number;
  readonly count: number;
  /** Name of the tank; undefined for a phrase that names its tanks itself. */
  readonly name?: string;
  readonly mark: Mark;
  readonly tone: Tone;
  readonly phrase: Phrase;
  readonly rank: number;
};

/** This many tanks on the same side of the same target are one event, not several. */
const TOGETHER = 3;

/** Everything that is out of the water or not to be trusted, in the order of the tanks. */
export const saidOf = (strip: Strip, nowMs: number, reader: Reader): readonly Said[] => {
  const together = strip.columns.flatMap((_, column) => togetherIn(strip, column, reader));
  const told = new Set(together.flatMap(({ channels }) => channels));
  const single = strip.cells.flatMap((cell, index) => saidOfCell(cell, index, told, nowMs, reader));
  return [...together.map(({ said }) => said), ...single].toSorted((a, b) => a.cell - b.cell || b.rank - a.rank);
};

const saidOfCell = (
  cell: Cell,
  index: number,
  told: ReadonlySet<string>,
  nowMs: number,
  reader: Reader,
): readonly Said[] => {
  const { place } = cell;
  const at = { cell: index, count: 1, name: place.name };
  if (place.work !== undefined && isLifted(place))
    return [{ ...at, mark: 'lifted', tone: 'muted', phrase: workPhrase(place.work, nowMs, reader), rank: 3 }];
  const channels = cell.channels.flatMap((channel): readonly Said[] => {
    if (channel === undefined || told.has(channel.id)) return [];
    const { mark, tone } = drawn(cell, channel);
    if (mark === 'float' || mark === 'unwatched') return [];
    const phrase = phraseOf(cell, channel, nowMs, reader);
    return [{ ...at, mark, tone, phrase, rank: urgency(mark, tone) }];
  });
  const work: readonly Said[] =
    place.work === undefined
      ? []
      : [{ ...at, mark: 'float', tone: 'muted', phrase: workPhrase(place.work, nowMs, reader), rank: 2 }];
  return [...channels.toSorted((a, b) => b.rank - a.rank), ...work];
};

/** The mark of a channel in its cell. */
export const drawn = (cell: Cell, channel: ChannelPicture): { readonly mark: Mark; readonly tone: Tone } => {
  const alarm = cell.alarms.find(({ finding }) => finding.channelId === channel.id);
  const mark = markOf(channel, alarm, isLifted(cell.place));
  return { mark, tone: toneOf(mark, alarm) };
};

/** A forecast says more than a value; a temperature stands beside its tank already, so its side is said instead. */
const phraseOf = (cell: Cell, channel: ChannelPicture, nowMs: number, reader: Reader): Phrase => {
  const plain = channelPhrase(channel, nowMs, reader);
  const alarm = cell.alarms.find(({ finding }) => finding.channelId === channel.id);
  const harm = alarm?.finding.harm;
  if (harm !== undefined && alarm?.finding.line !== undefined && harm.atMs > nowMs)
    return forecastPhrase(alarm.finding.line.kind, harm.atMs, reader);
  if (channel.quantity !== 'temperature' || !isValueState(channel)) return plain;
  return directionPhrase(channel, reader) ?? plain;
};

const isValueState = ({ state }: ChannelPicture): boolean =>
  state === 'outside-target' || state === 'outside-limit' || state === 'in-target';

const togetherIn = (
  strip: Strip,
  column: number,
  reader: Reader,
): readonly { readonly said: Said; readonly channels: readonly string[] }[] => {
  const out = strip.cells.flatMap((cell, index) => {
    const channel = cell.channels[column];
    if (channel === undefined || isLifted(cell.place)) return [];
    const { mark, tone } = drawn(cell, channel);
    const side = mark === 'ring' || mark === 'diamond' || mark === 'diamond-answered' ? sideOf(channel) : undefined;
    return side === undefined ? [] : [{ index, channel, mark, tone, side }];
  });
  return (['low', 'high'] as const).flatMap((side) => {
    const members = out.filter((one) => one.side === side);
    const [first] = members;
    if (first === undefined || members.length < TOGETHER) return [];
    const worst = members.reduce((a, b) => (urgency(b.mark, b.tone) > urgency(a.mark, a.tone) ? b : a));
    const counts = { count: members.length, total: strip.cells.length };
    const phrase = togetherPhrase(first.channel.quantity, side, counts, reader);
    const said: Said = {
      cell: first.index,
      count: members.length,
      mark: worst.mark,
      tone: worst.tone,
      phrase,
      rank: urgency(worst.mark, worst.tone) + 1,
    };
    return [{ said, channels: members.map(({ channel }) => channel.id) }];
  });
};
