import type { BedReport } from '../bed/report.js';
import { durationWords } from './clock.js';
import { roughWords } from './figure.js';
import { type ByLanguage, filled, inLanguage, type Reader } from './language.js';

type Table = {
  readonly depth: string;
  readonly range: string;
  readonly limit: string;
  readonly looked: string;
  readonly never: string;
  readonly old: string;
  readonly pump: string;
  readonly noWater: string;
  readonly last: string;
  readonly error: string;
  readonly noError: string;
  readonly cleaned: string;
};

const WORDS: ByLanguage<Table> = {
  en: {
    depth: 'about {mm} mm',
    range: '{low} to {high} mm',
    limit: 'to be kept above {mm} mm',
    looked: 'reckoned from a look at the layer {ago} ago',
    never:
      'No depth is shown before somebody has looked at the layer: in a core, or at the black edge behind the glass. Black sand, a foul smell and siphons that stay in say more than any estimate.',
    old: 'The layer was last looked at more than a month ago. No depth is shown until somebody looks again.',
    pump: 'The layer was last looked at with the pump of the bed as it is no longer. No depth is shown until somebody looks again.',
    noWater: 'No depth can be reckoned now: it needs oxygen, temperature and salinity of this tank.',
    last: 'Last look: {seen} mm seen, {estimated} mm had been reckoned',
    error: 'off by {mm} mm at the median of {count} looks',
    noError: 'The next look will say how far off the reckoning was.',
    cleaned: 'cleaned {ago} ago',
  },
};

/** What is known of a bed, for the page of its tank: the depth where it was calibrated, and never without its range. */
export type BedWords = {
  /** `about 6.1 mm`; absent where no number may be shown. */
  readonly depth?: string;
  readonly facts: readonly string[];
  readonly notes: readonly string[];
};

export const bedWords = (report: BedReport, nowMs: number, reader: Reader): BedWords => {
  const words = inLanguage(WORDS, reader);
  const mm = (value: number): string => roughWords(value, reader);
  const ago = (atMs: number): string => durationWords(nowMs - atMs, reader);
  const { estimate, limitMm, cleanedAtMs } = report;
  const cleaned = cleanedAtMs === undefined ? [] : [filled(words.cleaned, { ago: ago(cleanedAtMs) })];
  if (estimate.kind !== 'calibrated')
    return { facts: cleaned, notes: [whyNone(estimate, words), ...errorWords(report, words, mm)] };
  const limit = limitMm === undefined ? [] : [filled(words.limit, { mm: mm(limitMm) })];
  return {
    depth: filled(words.depth, { mm: mm(estimate.mm) }),
    facts: [
      filled(words.range, { low: mm(estimate.lowMm), high: mm(estimate.highMm) }),
      ...limit,
      filled(words.looked, { ago: ago(estimate.lookedAtMs) }),
      ...cleaned,
    ],
    notes: errorWords(report, words, mm),
  };
};

const whyNone = (estimate: Exclude<BedReport['estimate'], { kind: 'calibrated' }>, words: Table): string => {
  if (estimate.kind === 'no-water') return words.noWater;
  return { 'never-calibrated': words.never, 'calibration-old': words.old, 'pump-changed': words.pump }[estimate.why];
};

/** `Last look: 7 mm seen, 6.2 mm had been reckoned; off by 0.9 mm at the median of 3 looks`. */
const errorWords = (
  { looks, medianErrorMm, estimate }: BedReport,
  words: Table,
  mm: (value: number) => string,
): readonly string[] => {
  const tried = looks.filter(({ estimatedMm }) => estimatedMm !== undefined);
  const last = tried.at(-1);
  if (last?.estimatedMm === undefined || medianErrorMm === undefined)
    return estimate.kind === 'calibrated' ? [words.noError] : [];
  return [
    [
      filled(words.last, { seen: mm(last.seenMm), estimated: mm(last.estimatedMm) }),
      filled(words.error, { mm: mm(medianErrorMm), count: String(tried.length) }),
    ].join('; '),
  ];
};
