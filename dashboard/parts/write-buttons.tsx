import { useState } from 'preact/hooks';
import type { EntryKind } from '../../rules/log/entry.js';
import { entryNames } from '../../rules/words/entry-name.js';
import { capital } from '../../rules/words/name.js';
import { placeNamed, useRoom } from '../state/room.js';
import { makeRoute } from '../state/route.js';
import { mayAnswer, session } from '../state/session.js';

const COMMON: readonly EntryKind[] = [
  'feeding',
  'drain-down',
  'water-change',
  'deaths',
  'count',
  'hand-measurement',
  'cleaning',
  'bed-look',
  'note',
];
const OTHERS: readonly EntryKind[] = [
  'move',
  'pool',
  'cull',
  'sample',
  'sale',
  'stage',
  'brought-in',
  'eggs-stocked',
  'treatment',
  'disinfection',
  'residual-test',
  'calibration',
  'dump',
];
const SITE: readonly EntryKind[] = ['culture', 'filter', 'uv-hours'];

type ButtonsProps = {
  readonly place?: string | undefined;
  /** All kinds, and those that belong to no tank. */
  readonly all?: boolean;
};

/** The first of the two taps: what was done. */
export const WriteButtons = ({ place, all = false }: ButtonsProps) => {
  const room = useRoom();
  const names = entryNames(room.reader.value);
  const [isAll, setAll] = useState(all);
  if (!mayAnswer(session.value)) return <p class="page-note">Sign in as crew to write into the log.</p>;
  const shown = isAll ? [...COMMON, ...OTHERS, ...(place === undefined ? SITE : [])] : COMMON;
  // A sheet belongs to a tank: without one there is nothing to open.
  const hasBed = place === undefined ? isAll : placeNamed(room, place)?.bed !== undefined;
  const kinds = shown.filter(
    (kind) => (kind !== 'drain-down' || place !== undefined) && (kind !== 'bed-look' || hasBed),
  );
  return (
    <section class="write-buttons" aria-label="Write into the log">
      <div class="pill-row">
        {kinds.map((kind) => (
          <a key={kind} class="pill" href={addressOf(kind, place)}>
            {capital(names.kind[kind])}
          </a>
        ))}
        {isAll ? null : (
          <button type="button" class="pill pill-quiet" onClick={() => setAll(true)}>
            More
          </button>
        )}
      </div>
    </section>
  );
};

/** The sheet has a page of its own where its tank is known. */
const addressOf = (kind: EntryKind, place: string | undefined): string =>
  kind === 'drain-down'
    ? makeRoute({ page: 'sheet', id: place ?? '' })
    : makeRoute({ page: 'write', kind, ...(place === undefined ? {} : { place }) });
