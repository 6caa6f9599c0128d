import { describe, expect, it } from 'vitest';
import { siteOfTexts, siteTexts } from '../../dashboard/state/site-form.js';

const SITE = { id: 's-7k2q', name: 'Cove', zone: 'Europe/Lisbon', temperatureUnit: 'C', hours: 24 } as const;

describe('the form of the site', () => {
  it('gives back what it was given, and leaves out what was left empty', () => {
    expect(siteOfTexts(SITE, siteTexts(SITE))).toEqual({ site: SITE });
    const full = { ...SITE, altitudeM: 12, keepReadingsDays: 800, keepHoursDays: 4000 };
    expect(siteOfTexts(full, siteTexts(full))).toEqual({ site: full });
  });

  it('takes a decimal comma, degrees Fahrenheit and twelve hours', () => {
    const typed = { ...siteTexts(SITE), altitudeM: '3,5', temperatureUnit: 'F', hours: '12' };
    expect(siteOfTexts(SITE, typed)).toMatchObject({ site: { altitudeM: 3.5, temperatureUnit: 'F', hours: 12 } });
  });

  it('says at each field what is wrong, all at once', () => {
    const typed = { ...siteTexts(SITE), name: ' ', zone: 'Lisbon', keepReadingsDays: '7', keepHoursDays: 'long' };
    const faults = siteOfTexts(SITE, typed);
    expect(Array.isArray(faults) ? faults.map(({ field }) => field) : faults).toEqual([
      'name',
      'zone',
      'keepReadingsDays',
      'keepHoursDays',
    ]);
  });
});
