/** How far a figure can be trusted. Shown with the figure wherever a person may act on it. */
export const STANDINGS = [
  'confirmed',
  'confirmed-secondary',
  'analogy',
  'memory',
  'practice',
  'derived',
  'placeholder',
  'mixed',
  'unknown',
] as const;
export type Standing = (typeof STANDINGS)[number];

/** One line each, for the legend beside a table of figures. */
export const STANDING_MEANING: { readonly [standing in Standing]: string } = {
  confirmed: 'read in the source named, often in its abstract',
  'confirmed-secondary': 'read in another document that quotes the source named',
  analogy: 'read, but for another species or stage',
  memory: 'recalled from the source or the field, not checked against a copy',
  practice: 'common practice, no source',
  derived: 'calculated from other figures',
  placeholder: 'a starting value so that a limit exists; replace it from your own records',
  mixed: 'its two ends have different standing',
  unknown: 'no figure found; nothing is watched until the hatchery sets one',
};

/** True only for a figure that was read at its source or in a quotation of it. */
export const isConfirmed = (standing: Standing): boolean =>
  standing === 'confirmed' || standing === 'confirmed-secondary';
