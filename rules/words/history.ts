/** Why a history database does not take or give readings. `detail`: its own words or the system's, where there are any. */
export type HistoryTrouble = {
  readonly code:
    | 'token-refused'
    | 'bucket-unknown'
    | 'busy'
    | 'server-trouble'
    | 'no-answer'
    | 'unreachable'
    | 'question-refused'
    | 'incomplete'
    | 'worker-ended';
  readonly detail: string;
};

const TROUBLE: { readonly [code in HistoryTrouble['code']]: string } = {
  'token-refused':
    'it refuses the token: check NIGHTWATER_INFLUX_TOKEN, and that the token may read and write the bucket',
  'bucket-unknown': 'it does not know the bucket or organisation: check org and bucket in NIGHTWATER_HISTORY',
  busy: 'it asks us to wait',
  'server-trouble': 'it has trouble of its own',
  'no-answer': 'it does not answer in time',
  unreachable: 'nothing answers there: is it running, and is the address in NIGHTWATER_HISTORY right?',
  'question-refused': 'it does not understand the question',
  incomplete:
    'it has fewer readings than it once confirmed: was something deleted there, or is its retention too short?',
  'worker-ended': 'the part that speaks to it has ended, and is started again',
};

/** The half of a sentence after "readings wait on this disk: ". */
export const historyTroubleWords = ({ code, detail }: HistoryTrouble): string =>
  detail === '' ? TROUBLE[code] : `${TROUBLE[code]} (${detail})`;

/** How much is on this disk and not yet there: readings one by one, and whole days of a source. */
export type HistoryBehind = { readonly readings: number; readonly days: number };

/** The end of a sentence, in English: "3 readings and 2 days of a source wait on this disk". */
export const behindWords = ({ readings, days }: HistoryBehind): string => {
  const parts = [
    ...(readings > 0 ? [counted(readings, 'reading', 'readings')] : []),
    ...(days > 0 ? [counted(days, 'whole day of a source', 'whole days of a source')] : []),
  ];
  if (parts.length === 0) return 'nothing waits on this disk';
  return `${parts.join(' and ')} ${readings + days === 1 ? 'waits' : 'wait'} on this disk`;
};

const counted = (count: number, one: string, many: string): string => `${count} ${count === 1 ? one : many}`;

/** Said at the start. `to`: address and bucket. */
export const historyStartSentence = (to: string, behind: HistoryBehind): string =>
  `History goes to InfluxDB at ${to}; ${behindWords(behind)}.`;

/** When the database stops taking readings; `since` is a clock time. */
export const historyAwaySentence = (to: string, since: string, trouble: HistoryTrouble): string =>
  `InfluxDB at ${to} has taken no readings since ${since}; they wait on this disk and are tried again: ${historyTroubleWords(trouble)}.`;

/** And when it takes them again. */
export const historyBackSentence = (to: string, behind: HistoryBehind): string =>
  `InfluxDB at ${to} takes readings again; ${behindWords(behind)}.`;

/** What it refuses for ever, one by one; `because` in its own words. */
export const historyRefusedSentence = (to: string, readings: number, because: string): string =>
  `InfluxDB at ${to} refuses ${counted(readings, 'reading', 'readings')} for ever (${because}): set aside, kept on this disk, and offered again at the next start.`;
