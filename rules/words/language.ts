/** Languages that every table of sentences must have; the compiler asks for each when one is added. */
export const LANGUAGES = ['en'] as const;
export type Language = (typeof LANGUAGES)[number];
export type ByLanguage<T> = { readonly [language in Language]: T };

/** How the people of a site read: their zone, clock, degrees, decimal mark and language. */
export type Reader = {
  /** IANA time zone name, as in `America/New_York`. */
  readonly zone: string;
  readonly hours: 12 | 24;
  readonly temperatureUnit: 'C' | 'F';
  /** Between whole and part of a number; without it a point. */
  readonly decimalMark?: 'point' | 'comma';
  readonly language?: Language;
};

/** How the people of a site read, without the rest of its settings. */
export const readerOf = ({ zone, hours, temperatureUnit, decimalMark }: Reader): Reader => ({
  zone,
  hours,
  temperatureUnit,
  ...(decimalMark === undefined ? {} : { decimalMark }),
});

/** The reader's row of a table of words. */
export const inLanguage = <T>(table: ByLanguage<T>, reader: { readonly language?: Language }): T =>
  table[reader.language ?? 'en'];

/** `{name}` in a sentence becomes its parameter; a blank without one stays visible, so that a test finds it. */
export const filled = (sentence: string, parameters: Readonly<Record<string, string>>): string =>
  sentence.replace(/\{(\w+)\}/g, (blank, name: string) => parameters[name] ?? blank);
