import type { Signal } from '@preact/signals';

type PillsProps = {
  readonly label: string;
  readonly value: Signal<string> | { readonly value: string };
  readonly onChoose: (value: string) => void;
  readonly choices: readonly (readonly [value: string, words: string])[];
  /** Pressed again, a choice is taken back. */
  readonly optional?: boolean;
  readonly fault?: string | undefined;
};

/** One of a few, each large enough for a wet thumb. */
export const Pills = ({ label, value, onChoose, choices, optional = false, fault }: PillsProps) => (
  <fieldset class={fault === undefined ? 'pills' : 'pills pills-wrong'}>
    <legend>{label}</legend>
    <div class="pill-row">
      {choices.map(([choice, words]) => (
        <button
          key={choice}
          type="button"
          class="pill"
          aria-pressed={value.value === choice}
          onClick={() => onChoose(optional && value.value === choice ? '' : choice)}
        >
          {words}
        </button>
      ))}
    </div>
    {fault === undefined ? null : <p class="field-said">{fault}</p>}
  </fieldset>
);

type ManyProps = {
  readonly label: string;
  readonly chosen: readonly string[];
  readonly onChange: (chosen: readonly string[]) => void;
  readonly choices: readonly (readonly [value: string, words: string])[];
  /** Whole phrases, not names. */
  readonly wide?: boolean;
};

/** Any of a few. */
export const ManyPills = ({ label, chosen, onChange, choices, wide = false }: ManyProps) => (
  <fieldset class="pills">
    <legend>{label}</legend>
    <div class={wide ? 'pill-row pill-row-wide' : 'pill-row pill-row-short'}>
      {choices.map(([choice, words]) => {
        const isChosen = chosen.includes(choice);
        const next = isChosen ? chosen.filter((one) => one !== choice) : [...chosen, choice];
        return (
          <button key={choice} type="button" class="pill" aria-pressed={isChosen} onClick={() => onChange(next)}>
            {words}
          </button>
        );
      })}
    </div>
  </fieldset>
);
