/**
 * Headings of a mortality report, in order: what the record fills, and what a person or a laboratory writes in. After the
 * headings of notification and investigation forms of aquatic animal health (WOAH, EU record keeping); the local form rules.
 */
export const REPORT_HEADINGS = [
  { code: 'premises', fills: ['site', 'lines'], blanks: ['registration', 'address', 'water-source'] },
  { code: 'reporter', fills: ['by', 'frozen'], blanks: ['contact'] },
  { code: 'animals', fills: ['stage', 'batch', 'origin'], blanks: ['movements'] },
  { code: 'losses', fills: ['deaths', 'counts'], blanks: ['moribund', 'method'] },
  { code: 'course', fills: ['onset', 'pattern'], blanks: [] },
  { code: 'signs', fills: ['signs'], blanks: ['signs-seen'] },
  { code: 'water', fills: ['exposures', 'first-mover', 'whole'], blanks: [] },
  { code: 'husbandry', fills: ['log', 'work'], blanks: ['feed'] },
  { code: 'treatments', fills: ['treatments'], blanks: ['treatments-more'] },
  { code: 'unusual', fills: ['alarms'], blanks: ['outside'] },
  { code: 'measures', fills: [], blanks: ['isolation', 'disinfection', 'discharge'] },
  { code: 'samples', fills: ['samples'], blanks: ['sample-kept', 'sample-sent', 'custody'] },
  { code: 'results', fills: [], blanks: ['histology', 'bacteriology', 'pcr', 'toxicology'] },
  { code: 'suspicion', fills: [], blanks: ['suspicion', 'grounds'] },
  { code: 'attachments', fills: ['raw'], blanks: [] },
  { code: 'not-known', fills: ['cannot-say'], blanks: [] },
  { code: 'signature', fills: [], blanks: ['name', 'date', 'signature'] },
] as const;

export type ReportHeading = (typeof REPORT_HEADINGS)[number]['code'];
export type ReportBlank = (typeof REPORT_HEADINGS)[number]['blanks'][number];
