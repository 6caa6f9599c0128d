import type { CallKind } from '../alerts/ladder.js';
import type { FaultNotice, Notice, ToldPerson } from '../alerts/notice.js';
import { cautions, checkSentence } from './check.js';
import { clockWords, durationWords, momentWords } from './clock.js';
import { findingSentence } from './finding.js';
import { gsmLength, plainText } from './gsm.js';
import { lackWords } from './lack.js';
import { filled, inLanguage, type Reader } from './language.js';
import { morningLines, morningTitle } from './morning.js';
import { capital, namesFor, stageName } from './name.js';
import { NOTICE_WORDS as WORDS } from './notice-table.js';

/** A message in words, longest form first. What is read half asleep stands in `title` and the first line of `lines`. */
export type NoticeWords = {
  readonly title: string;
  readonly lines: readonly string[];
  readonly checks: readonly string[];
  readonly cautions: readonly string[];
  /** At most 160 letters of the text message alphabet. */
  readonly text: string;
  /** For a voice, units spelled out. */
  readonly spoken: string;
};

export const noticeWords = (notice: Notice, reader: Reader): NoticeWords => {
  switch (notice.kind) {
    case 'flood':
      return floodWords(notice, reader);
    case 'morning': {
      const nameOf = (id: string): string => notice.names[id] ?? id;
      return plain(morningTitle(notice.report, reader), morningLines(notice.report, nameOf, reader));
    }
    case 'drill':
      return plain(inLanguage(WORDS, reader).drill, [inLanguage(WORDS, reader).drillAsk]);
    case 'watch-empty': {
      const { atMs, fromMs, toMs } = notice;
      const blanks = { from: momentWords(fromMs, atMs, reader), until: momentWords(toMs, atMs, reader) };
      return plain(filled(inLanguage(WORDS, reader).watchEmpty, blanks), []);
    }
    case 'check-in-fails':
      return plain(lackWords({ kind: 'check-in-fails', sinceMs: notice.sinceMs }, notice.atMs, reader), [
        inLanguage(WORDS, reader).checkInDo,
      ]);
    case 'gateway-lost': {
      const words = inLanguage(WORDS, reader);
      const moment = momentWords(notice.sinceMs, notice.atMs, reader);
      return plain(filled(words.lost, { site: notice.site }), [
        capital(filled(words.losses[notice.loss], { moment })),
        words.lostDo,
      ]);
    }
    case 'gateway-back': {
      const length = durationWords(notice.atMs - notice.sinceMs, reader);
      return plain(filled(inLanguage(WORDS, reader).back, { site: notice.site, length }), []);
    }
    default:
      return faultWords(notice, reader);
  }
};

const plain = (title: string, lines: readonly string[]): NoticeWords => ({
  title,
  lines,
  checks: [],
  cautions: [],
  text: fitted([title, ...lines]),
  spoken: [title, ...lines].join('. '),
});

/** Kinds that say what became of a fault; nothing is to be checked then. */
const NEWS: readonly CallKind[] = ['taken', 'cleared'];

const faultWords = (notice: FaultNotice, reader: Reader): NoticeWords => {
  const words = inLanguage(WORDS, reader);
  const { place, finding, atMs, by } = notice;
  const said = findingSentence(finding, { ...reader, place: place.name, nowMs: atMs });
  const what =
    said.left === undefined ? said.headline : filled(words.left, { headline: said.headline, left: said.left });
  const title = filled(words.kinds[notice.kind], { place: place.name, what, by: by ?? '?' });
  const isNews = NEWS.includes(notice.kind);
  const lines = [
    [notice.latched === true ? words.latched : undefined],
    [said.cause, said.until, said.since],
    [contents(notice, reader)],
    [basisOf(notice, reader)],
    [readingAge(notice, reader), tanksOf(notice, reader)],
    [othersOf(notice, reader)],
    [toldOf(notice, reader)],
    [notice.chattering === true ? words.chattering : undefined],
  ];
  const { water, alone, law } = cautions(reader);
  return {
    title: capital(title),
    lines: isNews ? [] : lines.map(joined).filter((line) => line !== ''),
    checks: isNews ? [] : (finding.checks ?? []).map((code) => checkSentence(code, reader)),
    cautions: isNews ? [] : [water, alone, law],
    text: fitted(isNews ? [capital(title)] : textParts(notice, title, said, reader)),
    spoken: isNews ? title : `${title}. ${said.spoken}`,
  };
};

const joined = (parts: readonly (string | undefined)[]): string => {
  const there = parts.filter((part) => part !== undefined && part !== '');
  return there.length === 0 ? '' : capital(there.join('; '));
};

const contents = ({ place }: FaultNotice, reader: Reader): string | undefined => {
  const words = inLanguage(WORDS, reader);
  if (place.stage === undefined) return undefined;
  const regime = place.regime === undefined ? '' : `, ${namesFor(reader).regime[place.regime]}`;
  const batch = place.batch === undefined ? '' : `, ${filled(words.batch, { batch: place.batch })}`;
  return `${filled(words.holds, { stage: stageName(place.stage, reader), place: place.name })}${regime}${batch}`;
};

const basisOf = ({ finding }: FaultNotice, reader: Reader): string | undefined => {
  const facts = finding.harm?.basis ?? [];
  return facts.length === 0
    ? undefined
    : filled(inLanguage(WORDS, reader).basis, { facts: facts.map((code) => code.replaceAll('-', ' ')).join(', ') });
};

const OLD_MS = 120_000;

const readingAge = ({ readingMs, atMs }: FaultNotice, reader: Reader): string | undefined => {
  if (readingMs === undefined) return undefined;
  const words = inLanguage(WORDS, reader);
  const age = durationWords(atMs - readingMs, reader);
  return filled(atMs - readingMs > OLD_MS ? words.readingOld : words.reading, {
    age,
    moment: momentWords(readingMs, atMs, reader),
  });
};

const MOST_NAMES = 8;
const named = (names: readonly string[]): string =>
  names.length <= MOST_NAMES ? names.join(', ') : `${names.slice(0, MOST_NAMES).join(', ')} …`;

const tanksOf = ({ tanks }: FaultNotice, reader: Reader): string =>
  tanks.length <= 1
    ? inLanguage(WORDS, reader).one
    : filled(inLanguage(WORDS, reader).many, { count: String(tanks.length), names: named(tanks) });

const othersOf = ({ others }: FaultNotice, reader: Reader): string | undefined =>
  others.length === 0 ? undefined : filled(inLanguage(WORDS, reader).others, { names: named(others) });

const toldOf = ({ told }: FaultNotice, reader: Reader): string =>
  told.length === 0
    ? inLanguage(WORDS, reader).alone
    : filled(inLanguage(WORDS, reader).told, { names: told.map((person) => toldName(person, reader)).join(', ') });

const toldName = ({ name, standing, untilMs }: ToldPerson, reader: Reader): string => {
  if (standing === undefined) return name;
  const clock = untilMs === undefined ? '' : clockWords(untilMs, reader);
  return filled(inLanguage(WORDS, reader)[standing], { name, clock });
};

const textParts = (
  notice: FaultNotice,
  title: string,
  said: ReturnType<typeof findingSentence>,
  reader: Reader,
): readonly string[] => {
  const { priority, tanks, place, others } = notice;
  const words = inLanguage(WORDS, reader);
  return [
    `${words.priority[priority]} ${title}`,
    ...(said.about === undefined ? [] : [capital(`${said.to ?? ''} ${said.about}`.trim())]),
    capital(said.cause),
    ...(tanks.length > 1 ? [filled(words.many, { count: String(tanks.length), names: named(tanks) })] : []),
    ...(place.stage === undefined ? [] : [capital(stageName(place.stage, reader))]),
    ...(others.length === 0 ? [] : [capital(filled(words.others, { names: named(others) }))]),
  ];
};

const TEXT_LETTERS = 160;

/** As many of the parts, in their order, as one text message holds; the first is cut if it must be. */
const fitted = (parts: readonly string[]): string => {
  let text = '';
  for (const part of parts.map(plainText)) {
    const longer = text === '' ? part : `${text}. ${part}`;
    if (gsmLength(longer) <= TEXT_LETTERS) text = longer;
    else if (text === '')
      return [...part]
        .slice(0, TEXT_LETTERS - 3)
        .join('')
        .concat('...');
  }
  return text;
};

const floodWords = (notice: Extract<Notice, { kind: 'flood' }>, reader: Reader): NoticeWords => {
  const words = inLanguage(WORDS, reader);
  const worst = notice.worst.map((one) => faultWords(one, reader));
  const title = filled(words.flood, { count: String(notice.faults) });
  const { water, alone, law } = cautions(reader);
  return {
    title,
    lines: worst.map((one) => one.title),
    checks: worst[0]?.checks ?? [],
    cautions: [water, alone, law],
    text: fitted([
      filled(words.floodText, { count: String(notice.faults), worst: worst[0]?.title ?? '' }),
      ...worst.slice(1).map((one) => one.title),
    ]),
    spoken: [title, ...worst.slice(0, 3).map((one) => one.title)].join('. '),
  };
};
