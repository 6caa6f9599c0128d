import type { LaterEdit } from '../review/later.js';

/** Readings that arrived after a review was frozen. */
export type LateReadings = {
  readonly lateReadings: number;
  readonly firstArrivalMs?: number;
  readonly lastArrivalMs?: number;
};

/** Whether the readings of a review's raw file are still those that were frozen. */
export type RawStanding = {
  readonly id: string;
  readonly frozenMs: number;
  readonly channels: number;
  readonly changed: readonly (LateReadings & { readonly channelId: string })[];
  /** Calibrations and namings that were recorded since. */
  readonly edits: readonly LaterEdit[];
  /** Channels of which no checksum was frozen. */
  readonly unknown: readonly string[];
};

type Iso = (atMs: number) => string;

const changedWords = ({ channelId, ...late }: RawStanding['changed'][number], iso: Iso): string => {
  const { lateReadings, firstArrivalMs, lastArrivalMs } = late;
  if (firstArrivalMs === undefined || lastArrivalMs === undefined)
    return `${channelId}: no reading arrived later; its flags or correction, or what it is computed from, changed.`;
  const when = `from ${iso(firstArrivalMs)} to ${iso(lastArrivalMs)}`;
  return `${channelId}: ${lateReadings} readings arrived after the freezing, ${when}.`;
};

const editWords = (edit: LaterEdit, iso: Iso): string => {
  const what = 'what' in edit ? ` of source ${edit.what}` : '';
  return `${edit.kind}${what} recorded ${iso(edit.recordedMs)} by ${edit.by}.`;
};

/** Lines for a checksum file, without their comment sign. `iso` writes a moment with its offset. */
export const rawStandingLines = (standing: RawStanding, iso: Iso): readonly string[] => {
  const { id, frozenMs, channels, changed, edits, unknown } = standing;
  const frozen = `Review ${id}, frozen ${iso(frozenMs)}.`;
  const unsure =
    unknown.length === 0
      ? []
      : [`No checksum of single readings was frozen of ${unknown.join(', ')}: nobody can say whether they changed.`];
  if (changed.length === 0) {
    const rest = channels - unknown.length;
    return [frozen, ...(rest === 0 ? [] : [`The readings of ${rest} channels are those that were frozen.`]), ...unsure];
  }
  return [
    frozen,
    `NOT what was frozen: ${changed.length} of ${channels} channels are others now.`,
    ...changed.map((one) => changedWords(one, iso)),
    ...edits.map((edit) => editWords(edit, iso)),
    ...unsure,
  ];
};
