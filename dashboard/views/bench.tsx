import { useComputed, useSignal } from '@preact/signals';
import { useMemo } from 'preact/hooks';
import type { Calculation } from '../../rules/calc/calculation.js';
import { FEEDING_CALCULATIONS } from '../../rules/calc/feeding.js';
import { MIXING_CALCULATIONS } from '../../rules/calc/mixing.js';
import { STOCK_CALCULATIONS } from '../../rules/calc/stock.js';
import { TANK_WATER_CALCULATIONS } from '../../rules/calc/tank-water.js';
import { argumentName } from '../../rules/words/argument.js';
import { figureUnit, figureWords } from '../../rules/words/degrees.js';
import { capital } from '../../rules/words/name.js';
import { Line, PlaceField, Select } from '../parts/entry-fields.js';
import { FeedSheet } from '../parts/feed-sheet.js';
import { Page } from '../parts/page.js';
import { Said } from '../parts/said.js';
import { knownOf, resultWords, type SumWords } from '../state/calc-form.js';
import type { Texts } from '../state/entry-draft.js';
import { useRoom } from '../state/room.js';
import { mayAnswer, session } from '../state/session.js';
import { useWriter } from '../state/writing.js';

const ALL = [...FEEDING_CALCULATIONS, ...MIXING_CALCULATIONS, ...STOCK_CALCULATIONS, ...TANK_WATER_CALCULATIONS];

/** The sums of the bench, by what a person is about to do. */
const GROUPS: readonly (readonly [string, readonly string[]])[] = [
  ['Counting', ['replicate-count', 'chamber-count', 'field-count', 'count-needed']],
  ['Stocking', ['stock-by-volume', 'stock-by-area', 'seed-by-weight', 'survival', 'mortality', 'dead-fraction']],
  [
    'Salinity',
    ['water-to-add', 'water-to-exchange', 'brine-to-add', 'dry-salt-to-add', 'water-evaporated', 'salinity-of-mix'],
  ],
  ['Heating and cooling', ['heat-batch', 'heat-flow', 'stuck-heater', 'cool-down']],
  ['More about food', ['mixed-feed', 'residual-equivalents', 'conditioning-ration', 'clearance', 'grazing-forecast']],
  ['Growth', ['larval-growth', 'specific-growth', 'degree-days']],
];

/** The bench: food for today, and the sums that belong to the work; filled in from readings, written down with one tap. */
export const Bench = () => {
  const place = useSignal('');
  return (
    <Page here="bench">
      <h1 class="page-title">Bench</h1>
      <FeedSheet />
      <h2 class="page-part">Other sums</h2>
      <PlaceField label="Filled in from" value={place.value} onChoose={(value) => (place.value = value)} />
      {GROUPS.map(([title, names]) => (
        <section key={title}>
          <h3 class="bench-group">{title}</h3>
          {names.map((name) => {
            const calculation = ALL.find((one) => one.name === name);
            return calculation === undefined ? null : (
              <Sum key={`${name} ${place.value}`} calculation={calculation} placeId={place.value} />
            );
          })}
        </section>
      ))}
    </Page>
  );
};

const said = (name: string): string => capital(name.replaceAll('-', ' '));

const Sum = ({ calculation, placeId }: { calculation: Calculation; placeId: string }) => {
  const room = useRoom();
  const known = useMemo(() => {
    const picture = room.picture.peek();
    return knownOf(
      picture?.places.find(({ id }) => id === placeId),
      picture?.channels ?? [],
      room.reader.peek(),
    );
  }, [placeId]);
  const texts = useSignal<Texts>(known);
  const result = useComputed(() => resultWords(calculation, texts.value, room.reader.value));
  const isOpen = useSignal(false);
  return (
    <details class="entry-more" onToggle={(event) => (isOpen.value = event.currentTarget.open)}>
      <summary>{said(calculation.name)}</summary>
      {isOpen.value ? (
        <>
          <p class="page-note">{calculation.purpose}</p>
          <Options calculation={calculation} texts={texts} wrong={result.value} />
          <p class={result.value.ok ? 'count-says' : 'page-note'} role="status">
            {isAt(result.value, texts.value) ? null : result.value.words}
          </p>
          {calculation.caution === undefined ? null : <p class="cautions">{calculation.caution}</p>}
          {result.value.ok ? (
            <KeepSum calculation={calculation} texts={texts.value} words={result.value.words} placeId={placeId} />
          ) : null}
        </>
      ) : null}
    </details>
  );
};

/** Said beside the figure that was typed wrongly; what is still missing is said once, below. */
const isAt = ({ what }: SumWords, texts: Texts, key = what): boolean =>
  what !== undefined && what === key && (texts[what] ?? '') !== '';

type OptionsProps = {
  readonly calculation: Calculation;
  readonly texts: { value: Texts };
  /** The figure that the sum cannot be worked out from. */
  readonly wrong: SumWords;
};

const Options = ({ calculation, texts, wrong }: OptionsProps) => {
  const reader = useRoom().reader.value;
  return (
    <div class="form-grid">
      {calculation.options.map(({ key, unit, choices, list, required, default: usual }) => {
        const set = (text: string): void => {
          texts.value = { ...texts.value, [key]: text };
        };
        const value = texts.value[key] ?? '';
        if (choices !== undefined)
          return (
            <Select
              key={key}
              label={capital(argumentName(key))}
              value={value}
              onChoose={set}
              choices={choices.map((one) => [one, one] as const)}
            />
          );
        const shape = { kind: 'number', low: 0, high: 0, unit: figureUnit(key, unit, reader), whole: false } as const;
        return (
          <Line
            key={key}
            label={capital(argumentName(key))}
            shape={shape}
            optional={!required}
            value={value}
            onText={set}
            {...(isAt(wrong, texts.value, key) ? { fault: wrong.words } : {})}
            {...(list === true
              ? { hint: 'Several, with blanks between.' }
              : usual === undefined
                ? {}
                : {
                    hint: `${typeof usual === 'number' ? figureWords({ key, unit }, usual, 6, reader) : usual} when left empty`,
                  })}
          />
        );
      })}
    </div>
  );
};

type KeepProps = {
  readonly calculation: Calculation;
  readonly texts: Texts;
  readonly words: string;
  readonly placeId: string;
};

/** With its figures, so that somebody can see later what it was worked out from. */
const KeepSum = ({ calculation, texts, words, placeId }: KeepProps) => {
  const { state, write } = useWriter();
  const reader = useRoom().reader.value;
  if (!mayAnswer(session.value)) return null;
  const figures = calculation.options.flatMap(({ key, unit }) =>
    (texts[key] ?? '') === '' ? [] : [`${argumentName(key)} ${texts[key]} ${figureUnit(key, unit, reader)}`.trim()],
  );
  const note = `${said(calculation.name)}: ${words} (from ${figures.join(', ')})`;
  return (
    <p>
      <button
        type="button"
        class="pill"
        onClick={() => void write({ kind: 'note', placeId, fields: { words: note.slice(0, 2000) } })}
      >
        Write it into the log
      </button>
      <Said state={state.value} />
    </p>
  );
};
