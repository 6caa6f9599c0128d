import { parseChannelId } from '../../rules/channel.js';
import type { Review } from '../../rules/review/review.js';
import { WINDOW_NAMES } from '../../rules/review/window.js';
import { clockWords, durationWords } from '../../rules/words/clock.js';
import type { LogReader } from '../../rules/words/entry.js';
import { fixedWords, plainWords } from '../../rules/words/figure.js';
import { namesFor } from '../../rules/words/name.js';
import { shownDifference } from '../../rules/words/number.js';
import { channelName, WINDOW_WORDS, whenWords } from '../../rules/words/review.js';
import { useLogReader } from '../state/places.js';

/** How much was measured, why the rest was not, and who changed or put aside what. */
export const ReviewWhole = ({ review }: { review: Review }) => {
  const reader = useLogReader();
  const { whole, windows, channels } = review;
  const names = WINDOW_NAMES.filter((name) => windows.some((one) => one.name === name));
  const ours = whole.channels.filter(({ channelId }) =>
    channels.some((one) => one.channelId === channelId && one.part !== 'unaffected'),
  );
  return (
    <>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls sideways has to be reached by the keyboard too */}
      <section class="exposure-scroll" tabIndex={0} aria-label="How much was measured">
        <table class="exposure-table whole-table">
          <caption>Share of the time that was measured, outside declared work</caption>
          <thead>
            <tr>
              <td />
              {names.map((name) => (
                <th key={name} scope="col">
                  {WINDOW_WORDS[name]}
                </th>
              ))}
              <th scope="col">gaps of the last 72 hours</th>
            </tr>
          </thead>
          <tbody>
            {ours.map(({ channelId, share, gaps }) => (
              <tr key={channelId}>
                <th scope="row">{channelName(channelId, reader)}</th>
                {names.map((name) => (
                  <td key={name}>
                    {share[name] === undefined
                      ? '–'
                      : `${fixedWords(Math.floor(share[name] * 1000) / 10, 1, reader)} %`}
                  </td>
                ))}
                <td>
                  {gaps
                    .filter(({ toMs }) => toMs > (windows.find(({ name }) => name === '72h')?.fromMs ?? 0))
                    .slice(-6)
                    .map(
                      ({ fromMs, toMs, reason }) =>
                        `${namesFor(reader).gap[reason]} ${durationWords(toMs - fromMs, reader)} from ${whenWords(fromMs, reader)}`,
                    )
                    .join('; ') || 'none'}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      <ul class="plain-list">
        {whole.calibrations.map(({ channelId, fromMs, slope, offset, by }) => (
          <li key={`${channelId} ${fromMs}`}>
            Calibration of {channelName(channelId, reader)} from {whenWords(fromMs, reader)}: slope{' '}
            {plainWords(slope, 6, reader)}, offset {offsetWords(channelId, offset, reader)}, {by ?? 'nobody named'}
          </li>
        ))}
        {together(whole.changes).map(({ atMs, what, by }) => (
          <li key={`${atMs} ${by}`}>
            {whenWords(atMs, reader)}: {by} changed the settings of {what.map(reader.placeName).join(', ')}
          </li>
        ))}
        {whole.putAside.map(({ atMs, alarm, event, by }) => (
          <li key={`${atMs} ${alarm.id}`}>
            {whenWords(atMs, reader)}: {by ?? 'the watch'} put aside or took back an alarm of{' '}
            {reader.placeName(alarm.finding.placeId)} ({event})
          </li>
        ))}
        {whole.clocks.map(({ id, activatedMs, finding }) => (
          <li key={id}>
            Wrong clock of board {finding.boardId ?? ''} from {whenWords(activatedMs, reader)},{' '}
            {clockWords(activatedMs, reader)}
          </li>
        ))}
      </ul>
      {whole.calibrations.length + whole.changes.length + whole.putAside.length + whole.clocks.length === 0 ? (
        <p class="page-note">
          No calibration, no change of settings, no alarm put aside and no wrong clock in this time.
        </p>
      ) : null}
    </>
  );
};

/** Of a temperature in the site's degrees, as a difference. */
const offsetWords = (channelId: string, offset: number, reader: LogReader): string => {
  const quantity = parseChannelId(channelId)?.quantity ?? 'contact';
  return plainWords(shownDifference(quantity, offset, reader), 6, reader);
};

type Together = { readonly atMs: number; readonly by: string; readonly what: readonly string[] };

/** What one person changed within a minute, in one line. */
const together = (changes: Review['whole']['changes']): readonly Together[] => {
  const lines: Together[] = [];
  for (const { atMs, by, what } of changes) {
    const before = lines.at(-1);
    if (before !== undefined && before.by === by && atMs - before.atMs < 60_000)
      lines[lines.length - 1] = { ...before, what: [...new Set([...before.what, what])] };
    else lines.push({ atMs, by, what: [what] });
  }
  return lines;
};
