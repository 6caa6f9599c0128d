import { useSignal } from '@preact/signals';
import { ok } from '../../rules/result.js';
import type { ChannelReadings } from '../../rules/wire/api.js';
import type { ChannelPicture } from '../../rules/wire/picture.js';
import { channelName, whenWords } from '../../rules/words/review.js';
import { TimeStrip } from '../chart/time-strip.js';
import type { Asked } from '../link/api.js';
import { Choice } from '../parts/field.js';
import { Page } from '../parts/page.js';
import { ManyPills, Pills } from '../parts/pills.js';
import { TimeWords, valueAt } from '../parts/review-strips.js';
import { useAsked } from '../state/asked.js';
import { useApi } from '../state/gateway.js';
import { useLogReader, useTanks } from '../state/places.js';
import { useRoom } from '../state/room.js';

const HOUR_MS = 3_600_000;
const POINTS = 900;
const LENGTHS = [
  [String(6 * HOUR_MS), '6 hours'],
  [String(24 * HOUR_MS), 'a day'],
  [String(7 * 24 * HOUR_MS), 'a week'],
  [String(31 * 24 * HOUR_MS), 'a month'],
  [String(366 * 24 * HOUR_MS), 'a year'],
] as const;

/** Any tank, any channel, any range, beside any other tank. */
export const History = ({ tank }: { readonly tank: string | undefined }) => {
  const room = useRoom();
  const tanks = useTanks();
  const reader = useLogReader();
  const chosen = useSignal(tank ?? '');
  const others = useSignal<readonly string[]>([]);
  const length = useSignal(String(24 * HOUR_MS));
  const back = useSignal(0);
  const nowMs = Math.floor(room.nowMs.peek() / 60_000) * 60_000;
  const toMs = nowMs - back.value * Number(length.value);
  const span = { fromMs: toMs - Number(length.value), toMs };
  const choices = tanks.map(({ id, name }) => [id, name] as const);
  const channels = room.picture.value?.channels.filter(({ placeId }) => placeId === chosen.value) ?? [];
  return (
    <Page here="history">
      <h1 class="page-title">History</h1>
      <div class="form-grid">
        <Choice label="Tank" value={chosen} choices={[['', 'choose a tank'], ...choices]} />
      </div>
      <details class="history-beside">
        <summary>
          Beside it: {others.value.length === 0 ? 'no other tank' : others.value.map(reader.placeName).join(', ')}
        </summary>
        <ManyPills
          label="Beside it"
          chosen={others.value}
          choices={choices.filter(([id]) => id !== chosen.value)}
          onChange={(next) => {
            others.value = next;
          }}
        />
      </details>
      <Pills label="How long" value={length} choices={LENGTHS} onChoose={(value) => (length.value = value)} />
      <div class="pill-row pill-row-short">
        <button type="button" class="pill" onClick={() => (back.value += 1)}>
          Earlier
        </button>
        <button type="button" class="pill" disabled={back.value === 0} onClick={() => (back.value -= 1)}>
          Later
        </button>
      </div>
      {chosen.value === '' ? <p class="page-note">Choose a tank.</p> : null}
      {channels.map((channel) => (
        <HistoryStrip key={channel.id} channel={channel} others={others.value} span={span} />
      ))}
    </Page>
  );
};

type StripProps = {
  readonly channel: ChannelPicture;
  readonly others: readonly string[];
  readonly span: { readonly fromMs: number; readonly toMs: number };
};

const HistoryStrip = ({ channel, others, span }: StripProps) => {
  const api = useApi();
  const room = useRoom();
  const reader = useLogReader();
  const cursorMs = useSignal<number | undefined>(undefined);
  const beside = (room.picture.value?.channels ?? []).filter(
    (one) => others.includes(one.placeId) && one.quantity === channel.quantity && one.computed === channel.computed,
  );
  const ids = [channel.id, ...beside.map(({ id }) => id)];
  const { answer } = useAsked(
    async (): Promise<Asked<readonly ChannelReadings[]>> => {
      const asked = await Promise.all(ids.map((id) => api.readings(id, span.fromMs, span.toMs, POINTS)));
      return asked.find((one) => !one.ok) ?? ok(asked.flatMap((one) => (one.ok ? [one.value] : [])));
    },
    `${ids.join(' ')} ${span.fromMs} ${span.toMs}`,
  );
  const url = `/api/v1/channels/${encodeURIComponent(channel.id)}/export.csv?from=${span.fromMs}&to=${span.toMs}`;
  const [own, ...rest] = answer.value.kind === 'here' ? answer.value.value : [];
  return (
    <section class="review-strip">
      <h3>
        {channelName(channel.id, reader)}
        <small>
          {own === undefined || cursorMs.value === undefined
            ? ` ${whenWords(span.fromMs, reader)} to ${whenWords(span.toMs, reader)}`
            : ` ${whenWords(cursorMs.value, reader)}${valueAt(own, cursorMs.value, reader)}`}
        </small>
        <a href={url} download>
          export (CSV)
        </a>
      </h3>
      {own === undefined ? (
        <p class="page-note">{answer.value.kind === 'refused' ? answer.value.problem.detail : 'Fetching …'}</p>
      ) : (
        <TimeStrip
          readings={own}
          beside={rest}
          wants={channel.wants}
          span={span}
          work={[]}
          reader={reader}
          height={170}
          cursorMs={cursorMs.value}
          onCursor={(at) => (cursorMs.value = at)}
        />
      )}
      <TimeWords span={span} reader={reader} />
    </section>
  );
};
