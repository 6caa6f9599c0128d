import { useMemo } from 'preact/hooks';
import type { Place } from '../../rules/place.js';
import { type AddedUp, addedUp, totalAt } from '../../rules/review/added-up.js';
import { type BedDepths, bedDepths } from '../../rules/review/bed-depth.js';
import type { ReviewedChannel } from '../../rules/review/channel.js';
import { piecesOf, type Span } from '../../rules/review/piece.js';
import type { Review } from '../../rules/review/review.js';
import { ATMOSPHERE_KPA } from '../../rules/seawater/range.js';
import type { ChannelReadings } from '../../rules/wire/api.js';
import { durationWords } from '../../rules/words/clock.js';
import { type Marked, plainWords, roughWords } from '../../rules/words/figure.js';
import { capital, namesFor } from '../../rules/words/name.js';
import { differenceWords, unitWords } from '../../rules/words/number.js';
import { bedDepthWords, UNCALIBRATED_WORDS } from '../../rules/words/review-bed.js';
import { StripPaper } from '../chart/strip-paper.js';
import { meanPath, spanPath, valueSpan } from '../chart/strip-path.js';
import { BESIDE_DASHES } from '../chart/time-strip.js';
import { useLogReader } from '../state/places.js';

type Axis = {
  readonly review: Review;
  readonly span: Span;
  readonly readingsOf: (channelId: string) => ChannelReadings | undefined;
  readonly cursorMs: number | undefined;
  readonly onCursor: (atMs: number | undefined) => void;
};

/** What is computed from the channels, on the same axis: the bed of each affected tank, then exposure added up. */
export const ReviewComputed = (axis: Axis) => {
  const { review } = axis;
  const beds = review.tanks.filter(({ affected }) => affected).flatMap(({ placeId }) => bedOf(review, placeId));
  return (
    <>
      {beds.map((place) => (
        <BedStrip key={place.id} place={place} {...axis} />
      ))}
      {SUMMED.map((quantity) => (
        <SumStrip key={quantity} quantity={quantity} {...axis} />
      ))}
    </>
  );
};

type Bedded = Place & { readonly bed: NonNullable<Place['bed']> };
const isBedded = (place: Place): place is Bedded => place.bed !== undefined;
const bedOf = ({ places }: Review, id: string): readonly Bedded[] =>
  places.filter((place) => place.id === id).filter(isBedded);

const HEIGHT = 96;

const waterOf = ({ review, readingsOf }: Axis, placeId: string) => {
  const [oxygen, temperature, salinity] = (['oxygen-mg-l', 'temperature', 'salinity'] as const).map((quantity) =>
    review.channels
      .filter((channel) => channel.placeId === placeId && channel.quantity === quantity)
      .map(({ channelId }) => readingsOf(channelId))
      .find((readings) => readings !== undefined && readings.atMs.length > 0),
  );
  return oxygen === undefined || temperature === undefined || salinity === undefined
    ? undefined
    : { oxygen, temperature, salinity };
};

const BedStrip = ({ place, ...axis }: Axis & { readonly place: Bedded }) => {
  const { span, cursorMs, onCursor } = axis;
  const reader = useLogReader();
  const water = waterOf(axis, place.id);
  const depths = useMemo(
    () => (water === undefined ? undefined : bedDepths({ ...place, ...OPEN_AIR }, water)),
    [water?.oxygen, water?.temperature, water?.salinity, place],
  );
  const name = `${place.name}: estimated oxygenated depth of the bed`;
  if (depths === undefined || depths.low.every((depth) => depth === null))
    return (
      <section class="review-strip">
        <h3>{name}</h3>
        <p class="page-note">
          Not to be estimated in this time: it needs oxygen, temperature and salinity of this tank.
        </p>
      </section>
    );
  const band = { ...depths, min: depths.low, max: depths.high, mean: depths.low, gaps: [] };
  const likely = { ...band, mean: depths.mid };
  const limit = place.bed.limitDepthMm;
  const values = valueSpan([band], [0, ...(limit === undefined ? [] : [limit])]);
  return (
    <section class="review-strip">
      <h3>
        {name}
        {depths.uncalibrated === undefined ? null : <b> uncalibrated</b>}
        <small>{cursorMs === undefined ? '' : ` ${depthAt(depths, cursorMs, reader)}`}</small>
      </h3>
      {depths.uncalibrated === undefined ? null : <p class="strip-doubt">{UNCALIBRATED_WORDS[depths.uncalibrated]}</p>}
      <StripPaper span={span} values={values} height={HEIGHT} cursorMs={cursorMs} onCursor={onCursor}>
        {(paper, width) => (
          <>
            <path class="strip-bed" d={spanPath(band, paper)} />
            <path class="strip-mean" d={meanPath(likely, paper)} />
            {limit === undefined ? null : (
              <>
                <line class="strip-limit" x1={0} x2={width} y1={paper.y(limit)} y2={paper.y(limit)} />
                <text class="strip-word" x={4} y={paper.y(limit) - 4}>
                  limit {plainWords(limit, 4, reader)} mm
                </text>
              </>
            )}
            <text class="strip-word" x={4} y={14}>
              {roughWords(values[1], reader)} mm
            </text>
          </>
        )}
      </StripPaper>
    </section>
  );
};

/** The depth does not depend on the pressure; the share of a clean bed would. */
const OPEN_AIR = { pressureKpa: ATMOSPHERE_KPA } as const;

const depthAt = ({ atMs, low, mid, high }: BedDepths, at: number, reader: Marked): string => {
  const index = atMs.findLastIndex((one) => one <= at);
  const depth = { low: low[index] ?? undefined, mid: mid[index] ?? undefined, high: high[index] ?? undefined };
  return bedDepthWords(depth, reader);
};

const SUMMED = ['temperature', 'oxygen-saturation', 'oxygen-mg-l', 'salinity'] as const;
type Summed = { readonly channel: ReviewedChannel; readonly sums: AddedUp; readonly end: number };

const summedOf = ({ review, readingsOf }: Axis, quantity: (typeof SUMMED)[number]): readonly Summed[] =>
  review.channels
    .filter((channel) => channel.quantity === quantity && channel.part !== 'supply')
    .filter(({ wants }) => wants.some((one) => one.wants?.limitLow !== undefined || one.wants?.limitHigh !== undefined))
    .flatMap((channel) => {
      const readings = readingsOf(channel.channelId);
      if (readings === undefined) return [];
      const work = review.work
        .filter(({ placeId }) => placeId === channel.placeId)
        .map(({ fromMs, untilMs, endedMs }) => ({ fromMs, toMs: endedMs ?? untilMs }));
      const sums = addedUp(piecesOf(readings), channel.wants, work);
      return [{ channel, sums, end: totalAt(sums, Number.POSITIVE_INFINITY) }];
    });

/** Degree-hours beyond the limit from the left edge on: where the line climbs, the exposure was. */
const SumStrip = ({ quantity, ...axis }: Axis & { readonly quantity: (typeof SUMMED)[number] }) => {
  const reader = useLogReader();
  const { span, cursorMs, onCursor, readingsOf } = axis;
  const all = useMemo(() => summedOf(axis, quantity), [readingsOf, span.fromMs, span.toMs]);
  const most = Math.max(0, ...all.map(({ end }) => end));
  if (all.length === 0) return null;
  const unit = quantity === 'temperature' ? 'degree-hours' : `${unitWords(quantity, reader)} hours`;
  const name = `${capital(namesFor(reader).quantity[quantity])}: ${unit} beyond the limit, added up from the left`;
  if (most === 0)
    return (
      <section class="review-strip">
        <h3>{name}</h3>
        <p class="page-note">None in this stretch of time, in any of these tanks.</p>
      </section>
    );
  const drawn = all.filter(({ channel, end }) => channel.part === 'affected' || end > 0);
  const bucketMs = Math.max(0, ...all.map(({ channel }) => readingsOf(channel.channelId)?.bucketMs ?? 0));
  const at = cursorMs ?? span.toMs;
  return (
    <section class="review-strip">
      <h3>{name}</h3>
      <ul class="strip-names">
        {drawn.map(({ channel, sums }, n) => (
          <li key={channel.channelId}>
            <Swatch affected={channel.part === 'affected'} n={n} /> {reader.placeName(channel.placeId)}{' '}
            {differenceWords(quantity, totalAt(sums, at), reader)}
          </li>
        ))}
      </ul>
      <StripPaper span={span} values={[0, most * 1.08]} height={HEIGHT} cursorMs={cursorMs} onCursor={onCursor}>
        {(paper) =>
          drawn.map(({ channel, sums: { atMs, total } }, n) => (
            <path
              key={channel.channelId}
              {...lineOf(channel.part === 'affected', n)}
              d={meanPath({ atMs, mean: total, min: total, max: total, gaps: [] }, paper)}
            />
          ))
        }
      </StripPaper>
      {bucketMs === 0 ? null : (
        <p class="strip-doubt">
          From means of {durationWords(bucketMs, reader)} at this zoom; the tables below count every reading.
        </p>
      )}
    </section>
  );
};

const lineOf = (affected: boolean, n: number) => ({
  class: affected ? 'strip-sum' : 'strip-beside',
  'stroke-dasharray': n === 0 ? undefined : BESIDE_DASHES[(n - 1) % BESIDE_DASHES.length],
});

const Swatch = ({ affected, n }: { affected: boolean; n: number }) => (
  <svg width="34" height="10" aria-hidden="true">
    <line {...lineOf(affected, n)} x1="0" x2="34" y1="5" y2="5" />
  </svg>
);
