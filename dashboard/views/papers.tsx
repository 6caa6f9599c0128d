import { useSignal } from '@preact/signals';
import type { BatchStory } from '../../rules/log/batch.js';
import type { BatchCounts } from '../../rules/log/batch-counts.js';
import type { Entry } from '../../rules/log/entry.js';
import { authorOf } from '../../rules/log/entry.js';
import type { PapersPicture } from '../../rules/wire/log.js';
import { animalsWords, tallyWords } from '../../rules/words/animals.js';
import { clockWords, dayStartMs, nextDayMs, yearWords } from '../../rules/words/clock.js';
import { entryWords } from '../../rules/words/entry.js';
import { entryNames } from '../../rules/words/entry-name.js';
import { capital, stageName } from '../../rules/words/name.js';
import { Page } from '../parts/page.js';
import { Pills } from '../parts/pills.js';
import { useAsked } from '../state/asked.js';
import { useApi } from '../state/gateway.js';
import { useLogReader } from '../state/places.js';
import { useRoom } from '../state/room.js';
import { groupName } from './batches.js';

const DAY_MS = 86_400_000;
const SPANS = [
  ['30', 'a month'],
  ['92', 'three months'],
  ['366', 'a year'],
  ['1830', 'five years'],
] as const;

/** What an inspector asks for, on paper in ten minutes; once the gateway has said what day it is. */
export const PapersPage = () =>
  useRoom().picture.value === undefined ? <Page here="papers">{null}</Page> : <OnPaper />;

const OnPaper = () => {
  const room = useRoom();
  const api = useApi();
  const days = useSignal('366');
  const { zone } = room.reader.value;
  const toMs = nextDayMs(room.nowMs.peek(), zone);
  const fromMs = dayStartMs(toMs - Number(days.value) * DAY_MS, zone);
  const { answer } = useAsked(() => api.papers(fromMs, toMs), `${fromMs} ${toMs}`);
  const reader = useLogReader();
  const url = `/api/v1/log/export.csv?from=${fromMs}&to=${toMs}`;
  return (
    <Page here="papers">
      <div class="papers">
        <h1 class="page-title">For an inspector</h1>
        <p class="page-note">
          {room.picture.value?.site.name}, {yearWords(fromMs, reader)} to {yearWords(toMs - 1, reader)}, printed{' '}
          {yearWords(room.nowMs.value, reader)} {clockWords(room.nowMs.value, reader)}. Corrected entries are shown as
          corrected; every version is in the export.
        </p>
        <div class="no-print">
          <Pills
            label="The last"
            value={{ value: days.value }}
            choices={SPANS}
            onChoose={(value) => (days.value = value)}
          />
          <div class="pill-row">
            <button type="button" class="pill pill-first" onClick={() => print()}>
              Print
            </button>
            <a class="pill" href={url} download>
              Export the log (CSV)
            </a>
            <a class="pill pill-quiet" href={url.replace('.csv?', '.csv.sha256?')} download>
              Its checksum
            </a>
          </div>
        </div>
        {answer.value.kind === 'refused' ? <p class="page-note">{answer.value.problem.detail}</p> : null}
        {answer.value.kind === 'here' ? <Papers papers={answer.value.value} /> : null}
      </div>
    </Page>
  );
};

const Papers = ({ papers }: { papers: PapersPicture }) => (
  <>
    <Lacking papers={papers} />
    <h2 class="page-part">Batches on site</h2>
    <Batches batches={papers.batches} />
    <Section title="Brought in" entries={papers.broughtIn} />
    <Section title="Sold or sent out" entries={papers.sold} />
    <Section title="Moved inside" entries={papers.moved} />
    <Section title="Deaths" entries={papers.deaths} />
    <Section title="Culled or dumped" entries={papers.culls} />
    <h2 class="page-part">Counts, one line for each batch</h2>
    <Counts counted={papers.counted} />
    <Section title="Treatments and disinfection" entries={papers.treatments} />
    <Section title="Samples" entries={papers.samples} />
    <Section title="Calibrations" entries={papers.calibrations} />
    <HandMeasurements many={papers.handMeasurements} />
    <p class="cautions">
      Report unexplained or increased deaths to your animal-health authority or vet. A missing entry does not mean that
      nothing was done.
    </p>
  </>
);

const Lacking = ({ papers: { lacking, broughtIn, sold } }: { papers: PapersPicture }) => {
  const reader = useLogReader();
  if (lacking.length === 0) return null;
  const entryOf = (id: string): Entry | undefined => [...broughtIn, ...sold].find((entry) => entry.id === id);
  return (
    <>
      <h2 class="page-part">What these papers lack</h2>
      <ul class="plain-list">
        {lacking.map((lack) => {
          const entry = entryOf(lack.entryId);
          return (
            <li key={lack.entryId}>
              {lack.code === 'no-permit-in' ? 'Brought in' : 'Sent out'} without a permit in the log:{' '}
              {entry === undefined ? lack.entryId : `${yearWords(entry.atMs, reader)}, ${entryWords(entry, reader)}`}
            </li>
          );
        })}
      </ul>
    </>
  );
};

const HandMeasurements = ({ many }: { many: number }) =>
  many === 0 ? null : (
    <p class="page-note">{many === 1 ? 'One hand measurement is' : `${many} hand measurements are`} in the export.</p>
  );

/** Larvae are counted each day, and no two counts are the same: what they say together. */
const Counts = ({ counted }: { counted: readonly BatchCounts[] }) => {
  const reader = useLogReader();
  const many = (animals: number): string => (animals === 0 ? 'none' : animalsWords(animals, reader));
  if (counted.length === 0) return <p class="page-note">None written in this time.</p>;
  return (
    <table class="balance papers-table">
      <thead>
        <tr>
          <th scope="col">Batch</th>
          <th scope="col">Counts</th>
          <th scope="col">Fewer than the book had</th>
          <th scope="col">More</th>
          <th scope="col">Dead at drain-downs</th>
          <th scope="col">Culled there</th>
        </tr>
      </thead>
      <tbody>
        {counted.map(({ batchId, counts, fewer, more, sheetDead, sheetCulled }) => (
          <tr key={batchId}>
            <th scope="row">{batchId}</th>
            <td>{counts}</td>
            <td>{many(fewer)}</td>
            <td>{many(more)}</td>
            <td>{many(sheetDead)}</td>
            <td>{many(sheetCulled)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
};

const Batches = ({ batches }: { batches: readonly BatchStory[] }) => {
  const reader = useLogReader();
  return (
    <table class="balance papers-table">
      <thead>
        <tr>
          <th scope="col">Batch</th>
          <th scope="col">Animals</th>
          <th scope="col">Began, origin</th>
          <th scope="col">Permits</th>
          <th scope="col">Here now</th>
        </tr>
      </thead>
      <tbody>
        {batches.map((story) => (
          <tr key={story.id}>
            <th scope="row">{story.id}</th>
            <td>{groupName(story.speciesGroup)}</td>
            <td>
              {yearWords(story.beganMs, reader)},{' '}
              {story.origin ?? (story.parents.length === 0 ? 'not written' : `of ${story.parents.join(', ')}`)}
            </td>
            <td>{story.permits.join(', ') || 'none written'}</td>
            <td>
              {story.lots
                .map(
                  (lot) =>
                    `${reader.placeName(lot.placeId)}: ${tallyWords(lot, reader)} ${stageName(lot.stage, reader)}`,
                )
                .join('; ') || 'none'}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
};

const Section = ({ title, entries }: { title: string; entries: readonly Entry[] }) => {
  const reader = useLogReader();
  return (
    <>
      <h2 class="page-part">{title}</h2>
      {entries.length === 0 ? <p class="page-note">None written in this time.</p> : null}
      <table class="balance papers-table">
        <tbody>
          {entries.map((entry) => (
            <tr key={entry.id}>
              <td>
                {yearWords(entry.atMs, reader)} {clockWords(entry.atMs, reader)}
              </td>
              <td>{entry.placeId === undefined ? null : reader.placeName(entry.placeId)}</td>
              <td>
                {capital(entryNames(reader).kind[entry.kind])}: {entryWords(entry, reader)}
              </td>
              <td>{authorOf(entry)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </>
  );
};
