import { FEWEST_DAYS_KEPT, MOST_DAYS_KEPT, type Site } from '../../rules/hatchery.js';
import { isZone } from '../../rules/words/clock.js';
import { type Marked, plainWords, typedNumber } from '../../rules/words/figure.js';
import type { FormFault } from './place-form.js';

/** What stands in the form of the site, as text. */
export type SiteTexts = {
  readonly name: string;
  readonly zone: string;
  readonly temperatureUnit: string;
  readonly hours: string;
  readonly decimalMark: string;
  readonly altitudeM: string;
  readonly keepReadingsDays: string;
  readonly keepHoursDays: string;
};

const text = (value: number | undefined, reader: Marked): string =>
  value === undefined ? '' : plainWords(value, 12, reader);

export const siteTexts = (site: Site): SiteTexts => ({
  name: site.name,
  zone: site.zone,
  temperatureUnit: site.temperatureUnit,
  hours: String(site.hours),
  decimalMark: site.decimalMark ?? 'point',
  altitudeM: text(site.altitudeM, site),
  keepReadingsDays: text(site.keepReadingsDays, site),
  keepHoursDays: text(site.keepHoursDays, site),
});

type Limits = { readonly low: number; readonly high: number; readonly whole: boolean; readonly say: string };
const ALTITUDE: Limits = {
  low: -430,
  high: 8_800,
  whole: false,
  say: 'Metres over the sea, from −430 to 8800, or nothing.',
};
const DAYS: Limits = {
  low: FEWEST_DAYS_KEPT,
  high: MOST_DAYS_KEPT,
  whole: true,
  say: `Whole days, ${FEWEST_DAYS_KEPT} or more, or nothing.`,
};

const figure = (
  field: keyof SiteTexts,
  typed: string,
  reader: Marked,
  { low, high, whole, say }: Limits,
): { readonly value?: number; readonly fault?: FormFault } => {
  const value = typedNumber(typed, reader);
  if (value === undefined) return {};
  const isGood = value !== null && value >= low && value <= high && (!whole || Number.isInteger(value));
  return isGood ? { value } : { fault: { field, detail: say } };
};

/** The site with what was typed, or every fault at its field. */
export const siteOfTexts = (site: Site, typed: SiteTexts): { readonly site: Site } | readonly FormFault[] => {
  const altitude = figure('altitudeM', typed.altitudeM, site, ALTITUDE);
  const readings = figure('keepReadingsDays', typed.keepReadingsDays, site, DAYS);
  const hours = figure('keepHoursDays', typed.keepHoursDays, site, DAYS);
  const name = typed.name.trim();
  const zone = typed.zone.trim();
  const faults = [
    ...(name === '' || name.length > 60 ? [{ field: 'name', detail: 'A name of 1 to 60 letters.' }] : []),
    ...(isZone(zone) && zone !== ''
      ? []
      : [{ field: 'zone', detail: 'A time zone by name, as in America/New_York or Europe/Lisbon.' }]),
    ...[altitude, readings, hours].flatMap(({ fault }) => (fault === undefined ? [] : [fault])),
  ];
  if (faults.length > 0) return faults;
  return {
    site: {
      id: site.id,
      name,
      zone,
      temperatureUnit: typed.temperatureUnit === 'F' ? 'F' : 'C',
      hours: typed.hours === '12' ? 12 : 24,
      ...(typed.decimalMark === 'comma' ? { decimalMark: 'comma' } : {}),
      ...(altitude.value === undefined ? {} : { altitudeM: altitude.value }),
      ...(readings.value === undefined ? {} : { keepReadingsDays: readings.value }),
      ...(hours.value === undefined ? {} : { keepHoursDays: hours.value }),
    },
  };
};
