import { useSignal } from '@preact/signals';
import { isWay, WAYS } from '../../rules/alerts/person.js';
import { LADDER_ROLES, type LadderRole, type LadderStep, type Policy } from '../../rules/alerts/policy.js';
import { plainWords, typedNumber } from '../../rules/words/figure.js';
import { wayName } from '../../rules/words/waking.js';
import { useRoom } from '../state/room.js';
import { Field } from './field.js';
import { ROLE_WORDS } from './ladder-steps.js';
import { ManyPills } from './pills.js';

const MINUTE_MS = 60_000;
const HOUR_MS = 3_600_000;
const ROLES = LADDER_ROLES.map((role) => [role, ROLE_WORDS[role]] as const);
const WAY_CHOICES = WAYS.map((way) => [way, wayName(way)] as const);
const isRole = (text: string): text is LadderRole => LADDER_ROLES.some((role) => role === text);

type FormProps = {
  /** As it is; undefined: nobody is called. */
  readonly policy: Policy | undefined;
  /** Where a new ladder begins. */
  readonly start: Policy | undefined;
  readonly save: (policy: Policy | undefined) => void;
};

/** A ladder taken up to be changed; until then one button. */
export const LadderForm = ({ policy, start, save }: FormProps) => {
  const draft = useSignal<Policy | undefined>(undefined);
  if (draft.value === undefined)
    return (
      <div class="pill-row">
        <button type="button" class="pill" onClick={() => (draft.value = policy ?? start)}>
          {policy === undefined ? 'Call people for this' : 'Change this ladder'}
        </button>
        {policy === undefined ? null : (
          <button type="button" class="pill pill-quiet" onClick={() => save(undefined)}>
            Call nobody for this
          </button>
        )}
      </div>
    );
  return <Draft policy={draft.value} save={save} leave={() => (draft.value = undefined)} />;
};

type DraftProps = {
  readonly policy: Policy;
  readonly save: (policy: Policy) => void;
  readonly leave: () => void;
};

const Draft = ({ policy, save, leave }: DraftProps) => {
  const reader = useRoom().reader.value;
  const shown = (value: number): string => plainWords(value, 12, reader);
  const typed = (text: string): number | undefined => typedNumber(text, reader) ?? undefined;
  const steps = useSignal(policy.steps);
  const times = useSignal(policy.steps.map(({ afterMs }) => shown(afterMs / MINUTE_MS)));
  const loopFrom = useSignal(shown(policy.loopFromStep + 1));
  const loopEvery = useSignal(shown(policy.loopEveryMs / MINUTE_MS));
  const stopAfter = useSignal(shown(policy.stopAfterMs / HOUR_MS));
  const said = useSignal<string | undefined>(undefined);
  const change = (index: number, more: Partial<LadderStep>): void => {
    steps.value = steps.value.map((step, n) => (n === index ? { ...step, ...more } : step));
  };
  const take = (index: number): void => {
    steps.value = steps.value.filter((_, n) => n !== index);
    times.value = times.value.filter((_, n) => n !== index);
  };
  const add = (): void => {
    const last = typed(times.value.at(-1) ?? '') ?? 0;
    steps.value = [...steps.value, { afterMs: 0, to: ['everybody'], ways: ['push', 'text', 'ring'] }];
    times.value = [...times.value, shown(last + 10)];
  };
  const done = (): void => {
    const minutes = times.value.map(typed);
    const [from, every, hours] = [loopFrom, loopEvery, stopAfter].map(({ value }) => typed(value));
    if (minutes.some((one) => one === undefined) || from === undefined || every === undefined || hours === undefined) {
      said.value = 'Write every time as a number.';
      return;
    }
    save({
      steps: steps.value.map((step, n) => ({ ...step, afterMs: Math.round((minutes[n] ?? 0) * MINUTE_MS) })),
      loopFromStep: Math.max(0, Math.round(from) - 1),
      loopEveryMs: Math.round(every * MINUTE_MS),
      stopAfterMs: Math.round(hours * HOUR_MS),
    });
  };
  return (
    <form
      class="waking-form"
      onSubmit={(event) => {
        event.preventDefault();
        done();
      }}
    >
      {steps.value.map((step, index) => (
        <fieldset key={`${index} of ${steps.value.length}`} class="own-lines ladder-draft">
          <legend>Step {index + 1}</legend>
          <Minutes times={times.value} index={index} onChange={(next) => (times.value = next)} />
          <ManyPills
            label="Who"
            chosen={step.to}
            choices={ROLES}
            onChange={(to) => change(index, { to: to.filter(isRole) })}
          />
          <ManyPills
            label="How"
            chosen={step.ways}
            choices={WAY_CHOICES}
            onChange={(ways) => change(index, { ways: ways.filter(isWay) })}
          />
          {steps.value.length > 1 ? (
            <button type="button" class="plain edit-word" onClick={() => take(index)}>
              take this step out
            </button>
          ) : null}
        </fieldset>
      ))}
      <button type="button" class="pill pill-quiet" onClick={add}>
        One more step
      </button>
      <div class="form-grid">
        <Field label="Repeat from step" type="number" value={loopFrom} />
        <Field label="every" type="number" unit="min" value={loopEvery} />
        <Field label="Stop after" type="number" unit="h" value={stopAfter} />
      </div>
      <p class="form-said said-alarm" role="alert">
        {said.value}
      </p>
      <div class="pill-row">
        <button type="submit" class="pill pill-first">
          Save
        </button>
        <button type="button" class="pill" onClick={leave}>
          Leave as it is
        </button>
      </div>
    </form>
  );
};

type MinutesProps = {
  readonly times: readonly string[];
  readonly index: number;
  readonly onChange: (times: string[]) => void;
};

const Minutes = ({ times, index, onChange }: MinutesProps) => {
  const value = {
    get value(): string {
      return times[index] ?? '';
    },
    set value(next: string) {
      onChange(times.map((one, n) => (n === index ? next : one)));
    },
  };
  return (
    <Field label="After the alarm" type="number" unit="min" value={value as Parameters<typeof Field>[0]['value']} />
  );
};
