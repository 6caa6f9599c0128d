import { effect, signal } from '@preact/signals';

/** Night or day: as the device says, or as a person chose for this device. */
export const LIGHTS = ['device', 'night', 'day'] as const;
export type Light = (typeof LIGHTS)[number];

const KEPT = 'nightwater-light';
const isLight = (text: string | null): text is Light => LIGHTS.some((light) => light === text);

/** What a person chose; kept on this device only. */
export const chosenLight = signal<Light>('device');
/** What is shown now. */
export const shownLight = signal<'night' | 'day'>('night');

/** Follows the choice and the device; returns what undoes it. */
export const followLight = (root: HTMLElement, storage: Storage | undefined): (() => void) => {
  const dark = matchMedia('(prefers-color-scheme: dark)');
  const deviceNight = signal(dark.matches);
  const onChange = (): void => {
    deviceNight.value = dark.matches;
  };
  dark.addEventListener('change', onChange);
  const kept = storage?.getItem(KEPT) ?? null;
  if (isLight(kept)) chosenLight.value = kept;
  const stop = effect(() => {
    const chosen = chosenLight.value;
    const light = chosen === 'device' ? (deviceNight.value ? 'night' : 'day') : chosen;
    root.dataset.light = light;
    shownLight.value = light;
    storage?.setItem(KEPT, chosen);
  });
  return () => {
    stop();
    dark.removeEventListener('change', onChange);
  };
};
