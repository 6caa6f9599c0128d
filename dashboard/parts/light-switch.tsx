import { chosenLight, LIGHTS, type Light } from '../state/light.js';

const WORDS: { readonly [light in Light]: string } = {
  device: 'Light: auto',
  night: 'Light: night',
  day: 'Light: day',
};

/** Night or day for this device; the word says which is chosen, a press takes the next. */
export const LightSwitch = () => {
  const next = (): void => {
    const at = LIGHTS.indexOf(chosenLight.value);
    chosenLight.value = LIGHTS[(at + 1) % LIGHTS.length] ?? 'device';
  };
  return (
    <button type="button" class="plain" onClick={next}>
      {WORDS[chosenLight.value]}
    </button>
  );
};
