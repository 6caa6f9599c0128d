import type { Place } from '../../rules/place.js';
import type { Quantity } from '../../rules/quantity.js';
import type { DatedWants } from '../../rules/review/exposure.js';
import type { Span } from '../../rules/review/piece.js';
import type { Followed } from '../../rules/stage/course.js';
import { courseOf, wantsAt } from '../../rules/stage/wants.js';
import type { Journal } from '../journal/journal.js';
import { PLACE } from '../settings.js';

const HOUR_MS = 3_600_000;

const placeAt = ({ settings }: Pick<Journal, 'settings'>, id: string, atMs: number): Place | undefined =>
  (settings.ruling(PLACE, id, atMs)?.body ?? undefined) as Place | undefined;

/** A target that moves is taken hour by hour; one that follows the intake has no target here, and its limits stay. */
const hoursIn = ({ fromMs, toMs }: Span): readonly number[] => {
  const first = Math.ceil(fromMs / HOUR_MS) * HOUR_MS;
  return Array.from({ length: Math.max(0, Math.ceil((toMs - first) / HOUR_MS)) }, (_, n) => first + n * HOUR_MS);
};

/** The lines of a place's channel as they ruled through a span, by the settings that are known now. `followed`: where a target that follows another place may be told. */
export const datedWants = (
  journal: Pick<Journal, 'settings'>,
  { placeId, quantity, span }: { readonly placeId: string; readonly quantity: Quantity; readonly span: Span },
  followed: Followed = () => undefined,
): DatedWants => {
  const edges = journal.settings
    .history(PLACE, placeId)
    .map(({ effectiveMs }) => effectiveMs)
    .filter((atMs) => atMs > span.fromMs && atMs < span.toMs);
  const moves = [span.fromMs, ...edges].some((at) => courseOf(placeAt(journal, placeId, at), quantity) !== undefined);
  const times = [...new Set([span.fromMs, ...edges, ...(moves ? hoursIn(span) : [])])].sort((a, b) => a - b);
  const dated = times.map((fromMs) => ({
    fromMs,
    wants: wantsAt(placeAt(journal, placeId, fromMs), quantity, fromMs, followed),
  }));
  return dated.filter(({ wants }, n) => n === 0 || JSON.stringify(wants) !== JSON.stringify(dated[n - 1]?.wants));
};
