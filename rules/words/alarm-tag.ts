import { parseChannelId } from '../channel.js';
import { CONDITION_CODES, type ConditionCode } from '../conditions/finding.js';
import { CONDITION_PHRASES } from './condition.js';
import { filled, inLanguage, type Language } from './language.js';
import { quantityName } from './name.js';

const isCondition = (text: string): text is ConditionCode => CONDITION_CODES.some((code) => code === text);

/** `L2: temperature too high` of a condition and its subject as they are counted; what is not understood stays as it is. */
export const alarmTagWords = (
  tag: string,
  nameOf: (placeId: string) => string,
  reader: { readonly language?: Language } = {},
): string => {
  const [code = '', subject = ''] = tag.split(' ');
  if (!isCondition(code)) return tag;
  const channel = parseChannelId(subject);
  const quantity = channel === undefined ? '' : quantityName(channel.quantity, reader);
  const phrase = inLanguage(CONDITION_PHRASES, reader)[code].still;
  const place = nameOf(channel?.placeId ?? subject);
  return `${place}: ${filled(phrase, { quantity, line: 'the ceiling', place, board: subject, work: 'work', task: 'work' })}`;
};
