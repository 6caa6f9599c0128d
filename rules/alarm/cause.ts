import { parseChannelId } from '../channel.js';
import type { ConditionCode, Finding } from '../conditions/finding.js';
import type { Hatchery } from '../hatchery.js';
import type { Place } from '../place.js';
import type { AlarmPicture } from './alarm.js';

/** What may lie behind alarms of several kinds at once. */
export const CAUSE_FAMILIES = [
  'heat',
  'cold',
  'salt',
  'oxygen',
  'gas',
  'water-out',
  'power',
  'silence',
  'probe',
  'bed',
  'work',
  'other',
] as const;
export type CauseFamily = (typeof CAUSE_FAMILIES)[number];

type ByQuantity = 'by-quantity';

const FAMILY: { readonly [code in ConditionCode]: CauseFamily | ByQuantity } = {
  'above-limit': 'by-quantity',
  'below-limit': 'by-quantity',
  'above-ceiling': 'by-quantity',
  'below-ceiling': 'by-quantity',
  'heading-for-ceiling': 'by-quantity',
  'too-fast': 'by-quantity',
  'off-schedule': 'by-quantity',
  'line-moved-together': 'by-quantity',
  'heater-stuck-on': 'heat',
  'heat-lost': 'cold',
  'cooling-lost': 'heat',
  'salinity-shift': 'salt',
  'oxygen-falling': 'oxygen',
  'dawn-oxygen-falling': 'oxygen',
  'air-lost': 'oxygen',
  'flow-lost': 'oxygen',
  supersaturated: 'gas',
  'mains-lost': 'power',
  'everything-silent': 'silence',
  'board-offline': 'silence',
  silent: 'silence',
  'probe-in-air': 'water-out',
  'level-falling': 'water-out',
  'wet-floor': 'water-out',
  'not-plausible': 'probe',
  stuck: 'probe',
  noisy: 'probe',
  drifting: 'probe',
  'clock-wrong': 'probe',
  'battery-low': 'probe',
  'bed-anoxia': 'bed',
  'clean-bed-by': 'bed',
  'work-overdue': 'work',
  'upkeep-overdue': 'work',
};

const sideOf = ({ line, perHour }: Finding): 'low' | 'high' => line?.side ?? ((perHour ?? 0) < 0 ? 'low' : 'high');

const byQuantity = (finding: Finding): CauseFamily => {
  const side = sideOf(finding);
  switch (finding.channelId === undefined ? undefined : parseChannelId(finding.channelId)?.quantity) {
    case 'temperature':
      return side === 'high' ? 'heat' : 'cold';
    case 'salinity':
    case 'conductivity':
    case 'specific-conductance':
      return 'salt';
    case 'oxygen-mg-l':
    case 'oxygen-saturation':
      return side === 'low' ? 'oxygen' : 'gas';
    case 'flow':
    case 'pressure':
      return 'oxygen';
    case 'level':
      return 'water-out';
    default:
      return 'other';
  }
};

export const familyOf = (finding: Finding): CauseFamily => {
  const family = FAMILY[finding.condition];
  return family === 'by-quantity' ? byQuantity(finding) : family;
};

/** What a place shares with others that could be behind a family; the likeliest first. */
const SHARED: { readonly [family in CauseFamily]: readonly (keyof Place & `${string}Id`)[] } = {
  heat: ['lineId', 'roomId'],
  cold: ['lineId', 'circuitId', 'roomId'],
  salt: ['lineId'],
  oxygen: ['airMainId', 'lineId', 'circuitId'],
  gas: ['lineId'],
  'water-out': ['lineId'],
  power: ['circuitId'],
  silence: ['circuitId'],
  probe: [],
  bed: [],
  work: [],
  other: [],
};

/** A heater that sticks is its own tank's, whatever the room does; and a finding about one tank's rhythm too. */
const OWN: ReadonlySet<ConditionCode> = new Set<ConditionCode>(['heater-stuck-on', 'dawn-oxygen-falling']);

const boardOf = ({ mappings }: Hatchery, finding: Finding): string | undefined =>
  finding.boardId ?? mappings.find(({ channelId, ruling }) => ruling && channelId === finding.channelId)?.board;

/** Boards are known by name apart from places: a place may have the same. */
const boardSupplies = (hatchery: Hatchery, finding: Finding): readonly string[] => {
  const board = boardOf(hatchery, finding);
  if (board === undefined) return [];
  const { accessPoint, circuitId } = hatchery.boards?.find(({ id }) => id === board) ?? {};
  return [
    `board ${board}`,
    ...(accessPoint === undefined ? [] : [`access-point ${accessPoint}`]),
    ...(circuitId === undefined ? [] : [circuitId]),
  ];
};

/** Everything that could be the shared cause of an alarm, the likeliest first: supplies, board, and the place itself. */
export const suppliesBehind = (
  alarm: Pick<AlarmPicture, 'subject' | 'finding'>,
  hatchery: Hatchery,
): readonly string[] => {
  const { finding, subject } = alarm;
  const family = familyOf(finding);
  const place = hatchery.places.find(({ id }) => id === finding.placeId);
  // A supply that is itself in alarm is its own cause before anything else.
  const own = place !== undefined && place.kind !== 'tank' ? [place.id] : [];
  if (finding.condition === 'everything-silent') return [subject];
  if (OWN.has(finding.condition) || place === undefined) return [finding.placeId];
  const shared = SHARED[family].flatMap((key) => {
    const id = place[key];
    return typeof id === 'string' ? [id] : [];
  });
  const boards = family === 'silence' || family === 'probe' ? boardSupplies(hatchery, finding) : [];
  const whole = family === 'silence' ? [hatchery.site.id] : [];
  return [...own, ...boards, ...shared, ...whole, place.id];
};
