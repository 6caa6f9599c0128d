import type { Strip } from '../state/strip.js';

/** A line by its name, or what the places have in common that belong to none. */
export const nameOfStrip = ({ id, name }: Strip): string =>
  id === '~tanks' ? 'Tanks without a line' : id === '~supply' ? 'Supply and air' : name;
