import { fault, ok, type Result } from '../rules/result.js';
import { DEFAULT_FILTERS } from '../rules/wire/topic.js';
import { brokerFaultSentence } from '../rules/words/broker.js';
import { isZone } from '../rules/words/clock.js';
import type { Environment } from './environment.js';
import { type BrokerAddress, parseBrokerUrl } from './intake/broker-url.js';
import type { Durability } from './journal/journal.js';
import { didYouMean } from './nearest.js';

export type HostPort = { readonly host: string; readonly port: number };

/** Everything that is set from outside, read once at the start and never changed. */
export type Config = {
  readonly dataFolder: string;
  readonly http: HostPort;
  /** How phones reach it, without a slash at the end. */
  readonly publicUrl?: string;
  readonly mqtt:
    | ({ readonly kind: 'embedded' } & HostPort)
    | { readonly kind: 'external'; readonly url: string; readonly address: BrokerAddress };
  readonly filters: readonly string[];
  readonly history:
    | { readonly kind: 'sqlite' }
    | {
        readonly kind: 'influx';
        readonly url: string;
        readonly org: string;
        readonly bucket: string;
        readonly token: string;
      };
  readonly durability: Durability;
  /** Paths of PEM files. */
  readonly tls?: { readonly certPath: string; readonly keyPath: string };
  /** IANA zone for the first start. */
  readonly zone?: string;
};

/** One wrong variable, with how to mend it. */
export type ConfigFault = { readonly variable: string; readonly sentence: string };

/** Every variable, what it means, and what it is without. The `start --help` prints this table. */
export const VARIABLES = {
  NIGHTWATER_DATA: 'folder for everything that is kept (./data)',
  NIGHTWATER_HTTP: 'address of the pages and the API, host:port (0.0.0.0:8460)',
  NIGHTWATER_PUBLIC_URL: 'how phones reach it, as in https://water.example (not set)',
  NIGHTWATER_MQTT: 'an MQTT broker to use, mqtt:// or mqtts:// (not set: the one inside)',
  NIGHTWATER_MQTT_LISTEN: 'address of the broker inside, host:port (0.0.0.0:1883)',
  NIGHTWATER_MQTT_FILTERS: `topics to listen to, with commas between (${DEFAULT_FILTERS.join(',')})`,
  NIGHTWATER_HISTORY:
    'an InfluxDB that readings go to, and older ones are read from, http(s)://host:port?org=&bucket= (not set: SQLite)',
  NIGHTWATER_INFLUX_TOKEN: 'the token for that InfluxDB (not set)',
  NIGHTWATER_DURABILITY: 'what a power cut may take: second or commit, which takes nothing and is slower (second)',
  NIGHTWATER_TLS_CERT: 'path of a certificate in PEM, for https (not set)',
  NIGHTWATER_TLS_KEY: 'path of its key in PEM (not set)',
  NIGHTWATER_TZ: 'time zone of the site at its first start, as in America/New_York (the zone of this machine)',
} as const;
type Variable = keyof typeof VARIABLES;

type Reader = {
  readonly text: (variable: Variable) => string | undefined;
  readonly wrong: (variable: Variable, sentence: string) => undefined;
};

/** All faults together, never only the first. The demo has a folder of its own and listens to this machine only. */
export const loadConfig = (
  environment: Environment,
  { demo = false }: { readonly demo?: boolean } = {},
): Result<Config, readonly ConfigFault[]> => {
  const faults: ConfigFault[] = unknownVariables(environment);
  const reader: Reader = {
    text: (variable) => {
      const value = environment[variable]?.trim();
      return value === '' ? undefined : value;
    },
    wrong: (variable, sentence) => {
      faults.push({ variable, sentence: `${variable} ${sentence}` });
      return undefined;
    },
  };
  const config = readAll(reader, demo);
  return faults.length > 0 ? fault(faults) : ok(config);
};

const readAll = (reader: Reader, demo: boolean): Config => {
  const host = demo ? '127.0.0.1' : '0.0.0.0';
  const publicUrl = readPublicUrl(reader);
  const tls = readTls(reader);
  const zone = readZone(reader);
  return {
    dataFolder: reader.text('NIGHTWATER_DATA') ?? (demo ? './demo-data' : './data'),
    http: readHostPort(reader, 'NIGHTWATER_HTTP', { host, port: 8460 }),
    mqtt: readMqtt(reader, host),
    filters: readFilters(reader),
    history: readHistory(reader),
    durability: readDurability(reader),
    ...(publicUrl === undefined ? {} : { publicUrl }),
    ...(tls === undefined ? {} : { tls }),
    ...(zone === undefined ? {} : { zone }),
  };
};

const unknownVariables = (environment: Environment): ConfigFault[] =>
  Object.keys(environment)
    .filter((name) => name.startsWith('NIGHTWATER_') && !Object.hasOwn(VARIABLES, name))
    .map((variable) => ({
      variable,
      sentence: `${variable} is not a variable of this program.${didYouMean(variable, Object.keys(VARIABLES))} Correct its name, or take it away.`,
    }));

const HOST_PORT = /^(\[[0-9a-fA-F:.]+\]|[^\s:[\]]+):(\d{1,5})$/;

/** Port 0 lets the system choose a free one. */
const readHostPort = ({ text, wrong }: Reader, variable: Variable, otherwise: HostPort): HostPort => {
  const value = text(variable);
  if (value === undefined) return otherwise;
  const [, host, digits] = HOST_PORT.exec(value) ?? [];
  const port = Number(digits);
  if (host === undefined || port > 65_535) {
    wrong(
      variable,
      `is “${value}”: write an address, a colon and a port up to 65535, as in ${otherwise.host}:${otherwise.port}.`,
    );
    return otherwise;
  }
  return { host: host.replace(/^\[|\]$/g, ''), port };
};

const readPublicUrl = ({ text, wrong }: Reader): string | undefined => {
  const value = text('NIGHTWATER_PUBLIC_URL');
  if (value === undefined) return undefined;
  const url = urlFrom(value);
  const isPlain =
    url !== undefined && url.pathname === '/' && url.search === '' && url.hash === '' && url.username === '';
  if (!isPlain || (url.protocol !== 'http:' && url.protocol !== 'https:')) {
    return wrong(
      'NIGHTWATER_PUBLIC_URL',
      `is “${value}”: write an address without a path, as in https://water.example.`,
    );
  }
  return url.origin;
};

const urlFrom = (text: string): URL | undefined => {
  try {
    return new URL(text);
  } catch {
    return undefined;
  }
};

const readMqtt = (reader: Reader, host: string): Config['mqtt'] => {
  const listen = readHostPort(reader, 'NIGHTWATER_MQTT_LISTEN', { host, port: 1883 });
  const url = reader.text('NIGHTWATER_MQTT');
  const embedded = { kind: 'embedded', ...listen } as const;
  if (url === undefined) return embedded;
  if (reader.text('NIGHTWATER_MQTT_LISTEN') !== undefined) {
    reader.wrong(
      'NIGHTWATER_MQTT_LISTEN',
      'is for the broker inside, and NIGHTWATER_MQTT names another: take one of them away.',
    );
  }
  const parsed = parseBrokerUrl(url);
  if (parsed.ok) return { kind: 'external', url, address: parsed.value };
  const sentence = brokerFaultSentence(parsed.fault);
  reader.wrong('NIGHTWATER_MQTT', sentence.replace(/^NIGHTWATER_MQTT /, ''));
  return embedded;
};

/** [MQTT 3.1.1 4.7.1] `#` only as the last level, `+` only as a whole level. */
const isFilter = (text: string): boolean =>
  text.length > 0 &&
  text.length <= 200 &&
  text
    .split('/')
    .every((level, index, levels) =>
      level.includes('#') ? level === '#' && index === levels.length - 1 : !level.includes('+') || level === '+',
    );

const readFilters = ({ text, wrong }: Reader): readonly string[] => {
  const filters = text('NIGHTWATER_MQTT_FILTERS')
    ?.split(',')
    .map((filter) => filter.trim());
  if (filters === undefined) return DEFAULT_FILTERS;
  const broken = filters.find((filter) => !isFilter(filter));
  if (broken !== undefined) {
    wrong(
      'NIGHTWATER_MQTT_FILTERS',
      `has “${broken}”: a topic has + for one level and # for all that follow, as in tanks/+/+,boards/#.`,
    );
  }
  return filters;
};

const readHistory = ({ text, wrong }: Reader): Config['history'] => {
  const value = text('NIGHTWATER_HISTORY');
  const token = text('NIGHTWATER_INFLUX_TOKEN');
  if (value === undefined) {
    if (token !== undefined)
      wrong('NIGHTWATER_INFLUX_TOKEN', 'is set, and NIGHTWATER_HISTORY is not: set both, or neither.');
    return { kind: 'sqlite' };
  }
  const url = urlFrom(value);
  const bucket = url?.searchParams.get('bucket') ?? '';
  if (url === undefined || (url.protocol !== 'http:' && url.protocol !== 'https:') || bucket === '') {
    wrong(
      'NIGHTWATER_HISTORY',
      'must be http:// or https:// with a bucket, as in http://127.0.0.1:8086?org=hatchery&bucket=water.',
    );
    return { kind: 'sqlite' };
  }
  if (url.pathname !== '/' || url.username !== '' || url.password !== '') {
    wrong(
      'NIGHTWATER_HISTORY',
      'has a path or a password in it: write only address, org and bucket; a token, or user:password, goes into NIGHTWATER_INFLUX_TOKEN.',
    );
    return { kind: 'sqlite' };
  }
  return { kind: 'influx', url: url.origin, org: url.searchParams.get('org') ?? '', bucket, token: token ?? '' };
};

const readDurability = ({ text, wrong }: Reader): Durability => {
  const value = text('NIGHTWATER_DURABILITY') ?? 'second';
  if (value === 'second' || value === 'commit') return value;
  wrong('NIGHTWATER_DURABILITY', `is “${value}”: it can be second or commit.`);
  return 'second';
};

const readTls = ({ text, wrong }: Reader): Config['tls'] => {
  const certPath = text('NIGHTWATER_TLS_CERT');
  const keyPath = text('NIGHTWATER_TLS_KEY');
  if (certPath === undefined && keyPath === undefined) return undefined;
  if (certPath === undefined)
    return wrong('NIGHTWATER_TLS_CERT', 'is missing, and NIGHTWATER_TLS_KEY is set: set both, or neither.');
  if (keyPath === undefined)
    return wrong('NIGHTWATER_TLS_KEY', 'is missing, and NIGHTWATER_TLS_CERT is set: set both, or neither.');
  return { certPath, keyPath };
};

const readZone = ({ text, wrong }: Reader): string | undefined => {
  const zone = text('NIGHTWATER_TZ');
  if (zone === undefined || isZone(zone)) return zone;
  return wrong('NIGHTWATER_TZ', `is “${zone}”: write a zone by its name, as in America/New_York or Europe/Lisbon.`);
};
