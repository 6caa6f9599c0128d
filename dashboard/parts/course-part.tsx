import { hourlyStep } from '../../rules/conditions/tolerance.js';
import type { Course, Place } from '../../rules/place.js';
import { legsOf } from '../../rules/stage/course.js';
import { courseOf } from '../../rules/stage/wants.js';
import type { Wants } from '../../rules/wire/picture.js';
import { legWords, outsideSentence, tooFastSentence } from '../../rules/words/course.js';
import { unitWords } from '../../rules/words/number.js';
import {
  type CourseDraft,
  courseOfDraft,
  newPoint,
  readPoints,
  targetField,
  WAYS,
  whenField,
} from '../state/course-form.js';
import { useRoom } from '../state/room.js';
import { Choice, Field } from './field.js';
import { MomentField } from './moment-field.js';
import { Pills } from './pills.js';

type PartProps = { readonly place: Place; readonly draft: CourseDraft; readonly lines: Wants };

/** How the target of a quantity moves: not at all, by dates, or after another place. */
export const CoursePart = ({ place, draft, lines }: PartProps) => {
  const unit = unitWords(draft.quantity, useRoom().reader.value);
  const wrong = useWrong(draft);
  const way = draft.way.value;
  return (
    <div class="course">
      <Pills
        label="The target"
        value={draft.way}
        choices={WAYS}
        onChoose={(value) => {
          draft.way.value = value;
          draft.faults.value = [];
        }}
      />
      {way === 'schedule' ? <Dates draft={draft} unit={unit} wrong={wrong} /> : null}
      {way === 'follows' ? <Followed place={place} draft={draft} unit={unit} wrong={wrong} /> : null}
      {way === 'stays' ? null : (
        <>
          <Field label="Band, on either side" value={draft.within} type="number" unit={unit} {...wrong('within')} />
          {way === 'schedule' ? <ComesTo place={place} draft={draft} lines={lines} /> : null}
          <p class="channel-wants">Only the target moves. Limits and ceiling stay where they are.</p>
        </>
      )}
    </div>
  );
};

type Wrong = (field: string) => { readonly fault?: string };

/** What is still wrong since somebody tried to keep it: a field that was mended says nothing more. */
const useWrong = (draft: CourseDraft): Wrong => {
  const reader = useRoom().reader.value;
  const made = draft.faults.value.length === 0 ? undefined : courseOfDraft(draft, reader);
  return (field) => {
    const found = made === undefined || made.ok ? undefined : made.fault.find((one) => one.field === field);
    return found === undefined ? {} : { fault: found.detail };
  };
};

type WayProps = { readonly draft: CourseDraft; readonly unit: string; readonly wrong: Wrong };

const Dates = ({ draft, unit, wrong }: WayProps) => (
  <>
    {draft.points.value.map((point, index) => (
      <div key={point} class="course-date">
        <MomentField label={`Date ${index + 1}`} value={point.when} {...wrong(whenField(index))} />
        <Field label="Target" value={point.target} type="number" unit={unit} {...wrong(targetField(index))} />
      </div>
    ))}
    <button
      type="button"
      class="pill"
      onClick={() => {
        draft.points.value = [...draft.points.value, newPoint()];
      }}
    >
      One more date
    </button>
    <p class="channel-wants">A date left empty is left out. Between two dates the target goes straight.</p>
  </>
);

const Followed = ({ place, draft, unit, wrong }: WayProps & { readonly place: Place }) => {
  const { places, channels } = useRoom().picture.value ?? { places: [], channels: [] };
  const measured = new Set(channels.filter(({ quantity }) => quantity === draft.quantity).map((one) => one.placeId));
  const before: Course | undefined = courseOf(place, draft.quantity);
  if (before?.kind === 'follows') measured.add(before.placeId);
  const choices = places
    .filter(({ id, kind }) => id !== place.id && ['intake', 'line', 'tank'].includes(kind) && measured.has(id))
    .map(({ id, name }) => [id, name] as const);
  if (choices.length === 0) return <p class="page-note">No other place has a probe for this that could be followed.</p>;
  return (
    <>
      <Choice
        label="Follows"
        value={draft.placeId}
        choices={[['', 'choose a place'], ...choices]}
        {...wrong('placeId')}
      />
      <Field
        label="So much above it; below it with a minus"
        value={draft.offset}
        type="number"
        unit={unit}
        {...wrong('offset')}
      />
    </>
  );
};

/** The legs in words, and what somebody should think about before they stand by them. */
const ComesTo = ({ place, draft, lines: { limitLow, limitHigh } }: PartProps) => {
  const reader = useRoom().reader.value;
  const { quantity } = draft;
  const points = readPoints(draft, reader);
  const step = hourlyStep(place);
  const most = quantity === 'temperature' ? step?.temperatureC : step?.salinity;
  const outside = points.find(({ target }) => target < (limitLow ?? target) || target > (limitHigh ?? target));
  return (
    <div class="course-words" role="status">
      {legsOf(points).map((leg) => (
        <p key={leg.to.atMs}>
          {legWords(quantity, leg, reader)}
          {most !== undefined && Math.abs(leg.perHour) > most ? (
            <strong> {tooFastSentence(quantity, most, reader)}</strong>
          ) : null}
        </p>
      ))}
      {outside === undefined ? null : <strong>{outsideSentence(quantity, outside.target, reader)}</strong>}
    </div>
  );
};
