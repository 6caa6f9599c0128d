import { ageDays } from '../../rules/log/batch.js';
import type { Lot } from '../../rules/log/book.js';
import { SPECIES_GROUPS } from '../../rules/stage/profiles.js';
import type { BatchLine } from '../../rules/wire/log.js';
import { tallyWords } from '../../rules/words/animals.js';
import { stageName } from '../../rules/words/name.js';
import { Page } from '../parts/page.js';
import { useAsked } from '../state/asked.js';
import { useApi } from '../state/gateway.js';
import { useLogReader } from '../state/places.js';
import { useRoom } from '../state/room.js';
import { makeRoute } from '../state/route.js';

/** Every batch that is or was here, the youngest first. */
export const Batches = () => {
  const room = useRoom();
  const api = useApi();
  const { answer } = useAsked(() => api.batches(), `${room.picture.value?.sequence ?? 0}`);
  const lines = answer.value.kind === 'here' ? answer.value.value : [];
  const here = lines.filter(({ lots }) => lots.length > 0);
  const gone = lines.filter(({ lots }) => lots.length === 0);
  return (
    <Page here="batches">
      <h1 class="page-title">Batches</h1>
      {answer.value.kind === 'refused' ? <p class="page-note">{answer.value.problem.detail}</p> : null}
      {answer.value.kind === 'here' && lines.length === 0 ? (
        <p class="page-note">
          No batch yet. One begins when animals are brought in, or when the eggs of a spawning run are stocked.{' '}
          <a href={makeRoute({ page: 'write', kind: 'brought-in' })}>Write what is here now.</a>
        </p>
      ) : null}
      <Lines lines={here} />
      {gone.length === 0 ? null : <h2 class="page-part">No longer here</h2>}
      <Lines lines={gone} />
    </Page>
  );
};

const Lines = ({ lines }: { lines: readonly BatchLine[] }) => (
  <ol class="batches">
    {lines.map((line) => (
      <Line key={line.id} line={line} />
    ))}
  </ol>
);

export const groupName = (id: string): string => SPECIES_GROUPS.find((group) => group.id === id)?.name ?? id;

const Line = ({ line }: { line: BatchLine }) => {
  const nowMs = useRoom().nowMs.value;
  return (
    <li>
      <a href={makeRoute({ page: 'batch', id: line.id })}>
        <b>{line.id}</b>
        <span>
          {groupName(line.speciesGroup)}, {ageDays(line.beganMs, nowMs)} days old
          {line.origin === undefined ? null : `, from ${line.origin}`}
        </span>
        {line.lots.map((lot) => (
          <LotWords key={lot.placeId} lot={lot} />
        ))}
      </a>
    </li>
  );
};

/** `L2: 1.05 million (0.91 to 1.20) larvae` */
export const LotWords = ({ lot }: { lot: Lot }) => {
  const reader = useLogReader();
  return (
    <span class="lot">
      <b>{reader.placeName(lot.placeId)}</b> {tallyWords(lot, reader)} {stageName(lot.stage, reader)}
    </span>
  );
};
