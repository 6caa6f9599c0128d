import type { Signal } from '@preact/signals';
import type { StageStay } from '../../rules/log/stage-stay.js';
import type { Span } from '../../rules/review/piece.js';
import { dateWords, durationWords } from '../../rules/words/clock.js';
import { stageName } from '../../rules/words/name.js';
import { useLogReader, useTanks } from '../state/places.js';
import { ManyPills } from './pills.js';

type TanksProps = { readonly of: string; readonly others: Signal<readonly string[]> };

/** Other tanks over the same time. */
export const OtherTanks = ({ of, others }: TanksProps) => {
  const tanks = useTanks();
  const reader = useLogReader();
  return (
    <details class="history-beside">
      <summary>
        Other tanks beside it: {others.value.length === 0 ? 'none' : others.value.map(reader.placeName).join(', ')}
      </summary>
      <ManyPills
        label="At the same time"
        chosen={others.value}
        choices={tanks.filter(({ id }) => id !== of).map(({ id, name }) => [id, name] as const)}
        onChange={(next) => {
          others.value = next;
        }}
      />
    </details>
  );
};

type EarlierProps = {
  readonly here: StageStay | undefined;
  readonly stays: readonly StageStay[];
  readonly chosen: Signal<readonly StageStay[]>;
  readonly span: Signal<Span>;
  readonly nowMs: number;
};

/** More would be a tangle of lines. */
const MOST = 12;

/** The same stage of batches before this one, laid over it so that they came into the stage at the same moment. */
export const EarlierBatches = ({ here, stays, chosen, span, nowMs }: EarlierProps) => {
  const reader = useLogReader();
  if (here === undefined)
    return <p class="page-note">No batch was in it by then, so there is no stage to compare with.</p>;
  const stage = stageName(here.stage, reader);
  const known = stays.slice(0, MOST);
  const picked = chosen.value.filter((stay) => known.some((one) => keyOf(one) === keyOf(stay)));
  const wholeStage = (): void => {
    span.value = { fromMs: here.stageSinceMs, toMs: Math.min(nowMs, here.toMs ?? nowMs) };
  };
  return (
    <details class="history-beside" open={picked.length > 0}>
      <summary>
        Earlier batches as {stage}, beside {here.batchId}:{' '}
        {known.length === 0
          ? 'none in the log'
          : picked.length === 0
            ? 'none'
            : picked.map(nameOf(reader.placeName)).join(', ')}
      </summary>
      {known.length === 0 ? (
        <p class="page-note">The log knows no batch that was in this stage before.</p>
      ) : (
        <>
          <p class="page-note">
            {here.batchId} came into this stage {dateWords(here.stageSinceMs, reader)}. The others are drawn as if they
            had come into it at that moment.
          </p>
          <ManyPills
            wide
            label={`In the stage: ${stage}`}
            chosen={picked.map(keyOf)}
            choices={known.map((stay) => [keyOf(stay), choiceWords(stay, reader)] as const)}
            onChange={(keys) => {
              chosen.value = known.filter((stay) => keys.includes(keyOf(stay)));
            }}
          />
          <button type="button" class="pill pill-quiet" onClick={wholeStage}>
            Show the whole stage of {here.batchId}
          </button>
        </>
      )}
    </details>
  );
};

export const keyOf = ({ batchId, placeId, fromMs }: StageStay): string => `${batchId} ${placeId} ${fromMs}`;

const nameOf =
  (placeName: (id: string) => string) =>
  ({ batchId, placeId }: StageStay): string =>
    `${batchId} in ${placeName(placeId)}`;

const choiceWords = (stay: StageStay, reader: ReturnType<typeof useLogReader>): string => {
  const { fromMs, toMs } = stay;
  const length = toMs === undefined ? 'until now' : durationWords(toMs - fromMs, reader);
  return `${nameOf(reader.placeName)(stay)}, ${dateWords(fromMs, reader)}, ${length}`;
};
