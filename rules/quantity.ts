/**
 * What a probe can measure. Everything inside Nightwater is in the canonical unit of its quantity; conversion happens
 * once, from the unit that a source is said to send in (`canonicalFrom`).
 */
export const QUANTITIES = [
  'temperature',
  'conductivity',
  'specific-conductance',
  'salinity',
  'oxygen-mg-l',
  'oxygen-saturation',
  'ph',
  'orp',
  'pressure',
  'level',
  'flow',
  'contact',
  'battery',
] as const;
export type Quantity = (typeof QUANTITIES)[number];
export type ByQuantity<T> = { readonly [quantity in Quantity]: T };

export const isQuantity = (text: string): text is Quantity => (QUANTITIES as readonly string[]).includes(text);

/** Canonical unit as written in files, exports and the API. Practical salinity (PSS-78) has no unit. */
export const UNIT: ByQuantity<string> = {
  temperature: 'degC',
  conductivity: 'mS/cm',
  'specific-conductance': 'mS/cm',
  salinity: '1',
  'oxygen-mg-l': 'mg/L',
  'oxygen-saturation': '%',
  ph: 'pH',
  orp: 'mV',
  pressure: 'kPa',
  level: 'm',
  flow: 'L/min',
  contact: 'on/off',
  battery: 'V',
};

/** Decimals that a person is shown. */
export const DECIMALS: ByQuantity<number> = {
  temperature: 1,
  conductivity: 1,
  'specific-conductance': 1,
  salinity: 1,
  'oxygen-mg-l': 1,
  'oxygen-saturation': 0,
  ph: 2,
  orp: 0,
  pressure: 1,
  level: 2,
  flow: 1,
  contact: 0,
  battery: 2,
};

/** False for a switch and a battery: no limit is set for them, they are judged by conditions of their own. */
export const hasLine = (quantity: Quantity): boolean => quantity !== 'contact' && quantity !== 'battery';

export type Conversion = { readonly scale: number; readonly offset?: number };

/** 31.9988 g/mol over 22.3916 L/mol: the molar volume of oxygen at STP used by Benson and Krause (1984). */
const MG_PER_ML_OXYGEN = 31.9988 / 22.3916;

const CONDUCTANCE: Readonly<Record<string, Conversion>> = {
  'mS/cm': { scale: 1 },
  'uS/cm': { scale: 1e-3 },
  'µS/cm': { scale: 1e-3 },
  'S/m': { scale: 10 },
  'mS/m': { scale: 1e-2 },
};

/**
 * Units understood per quantity: canonical = sent × scale + offset. SenML names (RFC 8428, RFC 8798) stand beside what
 * boards write. Units that need more than a factor (µmol/kg needs density) are refused, not guessed.
 */
export const UNITS_UNDERSTOOD: ByQuantity<Readonly<Record<string, Conversion>>> = {
  temperature: {
    degC: { scale: 1 },
    Cel: { scale: 1 },
    '°C': { scale: 1 },
    C: { scale: 1 },
    degF: { scale: 5 / 9, offset: -160 / 9 },
    '°F': { scale: 5 / 9, offset: -160 / 9 },
    F: { scale: 5 / 9, offset: -160 / 9 },
    K: { scale: 1, offset: -273.15 },
  },
  conductivity: CONDUCTANCE,
  'specific-conductance': CONDUCTANCE,
  salinity: {
    '1': { scale: 1 },
    ppt: { scale: 1 },
    psu: { scale: 1 },
    PSU: { scale: 1 },
    'g/kg': { scale: 1 },
  },
  'oxygen-mg-l': {
    'mg/L': { scale: 1 },
    'mg/l': { scale: 1 },
    'kg/m3': { scale: 1000 },
    'ml/L': { scale: MG_PER_ML_OXYGEN },
    'mL/L': { scale: MG_PER_ML_OXYGEN },
    'ml/l': { scale: MG_PER_ML_OXYGEN },
    'umol/L': { scale: 31.9988e-3 },
    'µmol/L': { scale: 31.9988e-3 },
  },
  'oxygen-saturation': {
    '%': { scale: 1 },
    '/': { scale: 100 },
    '/100': { scale: 1 },
  },
  ph: { pH: { scale: 1 } },
  orp: { mV: { scale: 1 }, V: { scale: 1000 } },
  pressure: {
    kPa: { scale: 1 },
    Pa: { scale: 1e-3 },
    hPa: { scale: 0.1 },
    mbar: { scale: 0.1 },
    bar: { scale: 100 },
    dbar: { scale: 10 },
    psi: { scale: 6.894757 },
  },
  level: {
    m: { scale: 1 },
    cm: { scale: 1e-2 },
    mm: { scale: 1e-3 },
    in: { scale: 0.0254 },
  },
  flow: {
    'L/min': { scale: 1 },
    'l/min': { scale: 1 },
    'L/h': { scale: 1 / 60 },
    'm3/h': { scale: 1000 / 60 },
    'm3/s': { scale: 60_000 },
    'gal/min': { scale: 3.785411784 },
  },
  contact: { 'on/off': { scale: 1 } },
  battery: { V: { scale: 1 }, mV: { scale: 1e-3 } },
};

/** The value in the canonical unit, or undefined when the unit is not one of `UNITS_UNDERSTOOD[quantity]`. */
export const canonicalFrom = (quantity: Quantity, unit: string, sent: number): number | undefined => {
  const conversion = conversionFrom(quantity, unit);
  return conversion === undefined ? undefined : converted(conversion, sent);
};

/** How a unit becomes the canonical one; undefined when it is not understood. */
export const conversionFrom = (quantity: Quantity, unit: string): Conversion | undefined =>
  UNITS_UNDERSTOOD[quantity][unit];

export const converted = ({ scale, offset }: Conversion, sent: number): number => sent * scale + (offset ?? 0);
