import { useSignal } from '@preact/signals';
import { useMemo } from 'preact/hooks';
import type { Place } from '../../rules/place.js';
import { fault, ok, type Result } from '../../rules/result.js';
import { confirmedPlace, linesOf, STAGE_LINES, type StageLine, withCourse } from '../../rules/stage/confirm.js';
import { BAND_QUANTITIES, type BandQuantity, isSpeciesGroupId } from '../../rules/stage/profiles.js';
import { courseOf } from '../../rules/stage/wants.js';
import type { Versioned } from '../../rules/wire/api.js';
import { noNumberSentence, typedNumber } from '../../rules/words/figure.js';
import type { Reader } from '../../rules/words/language.js';
import { stageName } from '../../rules/words/name.js';
import { canonicalValue } from '../../rules/words/number.js';
import { LimitsRow } from '../parts/limits-row.js';
import { Page } from '../parts/page.js';
import { SoundingsAsk } from '../parts/soundings-ask.js';
import { useAsked } from '../state/asked.js';
import {
  type CourseDraft,
  courseOfDraft,
  draftOf,
  isMoving,
  MOVING,
  type MovingQuantity,
} from '../state/course-form.js';
import { useApi } from '../state/gateway.js';
import { type Room, useRoom } from '../state/room.js';
import { mayAnswer, mayChange, session } from '../state/session.js';

/** The limits of a tank in its stage, beside its last thirty days: one look, one tap to stand by them. */
export const LimitsPage = ({ id }: { readonly id: string }) => {
  const api = useApi();
  const { answer, again } = useAsked(() => api.place(id), id);
  if (answer.value.kind === 'waiting') return <Page here="limits">{null}</Page>;
  if (answer.value.kind === 'refused')
    return (
      <Page here="limits">
        <p class="page-note">{answer.value.problem.detail}</p>
      </Page>
    );
  const { value } = answer.value;
  return (
    <Page here="limits" about={id}>
      <Limits key={value.version} place={value} onAgain={again} />
    </Page>
  );
};

type LimitsProps = { readonly place: Versioned<Place>; readonly onAgain: () => void };
type Texts = { readonly [line: string]: string };

const Limits = ({ place: { body: place, version }, onAgain }: LimitsProps) => {
  const room = useRoom();
  const api = useApi();
  const reader = room.reader.value;
  const texts = useSignal<Texts>({});
  const said = useSignal<string | undefined>(undefined);
  const faults = useSignal<Texts>({});
  const { stage, speciesGroup } = place;
  const drafts = useMemo(() => draftsOf(place, room), []);
  const typedPlace = (): Place | string => {
    const { typed, wrong } = typedLines(texts.value, reader);
    faults.value = wrong;
    const course = placeOnCourse(confirmedPlace(place, typed), drafts, reader);
    const first = Object.values(wrong)[0];
    if (first !== undefined) return first;
    return course.ok ? course.value : course.fault;
  };
  const confirm = async (): Promise<void> => {
    const typed = typedPlace();
    if (typeof typed === 'string') {
      said.value = typed;
      return;
    }
    const asked = await api.changePlace(typed, version);
    if (asked.ok) return onAgain();
    said.value = asked.fault.detail;
    faults.value = Object.fromEntries(
      (asked.fault.faults ?? []).map(({ pointer, detail }) => [pointer.split('/').slice(-2).join(' '), detail]),
    );
  };
  if (stage === undefined || stage === 'empty' || speciesGroup === undefined || !isSpeciesGroupId(speciesGroup))
    return (
      <>
        <h1 class="page-title">{place.name}</h1>
        <p class="page-note">This tank is empty, or nobody has said what it holds: there is nothing to watch.</p>
      </>
    );
  const quantities = BAND_QUANTITIES.filter((quantity) => hasChannel(room, place.id, quantity));
  const isConfirmed = quantities.length > 0 && quantities.every((quantity) => linesOf(place, quantity).confirmed);
  return (
    <>
      <h1 class="page-title">
        {place.name}: limits for {stageName(stage, reader)}
      </h1>
      <p class="page-note">
        {isConfirmed
          ? 'The hatchery stands by these lines.'
          : 'These lines sound, and are marked as not confirmed. Look at them beside the last 30 days; change what is not yours.'}
        {place.held === undefined
          ? null
          : ' Some lines are held at the tighter value of the stage before, until you confirm.'}
      </p>
      {quantities.length === 0 ? <p class="page-note">No probe is named for this tank yet.</p> : null}
      {quantities.map((quantity) => (
        <LimitsRow
          key={quantity}
          place={place}
          quantity={quantity}
          texts={texts}
          faults={faults.value}
          draft={mayChange(session.value) && isMoving(quantity) ? drafts[quantity] : undefined}
        />
      ))}
      {mayAnswer(session.value) && quantities.length > 0 ? <SoundingsAsk typed={typedPlace} /> : null}
      {mayChange(session.value) && quantities.length > 0 ? (
        <div class="answer">
          <p class="form-said form-said-wrong" role="alert">
            {said.value}
          </p>
          <button type="button" class="night-button night-button-first" onClick={() => void confirm()}>
            Stand by these for {stageName(stage, reader)}
          </button>
        </div>
      ) : null}
    </>
  );
};

type Drafts = { readonly [quantity in MovingQuantity]: CourseDraft };

const draftsOf = (place: Place, room: Room): Drafts => {
  const reader = room.reader.peek();
  const of = (quantity: MovingQuantity): CourseDraft => {
    const { targetLow, targetHigh } = linesOf(place, quantity);
    const target = targetLow === undefined || targetHigh === undefined ? {} : { target: (targetLow + targetHigh) / 2 };
    return draftOf(quantity, courseOf(place, quantity), reader, { atMs: room.nowMs.peek(), ...target });
  };
  return { temperature: of('temperature'), salinity: of('salinity') };
};

/** The place with what the forms of its moving targets say, or the first thing that is wrong; each stands by its field. */
const placeOnCourse = (place: Place, drafts: Drafts, reader: Reader): Result<Place, string> => {
  const answers = MOVING.map((quantity) => ({ quantity, made: courseOfDraft(drafts[quantity], reader) }));
  for (const { quantity, made } of answers) drafts[quantity].faults.value = made.ok ? [] : made.fault;
  const wrong = answers.flatMap(({ made }) => (made.ok ? [] : made.fault))[0];
  if (wrong !== undefined) return fault(wrong.detail);
  return ok(
    answers.reduce((kept, { quantity, made }) => (made.ok ? withCourse(kept, quantity, made.value) : kept), place),
  );
};

const hasChannel = (room: Room, placeId: string, quantity: BandQuantity): boolean =>
  (room.picture.value?.channels ?? []).some((one) => one.placeId === placeId && one.quantity === quantity);

/** Typed lines in canonical units by quantity and line, and what is wrong with others, by the name of their field. */
const typedLines = (texts: Texts, reader: Reader): { typed: Parameters<typeof confirmedPlace>[1]; wrong: Texts } => {
  const typed: { [quantity in BandQuantity]?: { [line in StageLine]?: number } } = {};
  const wrong: Record<string, string> = {};
  for (const quantity of BAND_QUANTITIES) {
    for (const line of STAGE_LINES) {
      const text = texts[`${quantity} ${line}`];
      if (text === undefined) continue;
      const value = typedNumber(text, reader);
      if (value === null) wrong[`${quantity} ${line}`] = noNumberSentence(text, reader);
      else if (value !== undefined)
        typed[quantity] = { ...typed[quantity], [line]: canonicalValue(quantity, value, reader) };
    }
  }
  return { typed, wrong };
};
