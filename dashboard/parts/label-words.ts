import { channelStateSpoken, stateWords, workPhrase } from '../../rules/words/channel.js';
import type { Reader } from '../../rules/words/language.js';
import { shortWords } from '../../rules/words/number.js';
import { isLifted } from '../chart/mark.js';
import type { Cell } from '../state/strip.js';

/** The temperature; while a tank is out of its water, nothing. Another quantity where it has no temperature. */
export const labelValue = (cell: Cell, reader: Reader): string => {
  if (isLifted(cell.place)) return '';
  const channel =
    cell.channels.find((one) => one?.quantity === 'temperature') ?? cell.channels.find((one) => one !== undefined);
  if (channel?.value === undefined || channel.state === 'silent' || channel.state === 'not-plausible') return '–';
  return shortWords(channel.quantity, channel.value, reader);
};

/** Changes with the state of the tank, not with each reading. A tank that nothing measures is not said to be well. */
export const spokenState = (cell: Cell, reader: Reader): string => {
  const work = cell.place.work === undefined ? [] : [workPhrase(cell.place.work, cell.place.work.fromMs, reader).short];
  const out = cell.channels.flatMap((channel) =>
    channel === undefined || channel.state === 'in-target' ? [] : [channelStateSpoken(channel, reader)],
  );
  const isMeasured = cell.channels.some((channel) => channel !== undefined);
  const well = isMeasured ? [stateWords('in-target', reader)] : [];
  return [...work, ...(out.length === 0 ? well : out)].map((words) => `, ${words}`).join('');
};
