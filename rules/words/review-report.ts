import type { ReportBlank, ReportHeading } from '../review/report.js';

export const HEADING_WORDS: Readonly<Record<ReportHeading, string>> = {
  premises: 'Premises',
  reporter: 'Reporter and time',
  animals: 'Species, stage, age, origin and movements',
  losses: 'Number at risk, dead and moribund, by tank',
  course: 'First noticed, last known good, course',
  signs: 'Signs seen',
  water: 'Water over 14 days, instruments and gaps',
  husbandry: 'Husbandry and feed',
  treatments: 'Treatments and chemicals',
  unusual: 'Unusual events',
  measures: 'Measures already taken',
  samples: 'Samples',
  results: 'Laboratory results',
  suspicion: 'Suspicion, and on what ground',
  attachments: 'Attachments',
  'not-known': 'What is not known',
  signature: 'Signature',
};

export const BLANK_WORDS: Readonly<Record<ReportBlank, string>> = {
  registration: 'Registration or approval number',
  address: 'Place',
  'water-source': 'Water source',
  contact: 'How to reach the reporter',
  movements: 'Movements in and out of the last months, with documents',
  moribund: 'Moribund',
  method: 'Counting method and its interval',
  'signs-seen': 'Gaping, mucus, pale gut, velum loss, no swimming, deposits',
  feed: 'Feed: species, culture age and look, volumes, residuals',
  'treatments-more': 'Others, with dates',
  outside: 'Rain, tide, bloom notices, dredging, spraying, power, neighbours',
  isolation: 'Isolation',
  disinfection: 'Disinfection',
  discharge: 'Discharge stopped',
  'sample-kept': 'What, when, how kept',
  'sample-sent': 'Where sent',
  custody: 'Who had it in hand, and when',
  histology: 'Histology',
  bacteriology: 'Bacteriology',
  pcr: 'PCR',
  toxicology: 'Water chemistry and toxicology',
  suspicion: 'Suspicion',
  grounds: 'Grounds',
  name: 'Name',
  date: 'Date',
  signature: 'Signature',
};

/** The first hour, before any analysis. Source: the working rules of the trade; local law and the vet go first. */
export const FIRST_HOUR: readonly string[] = [
  'Look at the other tanks now.',
  'Hold every movement of animals, water and tools between affected and unaffected tanks.',
  'Before anything is drained or bleached: save water (1 L cold, 1 L frozen), live weak animals, freshly dead ones, and healthy-looking ones from an unaffected tank.',
  'Photograph tanks, floors, screens and animals.',
  'Freeze the record: it is copied as it stands now, and every later edit stays visible.',
  'Write down who saw what first, and when.',
  'Unexplained deaths: call the vet or the animal-health authority. In many countries that is law.',
];
export const FIRST_HOUR_CAUTION =
  'Wet floor and power: switch off at the circuit before a hand goes into water with a faulty heater in it. Wear gloves with dead animals and with disinfectant, and never mix chlorine with acid.';
