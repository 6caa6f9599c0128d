import { type Signal, useSignal } from '@preact/signals';
import type { Span } from '../../rules/review/piece.js';
import { wallText } from '../../rules/words/clock.js';
import { LENGTHS, rangeOf } from '../state/history-range.js';
import { useRoom } from '../state/room.js';
import { MomentField } from './moment-field.js';
import { Pills } from './pills.js';

type RangeProps = { readonly span: Signal<Span>; readonly nowMs: number };

/** From when to when: a usual length back from now, earlier and later by half of it, or any two moments. */
export const HistoryRange = ({ span, nowMs }: RangeProps) => {
  const { fromMs, toMs } = span.value;
  const length = toMs - fromMs;
  const choose = (value: string): void => {
    const end = Math.min(nowMs, toMs);
    span.value = { fromMs: end - Number(value), toMs: end };
  };
  const shift = (share: number): void => {
    const end = Math.min(nowMs, toMs + share * length);
    span.value = { fromMs: end - length, toMs: end };
  };
  return (
    <>
      <Pills label="How long" value={{ value: String(length) }} choices={LENGTHS} onChoose={choose} />
      <div class="pill-row pill-row-short">
        <button type="button" class="pill" onClick={() => shift(-0.5)}>
          Earlier
        </button>
        <button type="button" class="pill" disabled={toMs >= nowMs} onClick={() => shift(0.5)}>
          Later
        </button>
        <button type="button" class="pill pill-quiet" disabled={toMs >= nowMs} onClick={() => shift(1e6)}>
          Until now
        </button>
      </div>
      <Moments key={`${fromMs} ${toMs}`} span={span} />
    </>
  );
};

/** Written anew whenever the span was changed from elsewhere. */
const Moments = ({ span }: { span: Signal<Span> }) => {
  const { zone } = useRoom().reader.value;
  const from = useSignal(wallText(span.value.fromMs, zone));
  const to = useSignal(wallText(span.value.toMs, zone));
  const said = useSignal<{ readonly field: 'from' | 'to'; readonly detail: string } | undefined>(undefined);
  const show = (event: Event): void => {
    event.preventDefault();
    const asked = rangeOf(from.value, to.value, zone);
    if ('span' in asked) span.value = asked.span;
    else said.value = asked;
  };
  const faultOf = (field: 'from' | 'to') => (said.value?.field === field ? { fault: said.value.detail } : {});
  return (
    <form class="moments" onSubmit={show}>
      <MomentField label="From" value={from} {...faultOf('from')} />
      <MomentField label="to" value={to} {...faultOf('to')} />
      <button type="submit" class="pill">
        Show this time
      </button>
    </form>
  );
};
