import { calibrateBed } from '../bed/calibration.js';
import { bedUnder, type WaterOver } from '../bed/over.js';
import { oxygenPenetration } from '../bed/penetration.js';
import type { Bed, BedLook, Place } from '../place.js';
import { type Entry, isKind } from './entry.js';

/** A layer is as it was for about so long; later nobody knows the water that it lay under. Common practice, no source. */
export const LOOK_COUNTS_MS = 2 * 3_600_000;
/** Looks that are kept beside the bed; all of them are in the log. */
const LOOKS_KEPT = 8;

const rounded = (mm: number): number => Math.round(mm * 100) / 100;

const lookOf = (
  now: NonNullable<ReturnType<typeof bedUnder>>,
  sight: Omit<BedLook, EstimatedKeys>,
): BedLook | undefined => {
  const answer = oxygenPenetration(now);
  if (!answer.ok) return undefined;
  const { depthMm } = answer.value;
  return {
    ...sight,
    estimatedLowMm: rounded(depthMm.low),
    ...('mid' in depthMm ? { estimatedMm: rounded(depthMm.mid) } : {}),
    estimatedHighMm: rounded(depthMm.high),
  };
};
type EstimatedKeys = 'estimatedLowMm' | 'estimatedMm' | 'estimatedHighMm';

/**
 * The place after somebody saw the oxygenated layer of its bed: calibrated by what they saw under the water as it was,
 * with what had been estimated for that moment kept beside it. Undefined where nothing follows from the look: no layer
 * was seen, the water over it is not known, or no transport explains it.
 */
export const lookedBed = (entry: Entry, place: Place | undefined, water: WaterOver | undefined): Place | undefined => {
  if (!isKind(entry, 'bed-look') || place?.bed === undefined || water === undefined) return undefined;
  const { layerMm, seenIn } = entry.fields;
  if (layerMm === undefined || seenIn === undefined) return undefined;
  const { bed, aerated } = place;
  // A phone's clock may be ahead: nobody saw it later than now.
  const atMs = Math.min(entry.atMs, water.atMs);
  const now = bedUnder({ bed, aerated }, { ...water, atMs });
  if (now === undefined) return undefined;
  const sight = { kind: seenIn, depthMm: layerMm, atMs };
  const calibrated = calibrateBed({ bed: now.bed, water: now.water, sight });
  const look = lookOf(now, { atMs, kind: seenIn, seenMm: layerMm });
  if (!calibrated.ok || look === undefined) return undefined;
  const { transport, pumped } = calibrated.value;
  const isNewest = (bed.calibration?.atMs ?? Number.NEGATIVE_INFINITY) <= atMs;
  return {
    ...place,
    bed: {
      ...bed,
      ...(isNewest ? { calibration: { ...sight, transport, pumped } } : {}),
      looks: looksWith(bed, look),
    },
  };
};

/** A corrected look stands in the place of the first, beside what had been estimated before either. */
const looksWith = ({ looks = [] }: Bed, look: BedLook): readonly BedLook[] => {
  const first = looks.find(({ atMs }) => atMs === look.atMs);
  const { kind, seenMm } = look;
  const others = looks.filter((one) => one !== first);
  return [...others, first === undefined ? look : { ...first, kind, seenMm }]
    .sort((a, b) => a.atMs - b.atMs)
    .slice(-LOOKS_KEPT);
};
