import { peakC, plannedC, type SpawningRun } from '../../rules/log/run.js';
import { tallyWords } from '../../rules/words/animals.js';
import { clockWords, dateWords, durationWords } from '../../rules/words/clock.js';
import { entryWords } from '../../rules/words/entry.js';
import { entryNames } from '../../rules/words/entry-name.js';
import { plainWords } from '../../rules/words/figure.js';
import { lineWords } from '../../rules/words/number.js';
import { useLogReader } from '../state/places.js';

/** The run on one sheet of paper: what was planned, what happened, what is still to be written by hand. */
export const RunSheet = ({ run }: { readonly run: SpawningRun }) => {
  const reader = useLogReader();
  const { plan } = run;
  const degrees = (temperatureC: number): string => lineWords('temperature', temperatureC, reader);
  const rows: readonly (readonly [string, string])[] = [
    ['Tray', reader.placeName(run.placeId)],
    ['Day', dateWords(run.startedMs, reader)],
    ['Animals', `${plan.animals}${plan.batchId === undefined ? '' : ` of ${plan.batchId}`}`],
    ['Ambient', degrees(plan.ambientC)],
    ['Warm, cool', `${degrees(peakC(run))}, ${degrees(plan.coolC)}`],
    ['Hold, cycles', `${plainWords(plan.holdMin, 6, reader)} min, ${plan.cycles}`],
    ['Ceiling', degrees(plan.ceilingC)],
    ['Latest end', clockWords(plan.latestEndMs, reader)],
    ['There', run.people.join(', ')],
  ];
  return (
    <section class="run-sheet print-page">
      <h2 class="page-part">Run sheet</h2>
      <dl class="facts">
        {rows.map(([name, words]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{words}</dd>
          </div>
        ))}
      </dl>
      {plan.argument === undefined ? null : <p class="page-note">Beyond the ceiling because: {plan.argument}</p>}
      <PhaseTable run={run} />
      <h3>Spawned</h3>
      <ul class="plain-list">
        {run.spawners.map((entry) => (
          <li key={entry.id}>
            {clockWords(entry.atMs, reader)} {entryWords(entry, reader)}
          </li>
        ))}
      </ul>
      <h3>Eggs</h3>
      <ul class="plain-list">
        {run.eggs.map((entry) => (
          <li key={entry.id}>
            {clockWords(entry.atMs, reader)}{' '}
            {entry.tally === undefined ? 'not counted' : tallyWords(entry.tally, reader)}
            {entry.fields.to === undefined ? null : `, to ${reader.placeName(entry.fields.to)}`}
          </li>
        ))}
      </ul>
      {run.ended === undefined ? null : (
        <p>
          Ended {clockWords(run.ended.atMs, reader)}: {entryWords(run.ended, reader)}
        </p>
      )}
      <button type="button" class="pill no-print" onClick={() => print()}>
        Print the sheet
      </button>
    </section>
  );
};

/** Blank rows for whoever works with a pencil beside the tray. */
const BLANKS = 4;

const PhaseTable = ({ run }: { run: SpawningRun }) => {
  const reader = useLogReader();
  const names = entryNames(reader);
  const blanks = run.ended === undefined ? BLANKS : 0;
  return (
    <table class="balance run-table">
      <thead>
        <tr>
          <th scope="col">Phase</th>
          <th scope="col">Begins</th>
          <th scope="col">Held</th>
          <th scope="col">Wanted</th>
          <th scope="col">Reached</th>
        </tr>
      </thead>
      <tbody>
        {run.phases.map((phase) => (
          <tr key={phase.fromMs}>
            <th scope="row">
              {names.phase[phase.phase]}
              {phase.recognised ? ' (from the trace)' : null}
            </th>
            <td>{clockWords(phase.fromMs, reader)}</td>
            <td>{phase.toMs === undefined ? null : durationWords(phase.toMs - phase.fromMs, reader)}</td>
            <td>{lineWords('temperature', plannedC(run, phase.phase), reader)}</td>
            <td>{phase.reachedC === undefined ? null : lineWords('temperature', phase.reachedC, reader)}</td>
          </tr>
        ))}
        {Array.from({ length: blanks }, (_, n) => (
          <tr key={`blank ${n}`} class="print-only">
            <th scope="row">&nbsp;</th>
            <td />
            <td />
            <td />
            <td />
          </tr>
        ))}
      </tbody>
    </table>
  );
};
