import { useSignal } from '@preact/signals';
import type { WatchPlan } from '../../rules/alerts/watch-plan.js';
import { Choice, Field } from './field.js';
import { MomentField, timeMinute, timeText } from './moment-field.js';

const DRILL_DAYS = [
  ['', 'only by hand'],
  ['1', 'Monday'],
  ['2', 'Tuesday'],
  ['3', 'Wednesday'],
  ['4', 'Thursday'],
  ['5', 'Friday'],
  ['6', 'Saturday'],
  ['7', 'Sunday'],
] as const;

type HoursProps = { readonly plan: WatchPlan; readonly save: (plan: WatchPlan) => void };

/** From when to when the room is manned, when everybody is test-called, and whom to telephone when nobody answers. */
export const WatchHours = ({ plan, save }: HoursProps) => {
  const from = useSignal(timeText(plan.dayFromMinute));
  const to = useSignal(timeText(plan.dayToMinute));
  const day = useSignal(plan.drill === undefined ? '' : String(plan.drill.weekday));
  const hour = useSignal(timeText(plan.drill?.minute ?? 11 * 60));
  const name = useSignal(plan.emergency?.name ?? '');
  const phone = useSignal(plan.emergency?.phone ?? '');
  const keep = (): void => {
    const { drill: _drill, emergency: _emergency, ...rest } = plan;
    save({
      ...rest,
      dayFromMinute: timeMinute(from.value) ?? plan.dayFromMinute,
      dayToMinute: timeMinute(to.value) ?? plan.dayToMinute,
      ...(day.value === '' ? {} : { drill: { weekday: Number(day.value), minute: timeMinute(hour.value) ?? 11 * 60 } }),
      ...(phone.value.trim() === ''
        ? {}
        : { emergency: { name: name.value.trim() || 'Emergency contact', phone: phone.value.trim() } }),
    });
  };
  return (
    <form
      class="waking-form"
      onSubmit={(event) => {
        event.preventDefault();
        keep();
      }}
    >
      <div class="form-grid">
        <MomentField kind="time" label="The day begins, and the morning report comes, at" value={from} />
        <MomentField kind="time" label="The night begins at" value={to} />
        <Choice label="Test-call everybody on" value={day} choices={DRILL_DAYS} />
        {day.value === '' ? null : <MomentField kind="time" label="at" value={hour} />}
        <Field label="When nobody answers, telephone" hint="A name" value={name} />
        <Field label="Its number" hint="With its country, as in +1 555 010 0123" value={phone} />
      </div>
      <button type="submit" class="pill">
        Save the hours
      </button>
    </form>
  );
};
