import { FAILURE_KINDS } from './failure.js';
import type { NightScore, Seconds } from './judge.js';
import { LATE_MINUTES, leadOf, type Score, type Side, TANKS, verdictOf } from './score.js';

const figure = (value: number | null): string => (value === null ? '–' : String(Math.round(value * 10) / 10));
const row = (cells: readonly (string | number)[], widths: readonly number[]): string =>
  cells
    .map((cell, index) =>
      index === 0 ? String(cell).padEnd(widths[index] ?? 0) : String(cell).padStart(widths[index] ?? 8),
    )
    .join(' ');

const HEAD = [44, 12, 12, 14];

const summary = (score: Score): readonly string[] => {
  const { baseline, carefulBaseline } = score;
  const pair = (label: string, of: (side: Score | Score['baseline']) => number | null): string =>
    row([label, figure(of(score)), figure(of(baseline)), figure(of(carefulBaseline))], HEAD);
  return [
    `${score.nights} nights of ${TANKS} tanks, ${score.failures} of them with a real failure.`,
    '',
    row(['', 'Nightwater', 'fixed limits', 'careful limits'], HEAD),
    pair('harms missed that the probes could have shown', ({ harmsMissed }) => harmsMissed),
    pair('minutes before harm, median', ({ leadMinutes }) => leadMinutes.median),
    pair('minutes before harm, worst twentieth', ({ leadMinutes }) => leadMinutes.p5),
    `  (from the failure itself to the harm ${figure(score.mostLeadMinutes.median)}, worst twentieth ${figure(score.mostLeadMinutes.p5)}: nobody can lead by more;`,
    `  from its first showing on a probe ${figure(score.shownLeadMinutes.median)} and ${figure(score.shownLeadMinutes.p5)})`,
    pair('wakings without cause per 100 tank-nights', (side) => side.wakingsWithoutCausePer100TankNights),
    pair('alarms per tank and day', ({ alarmsPerTankDay }) => alarmsPerTankDay),
    pair('forecast off by minutes, median', ({ forecastErrorMinutes }) => forecastErrorMinutes.median),
    pair('forecast off by minutes, worst tenth', ({ forecastErrorMinutes }) => forecastErrorMinutes.p90),
  ];
};

const KINDS = [14, 7, 9, 8, 6, 7, 13, 12, 9];

const byKind = (title: string, kinds: Score['byFailure']): readonly string[] => [
  '',
  `${title} (late: less than ${LATE_MINUTES} minutes before harm; a harm missed leads by 0)`,
  row(['failure', 'nights', 'harmless', 'in time', 'late', 'missed', 'not showable', 'median lead', 'noticed'], KINDS),
  ...FAILURE_KINDS.map((kind) => {
    const { nights, harmless, inTime, late, missed, notShowable, medianLeadMinutes, called } = kinds[kind];
    return row([kind, nights, harmless, inTime, late, missed, notShowable, figure(medianLeadMinutes), called], KINDS);
  }),
];

const clock = (atMs: number): string => new Date(atMs).toISOString().slice(11, 16);

const missesOf = (nights: readonly NightScore[]): readonly string[] =>
  nights.flatMap(({ seed, failure, engine, baseline }) => {
    if (failure?.harm === undefined) return [];
    const verdict = verdictOf(failure, engine);
    if (verdict !== 'missed' && verdict !== 'late') return [];
    const { kind, fromMs, harm, shownMs } = failure;
    const shown = shownMs === undefined ? 'never shown' : `shown ${clock(shownMs)}`;
    const called =
      engine.calledMs === undefined ? 'never called' : `called ${clock(engine.calledMs)} (${engine.calledBy})`;
    const times = `${clock(fromMs)}, ${shown}, ${called}, harm ${clock(harm.atMs)} (${harm.by} in ${harm.tank})`;
    const limits = `fixed limits ${Math.round(leadOf(failure, baseline))} min before`;
    return [`  ${verdict.padEnd(6)} ${kind.padEnd(13)} ${times}; ${limits}; night ${seed}`];
  });

const needlessBy = (nights: readonly NightScore[], side: Side): readonly string[] => {
  const counts = new Map<string, number>();
  for (const night of nights) {
    for (const { codes } of night[side].needless) {
      const key = [...codes].sort().join(' + ');
      counts.set(key, (counts.get(key) ?? 0) + 1);
    }
  }
  return [...counts].sort((a, b) => b[1] - a[1]).map(([codes, count]) => `  ${String(count).padStart(5)}  ${codes}`);
};

const listed = (title: string, lines: readonly string[]): readonly string[] => [
  '',
  title,
  ...(lines.length === 0 ? ['  none'] : lines),
];

/** What a person reads: the figures, the confusion by kind, every miss by name, and what woke people for nothing. */
export const tableOf = (score: Score, nights: readonly NightScore[]): string =>
  [
    ...summary(score),
    ...byKind('Nightwater by kind of failure', score.byFailure),
    ...byKind('Fixed limits by kind of failure', score.baseline.byFailure),
    ...byKind('Careful limits by kind of failure', score.carefulBaseline.byFailure),
    ...listed('Missed or late:', missesOf(nights)),
    ...listed('Woken without cause, Nightwater, by condition:', needlessBy(nights, 'engine')),
    ...listed('Woken without cause, fixed limits:', needlessBy(nights, 'baseline')),
    ...listed('Woken without cause, careful limits:', needlessBy(nights, 'carefulBaseline')),
  ].join('\n');

/** Processor seconds of one night, as measured in this run, and how they went to the parts by the workers' clocks. */
export const costOf = (nights: readonly NightScore[], processorS: number): string => {
  const sum = (part: keyof Seconds): number => nights.reduce((total, { seconds }) => total + seconds[part], 0);
  const all = sum('physics') + sum('engine') + sum('baseline');
  const share = (part: keyof Seconds): string => `${Math.round((100 * sum(part)) / Math.max(all, 1e-9))} %`;
  const each = (processorS / Math.max(1, nights.length)).toFixed(2);
  return `${each} s of processor a night: water and probes ${share('physics')}, engine ${share('engine')}, fixed limits ${share('baseline')}.`;
};
