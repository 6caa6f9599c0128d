import { useRef } from 'preact/hooks';
import type { BatchStory } from '../../rules/log/batch.js';
import { dayWords } from '../../rules/words/clock.js';
import { useLogReader } from '../state/places.js';
import { useRoom } from '../state/room.js';
import { useElementWidth } from './element-width.js';

const ROW = 44;
const LEFT = 64;

/** The way of a batch through its tanks: one water a tank, as long as it was there. */
export const StayPicture = ({ story }: { readonly story: BatchStory }) => {
  const room = useRoom();
  const reader = useLogReader();
  const holder = useRef<HTMLElement>(null);
  const width = useElementWidth(holder);
  const { stays, beganMs } = story;
  if (stays.length === 0) return null;
  const places = [...new Set(stays.map(({ placeId }) => placeId))];
  const isHere = stays.some(({ toMs }) => toMs === undefined);
  const endMs = isHere ? room.nowMs.value : Math.max(...stays.map(({ toMs }) => toMs ?? 0));
  const span = Math.max(1, endMs - beganMs);
  const x = (atMs: number): number => LEFT + ((width - LEFT) * (atMs - beganMs)) / span;
  const height = places.length * ROW + 28;
  return (
    <figure class="stays" ref={holder}>
      <svg viewBox={`0 0 ${Math.max(1, width)} ${height}`} role="img" aria-label={staysWords(stays, reader.placeName)}>
        {places.map((placeId, row) => (
          <text key={placeId} class="scale-words" x="0" y={row * ROW + 28}>
            {reader.placeName(placeId)}
          </text>
        ))}
        {stays.map(({ placeId, fromMs, toMs }) => (
          <rect
            key={`${placeId} ${fromMs}`}
            class="stay"
            x={x(fromMs)}
            y={places.indexOf(placeId) * ROW + 8}
            width={Math.max(3, x(toMs ?? endMs) - x(fromMs))}
            height={ROW - 16}
          />
        ))}
        <text class="stay-day" x={LEFT} y={height - 4}>
          {dayWords(beganMs, reader)}
        </text>
        <text class="stay-day" x={width} y={height - 4} text-anchor="end">
          {isHere ? 'now' : dayWords(endMs, reader)}
        </text>
      </svg>
    </figure>
  );
};

const staysWords = (stays: BatchStory['stays'], placeName: (id: string) => string): string =>
  `In ${stays.map(({ placeId }) => placeName(placeId)).join(', then ')}`;
