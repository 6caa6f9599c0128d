import { type Signal, useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { earlierStays, type StageStay, stayAt } from '../../rules/log/stage-stay.js';
import type { Span } from '../../rules/review/piece.js';
import { channelName } from '../../rules/words/review.js';
import { Choice } from '../parts/field.js';
import { EarlierBatches, OtherTanks } from '../parts/history-beside.js';
import { HistoryRange } from '../parts/history-range.js';
import { HistoryStrip, type StripChannel } from '../parts/history-strip.js';
import { Page } from '../parts/page.js';
import { TimeWords } from '../parts/review-strips.js';
import { useAsked } from '../state/asked.js';
import { useApi } from '../state/gateway.js';
import { useLogReader } from '../state/places.js';
import { retiredWords, useRetired } from '../state/retired.js';
import { useRoom } from '../state/room.js';
import type { Route } from '../state/route.js';

const DAY_MS = 86_400_000;
const MINUTE_MS = 60_000;
const ALL = '';

type HistoryProps = Omit<Extract<Route, { page: 'history' }>, 'page'>;

/** Any place, any channel, any range, beside other tanks and beside the same stage of earlier batches. */
export const History = ({ tank, fromMs, toMs }: HistoryProps) => {
  const room = useRoom();
  const reader = useLogReader();
  const chosen = useSignal(tank ?? '');
  const channelId = useSignal(ALL);
  const others = useSignal<readonly string[]>([]);
  const earlier = useSignal<readonly StageStay[]>([]);
  const nowMs = Math.floor(room.nowMs.peek() / MINUTE_MS) * MINUTE_MS;
  const span = useSignal<Span>({ fromMs: fromMs ?? nowMs - DAY_MS, toMs: toMs ?? nowMs });
  const cursorMs = useSignal<number | undefined>(undefined);
  const all = room.picture.value?.channels ?? [];
  const gone = useRetired();
  const out = gone.find(({ id }) => id === chosen.value);
  const own: readonly StripChannel[] = out?.channels ?? all.filter(({ placeId }) => placeId === chosen.value);
  useEffect(() => {
    // Its last day of use, where nothing else was asked for.
    if (out !== undefined && span.peek().fromMs >= out.retiredMs)
      span.value = { fromMs: out.retiredMs - DAY_MS, toMs: out.retiredMs };
  }, [out]);
  const shown = own.filter(({ id }) => channelId.value === ALL || id === channelId.value);
  const { stays, here } = useStays(chosen.value, span.value.toMs);
  return (
    <Page here="history">
      <h1 class="page-title">History</h1>
      <div class="form-grid">
        <Choice
          label="Place"
          value={chosen}
          choices={[['', 'choose a tank or line'], ...usePlaces()]}
          apart={{
            label: 'Taken out of use',
            choices: gone.map((one) => [one.id, retiredWords(one, reader)] as const),
          }}
        />
        {own.length < 2 ? null : (
          <Choice
            label="Channel"
            value={channelId}
            choices={[[ALL, 'all of them'], ...own.map(({ id }) => [id, channelName(id, reader)] as const)]}
          />
        )}
      </div>
      <HistoryRange span={span} nowMs={nowMs} />
      {chosen.value === '' ? null : (
        <>
          <OtherTanks of={chosen.value} others={others} />
          <EarlierBatches here={here} stays={stays} chosen={earlier} span={span} nowMs={nowMs} />
        </>
      )}
      {chosen.value === '' ? <p class="page-note">Choose a tank.</p> : null}
      {chosen.value !== '' && own.length === 0 ? <p class="page-note">No probe is named for it.</p> : null}
      {shown.map((channel) => (
        <HistoryStrip
          key={channel.id}
          channel={channel}
          others={others.value}
          earlier={laterThan(earlier.value, here)}
          span={span.value}
          cursorMs={cursorMs}
        />
      ))}
      {shown.length === 0 ? null : <TimeWords span={span.value} reader={reader} />}
    </Page>
  );
};

/** Every place that has a channel: tanks first, then what supplies them. */
const usePlaces = (): readonly (readonly [string, string])[] => {
  const { places = [], channels = [] } = useRoom().picture.value ?? {};
  const read = new Set(channels.map(({ placeId }) => placeId));
  const rank = (kind: string): number => (kind === 'tank' ? 0 : kind === 'bath' ? 1 : 2);
  return places
    .filter(({ id }) => read.has(id))
    .toSorted(
      (a, b) => rank(a.kind) - rank(b.kind) || (a.lineId ?? '').localeCompare(b.lineId ?? '') || a.order - b.order,
    )
    .map(({ id, name }) => [id, name] as const);
};

/** The stay that the end of the span falls into, and the same stage of earlier batches. */
const useStays = (placeId: string, atMs: number) => {
  const api = useApi();
  const { answer } = useAsked(() => api.stageStays(), 'stays');
  const all = answer.value.kind === 'here' ? answer.value.value : [];
  const here = stayAt(all, placeId, atMs);
  return { here, stays: here === undefined ? [] : earlierStays(all, here) };
};

const laterThan = (earlier: readonly StageStay[], here: StageStay | undefined) =>
  here === undefined
    ? []
    : earlier
        .filter(({ stage }) => stage === here.stage)
        .map((stay) => ({ stay, laterByMs: here.stageSinceMs - stay.stageSinceMs }));

export type Cursor = Signal<number | undefined>;
