import { UNITS_UNDERSTOOD } from '../../rules/quantity.js';

/** Units that a pack may state: RFC 8428 section 12.1, and those that RFC 8798 section 2 adds. */
const REGISTERED = new Set(
  (
    'm kg g s A K cd mol Hz rad sr N Pa J W C V F Ohm S Wb T H Cel lm lx Bq Gy Sv kat m2 m3 l m/s m/s2 m3/s l/s W/m2 ' +
    'cd/m2 bit bit/s lat lon pH dB dBW Bspl count / % %RH %EL EL 1/s 1/min beat/min beats S/m ' +
    'B VA VAs var vars J/m kg/m3 deg'
  ).split(' '),
);

/** [RFC 8798 section 3] not allowed in a pack of version 10, and sent by real boards all the same. */
const SECONDARY = new Set(
  (
    'ms min h MHz kW kVA kvar Ah Wh kWh varh kvarh kVAh Wh/km KiB GB Mbit/s B/s MB/s mV mA dBm ug/m3 mm/h m/h ppm ' +
    '/100 /1000 hPa mm cm km km/h'
  ).split(' '),
);

const UNDERSTOOD = new Set(Object.values(UNITS_UNDERSTOOD).flatMap((units) => Object.keys(units)));

/** How a stated unit stands to the standard: registered, understood though not allowed in a pack, or unknown. */
export const unitStanding = (unit: string): 'registered' | 'understood' | 'unknown' => {
  if (REGISTERED.has(unit)) return 'registered';
  return SECONDARY.has(unit) || UNDERSTOOD.has(unit) ? 'understood' : 'unknown';
};
