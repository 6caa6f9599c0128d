import { useSignal } from '@preact/signals';
import { useMemo } from 'preact/hooks';
import type { Entry } from '../../rules/log/entry.js';
import { ok } from '../../rules/result.js';
import { showsDead } from '../../rules/review/window.js';
import type { LogLine } from '../../rules/wire/log.js';
import { wallText } from '../../rules/words/clock.js';
import { entryWords } from '../../rules/words/entry.js';
import { entryNames } from '../../rules/words/entry-name.js';
import { capital } from '../../rules/words/name.js';
import { whenWords } from '../../rules/words/review.js';
import type { Asked } from '../link/api.js';
import { go } from '../state/address.js';
import { useAsked } from '../state/asked.js';
import { useApi } from '../state/gateway.js';
import { type LogReader, useLogReader, useTanks } from '../state/places.js';
import { retiredWords, useRetired } from '../state/retired.js';
import { isSight, newBegin, reviewOfForm, SIGHTS } from '../state/review-form.js';
import { useRoom } from '../state/room.js';
import { Field } from './field.js';
import { MomentField } from './moment-field.js';
import { ManyPills, Pills } from './pills.js';

const DAY_MS = 86_400_000;
const HOUR_MS = 3_600_000;
/** Further back the log of the day is asked. */
const SHOWN = 8;

type BeginProps = { readonly tank?: string; readonly entry?: string; readonly start?: string };

/** What is known already is filled in: from an entry of the log, from a tank's page, or by hand. */
export const ReviewBegin = ({ tank, entry, start }: BeginProps) => {
  const api = useApi();
  const room = useRoom();
  const reader = useLogReader();
  const nowMs = Math.round(room.nowMs.peek());
  const form = useMemo(
    () => newBegin({ tank, from: entry ?? start, now: wallText(nowMs, room.reader.peek().zone) }),
    [],
  );
  const said = useSignal('');
  const deaths = useDeaths(entry, nowMs);
  const gone = useRetired().filter(({ kind }) => kind === 'tank' || kind === 'bath');
  const byHand = isSight(form.from.value);
  const begin = async (): Promise<void> => {
    const wanted = reviewOfForm(form, reader.zone);
    form.fault.value = 'review' in wanted ? undefined : wanted;
    if (!('review' in wanted)) return;
    said.value = 'Freezing the record …';
    const kept = await api.beginReview(wanted.review);
    if (kept.ok) go({ page: 'review', id: kept.value.review.id });
    else said.value = kept.fault.detail;
  };
  const faultOf = (field: string) => (form.fault.value?.field === field ? { fault: form.fault.value.detail } : {});
  return (
    <>
      <h2 class="page-part">Freeze the record, and look back</h2>
      <Pills
        label="What was seen"
        value={form.from}
        choices={[...SIGHTS, ...deaths.map((one) => [one.id, deathWords(one, reader)] as const)]}
        onChoose={(value) => {
          form.from.value = value;
        }}
      />
      <ManyPills
        label={byHand ? 'In these tanks' : 'Also in these tanks'}
        chosen={form.tanks.value}
        choices={useTanks().map(({ id, name }) => [id, name] as const)}
        onChange={(next) => {
          form.tanks.value = next;
        }}
      />
      {gone.length === 0 ? null : (
        <ManyPills
          wide
          label="Taken out of use since"
          chosen={form.tanks.value}
          choices={gone.map((one) => [one.id, retiredWords(one, reader)] as const)}
          onChange={(next) => {
            form.tanks.value = next;
          }}
        />
      )}
      <div class="moments">
        {byHand ? (
          <MomentField label="First seen dead, or on the bottom" value={form.dead} {...faultOf('dead')} />
        ) : null}
        <MomentField label="Last seen alive, where no entry says it" value={form.alive} {...faultOf('alive')} />
      </div>
      <Field label="Who saw what first" value={form.remark} hint="Stands in the report. It may be left empty." />
      <div class="pill-row">
        <button
          type="button"
          class="pill pill-first"
          disabled={byHand && form.tanks.value.length === 0}
          onClick={() => void begin()}
        >
          Freeze the record
        </button>
      </div>
      <p class="form-said" role="status">
        {said.value}
      </p>
    </>
  );
};

const deathWords = (entry: Entry, reader: LogReader): string =>
  `${reader.placeName(entry.placeId ?? '')}: ${capital(entryNames(reader).kind[entry.kind])}, ${entryWords(entry, reader)}, ${whenWords(entry.atMs, reader)}`;

/** Entries of the last fortnight that tell of deaths; the one that the page was opened from is among them, however old. */
const useDeaths = (entryId: string | undefined, nowMs: number): readonly Entry[] => {
  const api = useApi();
  const { answer } = useAsked(
    () => api.log({ from: String(nowMs - 14 * DAY_MS), to: String(nowMs + HOUR_MS) }),
    'deaths',
  );
  const { answer: asked } = useAsked(
    async (): Promise<Asked<LogLine | undefined>> => (entryId === undefined ? ok(undefined) : api.entry(entryId)),
    entryId ?? '',
  );
  const lines = answer.value.kind === 'here' ? answer.value.value : [];
  const lately = lines
    .filter(({ entry, replacedBy }) => replacedBy === undefined && showsDead(entry))
    .map(({ entry }) => entry)
    .slice(-SHOWN);
  const own = asked.value.kind === 'here' && asked.value.value !== undefined ? [asked.value.value.entry] : [];
  return [...own, ...lately.filter(({ id }) => id !== entryId)];
};
