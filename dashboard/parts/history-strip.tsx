import type { Signal } from '@preact/signals';
import type { StageStay } from '../../rules/log/stage-stay.js';
import { ok } from '../../rules/result.js';
import type { Span } from '../../rules/review/piece.js';
import type { ChannelReadings } from '../../rules/wire/api.js';
import type { ChannelPicture } from '../../rules/wire/picture.js';
import { channelName, whenWords } from '../../rules/words/review.js';
import { BESIDE_DASHES, TimeStrip } from '../chart/time-strip.js';
import type { Asked } from '../link/api.js';
import { useAsked } from '../state/asked.js';
import { useApi } from '../state/gateway.js';
import { shifted, underSpan } from '../state/history-range.js';
import { useLogReader } from '../state/places.js';
import { useRoom } from '../state/room.js';
import { keyOf } from './history-beside.js';
import { valueAt } from './review-strips.js';

const POINTS = 900;

/** A channel of the room, or of a place that was taken out and has no lines any more. */
export type StripChannel = Pick<ChannelPicture, 'id' | 'placeId' | 'quantity' | 'position' | 'computed' | 'wants'>;

type Earlier = { readonly stay: StageStay; readonly laterByMs: number };
type StripProps = {
  readonly channel: StripChannel;
  readonly others: readonly string[];
  readonly earlier: readonly Earlier[];
  readonly span: Span;
  readonly cursorMs: Signal<number | undefined>;
};

/** What is fetched and drawn: the channel, then what lies beside it, with its name. */
type Wanted = { readonly name: string; readonly id: string; readonly span: Span; readonly laterByMs: number };

const useWanted = ({ channel, others, earlier, span }: StripProps): readonly Wanted[] => {
  const reader = useLogReader();
  const { channels = [] } = useRoom().picture.value ?? {};
  const like = (placeId: string): ChannelPicture | undefined => {
    const same = channels.filter((one) => one.placeId === placeId && one.quantity === channel.quantity);
    return same.find((one) => one.computed === channel.computed && one.position === channel.position) ?? same[0];
  };
  const tanks = others.flatMap((placeId): readonly Wanted[] => {
    const found = like(placeId);
    return found === undefined ? [] : [{ name: reader.placeName(placeId), id: found.id, span, laterByMs: 0 }];
  });
  const batches = earlier.flatMap(({ stay, laterByMs }): readonly Wanted[] => {
    const [found, part] = [like(stay.placeId), underSpan(span, stay, laterByMs)];
    if (found === undefined || part === undefined) return [];
    return [{ name: `${stay.batchId} in ${reader.placeName(stay.placeId)}`, id: found.id, span: part, laterByMs }];
  });
  return [{ name: reader.placeName(channel.placeId), id: channel.id, span, laterByMs: 0 }, ...tanks, ...batches];
};

/** One channel over the span, with its export. */
export const HistoryStrip = (props: StripProps) => {
  const { channel, earlier, span, cursorMs } = props;
  const api = useApi();
  const reader = useLogReader();
  const wanted = useWanted(props);
  const { answer } = useAsked(
    async (): Promise<Asked<readonly ChannelReadings[]>> => {
      const asked = await Promise.all(
        wanted.map(({ id, span: { fromMs, toMs } }) => api.readings(id, fromMs, toMs, POINTS)),
      );
      const refused = asked.find((one) => !one.ok);
      if (refused !== undefined) return refused;
      return ok(asked.flatMap((one, n) => (one.ok ? [shifted(one.value, wanted[n]?.laterByMs ?? 0)] : [])));
    },
    `${wanted.map(({ id, laterByMs }) => `${id} ${laterByMs}`).join(' ')} ${earlier.map(({ stay }) => keyOf(stay)).join(' ')} ${span.fromMs} ${span.toMs}`,
  );
  const readings = answer.value.kind === 'here' ? answer.value.value : [];
  const [own, ...beside] = readings;
  const at = cursorMs.value;
  return (
    <section class="review-strip">
      <h3>
        {channelName(channel.id, reader)}
        <small>
          {own === undefined || at === undefined
            ? ` ${whenWords(span.fromMs, reader)} to ${whenWords(span.toMs, reader)}`
            : ` ${whenWords(at, reader)}${valueAt(own, at, reader)}`}
        </small>
      </h3>
      {wanted.length < 2 ? null : (
        <ul class="strip-names">
          {wanted.slice(1).map(({ name, id }, n) => {
            const one = beside[n];
            return (
              <li key={`${name} ${id}`}>
                <svg width="34" height="10" aria-hidden="true">
                  <line class="strip-beside" x1="0" x2="34" y1="5" y2="5" stroke-dasharray={dashOf(n)} />
                </svg>{' '}
                {name}
                {one === undefined || at === undefined ? '' : valueAt(one, at, reader)}
              </li>
            );
          })}
        </ul>
      )}
      {own === undefined ? (
        <p class="page-note">{answer.value.kind === 'refused' ? answer.value.problem.detail : 'Fetching …'}</p>
      ) : (
        <TimeStrip
          readings={own}
          beside={beside}
          ruled={[{ fromMs: span.fromMs, wants: channel.wants }]}
          span={span}
          work={[]}
          reader={reader}
          height={170}
          cursorMs={at}
          onCursor={(ms) => (cursorMs.value = ms)}
        />
      )}
      <Export id={channel.id} span={span} />
    </section>
  );
};

const dashOf = (n: number): string => BESIDE_DASHES[n % BESIDE_DASHES.length] ?? '';

/** The readings themselves, with their flags, and the checksum that tells whether a copy is whole. */
const Export = ({ id, span: { fromMs, toMs } }: { id: string; span: Span }) => {
  const url = `/api/v1/channels/${encodeURIComponent(id)}/export.csv`;
  const query = `?from=${Math.floor(fromMs)}&to=${Math.ceil(toMs)}`;
  return (
    <p class="strip-export no-print">
      <a href={`${url}${query}`} download>
        Every reading (CSV)
      </a>
      <a href={`${url}.sha256${query}`} download>
        Its checksum
      </a>
    </p>
  );
};
