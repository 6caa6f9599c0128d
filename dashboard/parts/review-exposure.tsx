import type { Signal } from '@preact/signals';
import { QUANTITIES, type Quantity } from '../../rules/quantity.js';
import type { ReviewedChannel } from '../../rules/review/channel.js';
import type { Exposure } from '../../rules/review/exposure.js';
import type { Review } from '../../rules/review/review.js';
import { LINE_KEYS, type LineKey } from '../../rules/review/spell.js';
import { WINDOW_NAMES, type WindowName } from '../../rules/review/window.js';
import { clockWords, durationWords } from '../../rules/words/clock.js';
import type { LogReader } from '../../rules/words/entry.js';
import { capital, namesFor } from '../../rules/words/name.js';
import { differenceWords, numberWords, unitWords } from '../../rules/words/number.js';
import { WINDOW_WORDS, whenWords } from '../../rules/words/review.js';
import { useLogReader } from '../state/places.js';
import { Pills } from './pills.js';

const HOUR_MS = 3_600_000;

/** What every tank went through, affected beside unaffected. On paper every window is there. */
export const ReviewExposure = ({ review, window }: { review: Review; window: Signal<string> }) => {
  const names = WINDOW_NAMES.filter((name) => review.windows.some((one) => one.name === name));
  const quantities = QUANTITIES.filter((quantity) =>
    review.channels.some((channel) => channel.quantity === quantity && channel.part === 'affected'),
  );
  return (
    <>
      <div class="no-print">
        <Pills
          label="Before the deaths"
          value={window}
          choices={names.map((name) => [name, WINDOW_WORDS[name]] as const)}
          onChoose={(value) => (window.value = value)}
        />
      </div>
      {names.map((name) => (
        <div key={name} class={name === window.value ? 'exposure' : 'exposure exposure-paper'}>
          {quantities.map((quantity) => (
            <ExposureTable key={quantity} review={review} quantity={quantity} window={name} />
          ))}
        </div>
      ))}
    </>
  );
};

type TableProps = { readonly review: Review; readonly quantity: Quantity; readonly window: WindowName };

const ExposureTable = ({ review, quantity, window }: TableProps) => {
  const reader = useLogReader();
  const own = review.channels.filter(
    (channel) => channel.quantity === quantity && channel.exposures[window] !== undefined,
  );
  const channels = (['supply', 'affected', 'unaffected'] as const).flatMap((part) =>
    own.filter((one) => one.part === part),
  );
  const reached = LINE_KEYS.filter((key) => channels.some((one) => (beyondIn(one, window, key)?.hours ?? 0) > 0));
  const rows = rowsFor(quantity, reader, reached);
  const span = review.windows.find(({ name }) => name === window);
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls sideways has to be reached by the keyboard too
    <section class="exposure-scroll" tabIndex={0} aria-label="What each tank went through">
      <table class="exposure-table">
        <caption>
          {capital(namesFor(reader).quantity[quantity])}, {unitWords(quantity, reader)}, {WINDOW_WORDS[window]}
          {span === undefined ? null : `: ${whenWords(span.fromMs, reader)} to ${whenWords(span.toMs, reader)}`}
        </caption>
        <thead>
          <tr>
            <td />
            {channels.map((channel) => (
              <th key={channel.channelId} scope="col" class={`exposure-${channel.part}`}>
                {reader.placeName(channel.placeId)}
                <small>{PART[channel.part]}</small>
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map(([word, say]) => (
            <tr key={word}>
              <th scope="row">{word}</th>
              {channels.map((channel) => (
                <td key={channel.channelId} class={`exposure-${channel.part}`}>
                  {sayOf(channel, window, say)}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
      <p class="exposure-never">{neverWords(channels, window, reached)}</p>
    </section>
  );
};

const PART = { supply: 'supply', affected: 'deaths', unaffected: 'no deaths' } as const;

type Say = (exposure: Exposure) => string | undefined;
const sayOf = ({ exposures }: ReviewedChannel, window: WindowName, say: Say): string => {
  const exposure = exposures[window];
  return exposure === undefined ? '–' : (say(exposure) ?? '–');
};

const hoursWords = (hours: number, reader: LogReader): string =>
  hours === 0 ? '0' : durationWords(hours * HOUR_MS, reader);

const beyondIn = ({ exposures }: ReviewedChannel, window: WindowName, key: LineKey) => exposures[window]?.beyond[key];

const BEYOND: Readonly<Record<LineKey, string>> = {
  limitHigh: 'over limit',
  limitLow: 'under limit',
  targetHigh: 'over target',
  targetLow: 'under target',
};
const IN_ORDER = ['limitHigh', 'limitLow', 'targetHigh', 'targetLow'] as const;

/** Lines that no tank was beyond get no rows of noughts, but a word. */
const neverWords = (channels: readonly ReviewedChannel[], window: WindowName, reached: readonly LineKey[]): string => {
  const others = IN_ORDER.filter((key) => !reached.includes(key));
  const isSet = (key: LineKey): boolean => channels.some((one) => beyondIn(one, window, key) !== undefined);
  const [never, unset] = [others.filter(isSet), others.filter((key) => !isSet(key))];
  const list = (keys: readonly LineKey[]): string => keys.map((key) => BEYOND[key]).join(', ');
  return [
    ...(never.length === 0 ? [] : [`At no measured time in any of these: ${list(never)}.`]),
    ...(unset.length === 0 ? [] : [`No line was set to be ${list(unset)}.`]),
  ].join(' ');
};

const rowsFor = (
  quantity: Quantity,
  reader: LogReader,
  reached: readonly LineKey[],
): readonly (readonly [string, Say])[] => {
  const number = (value: number | undefined) =>
    value === undefined ? undefined : numberWords(quantity, value, reader);
  const line = (word: string, key: LineKey): readonly (readonly [string, Say])[] => [
    [`hours ${word}`, ({ beyond }) => (beyond[key] === undefined ? 'no line' : hoursWords(beyond[key].hours, reader))],
    [
      `${quantity === 'temperature' ? 'degree-hours' : `${unitWords(quantity, reader)} hours`} ${word}`,
      ({ beyond, lowerBound }) =>
        beyond[key] === undefined
          ? undefined
          : `${lowerBound ? 'at least ' : ''}${differenceWords(quantity, beyond[key].degreeHours, reader)}`,
    ],
  ];
  const longest =
    (key: LineKey): Say =>
    ({ beyond }) => {
      const { longestMs = 0, longestFromMs } = beyond[key] ?? {};
      return longestFromMs === undefined
        ? undefined
        : `${durationWords(longestMs, reader)}, from ${whenWords(longestFromMs, reader)}`;
    };
  const fastest =
    (which: 'fastest30' | 'fastest60'): Say =>
    (exposure) => {
      const found = exposure[which];
      if (found === undefined) return undefined;
      const size = `${found.change < 0 ? '−' : '+'}${differenceWords(quantity, Math.abs(found.change), reader)}`;
      return `${size}, ${whenWords(found.fromMs, reader)}`;
    };
  return [
    ['lowest', ({ lowest }) => lowest && `${number(lowest.value) ?? ''}, ${whenWords(lowest.atMs, reader)}`],
    ['highest', ({ highest }) => highest && `${number(highest.value) ?? ''}, ${whenWords(highest.atMs, reader)}`],
    ['mean', ({ mean }) => number(mean)],
    ['5 to 95 %', ({ p5, p95 }) => (p5 === undefined ? undefined : `${number(p5) ?? ''} to ${number(p95) ?? ''}`)],
    ...IN_ORDER.filter((key) => reached.includes(key)).flatMap((key) => [
      ...line(BEYOND[key], key),
      ...(key.startsWith('limit') ? [[`longest ${BEYOND[key]}`, longest(key)] as const] : []),
    ]),
    ['fastest in 30 min', fastest('fastest30')],
    ['fastest in 1 h', fastest('fastest60')],
    ...(quantity === 'oxygen-saturation' || quantity === 'oxygen-mg-l'
      ? [['dawn minima', dawnWords(number, reader)] as const]
      : []),
    ['measured', ({ measuredH, hours }) => `${hoursWords(measuredH, reader)} of ${hoursWords(hours, reader)}`],
    ['not measured', (exposure) => gapsWords(exposure, reader)],
    ['in declared work, apart', ({ atWork }) => (atWork.hours === 0 ? 'none' : workWords(atWork, number, reader))],
  ];
};

type Numbers = (value: number | undefined) => string | undefined;

const dawnWords =
  (number: Numbers, reader: LogReader): Say =>
  ({ dawns }) =>
    dawns.length === 0
      ? undefined
      : dawns.map(({ low, atMs }) => `${number(low) ?? ''} ${clockWords(atMs, reader)}`).join('; ');

const gapsWords = ({ unmeasuredH }: Exposure, reader: LogReader): string => {
  const gaps = Object.entries(unmeasuredH) as readonly (readonly [keyof ReturnType<typeof namesFor>['gap'], number])[];
  return gaps.length === 0
    ? 'none'
    : gaps.map(([why, hours]) => `${namesFor(reader).gap[why]} ${hoursWords(hours, reader)}`).join('; ');
};

const workWords = ({ hours, lowest, highest }: Exposure['atWork'], number: Numbers, reader: LogReader): string => {
  const span =
    lowest === undefined || highest === undefined
      ? ''
      : `, ${number(lowest.value) ?? ''} to ${number(highest.value) ?? ''}`;
  return `${hoursWords(hours, reader)}${span}`;
};
