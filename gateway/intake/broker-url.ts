import { fault, ok, type Result } from '../../rules/result.js';
import type { BrokerFault } from '../../rules/wire/broker.js';

export type BrokerAddress = {
  readonly protocol: 'mqtt' | 'mqtts';
  readonly host: string;
  readonly port: number;
  readonly username?: string;
  readonly password?: string;
};

/** Where an external broker is; name and password stand in the URL, percent-encoded where they hold `@`, `:` or `/`. */
export const parseBrokerUrl = (text: string): Result<BrokerAddress, BrokerFault> => {
  let url: URL;
  try {
    url = new URL(text);
  } catch {
    return fault({ code: 'broker-url', part: 'form' });
  }
  const protocol = url.protocol === 'mqtt:' ? 'mqtt' : url.protocol === 'mqtts:' ? 'mqtts' : undefined;
  if (protocol === undefined) return fault({ code: 'broker-url', part: 'protocol' });
  const username = decoded(url.username);
  const password = decoded(url.password);
  if (url.hostname === '' || username === undefined || password === undefined) {
    return fault({ code: 'broker-url', part: 'form' });
  }
  return ok({
    protocol,
    host: url.hostname.replace(/^\[|\]$/g, ''),
    port: url.port === '' ? (protocol === 'mqtt' ? 1883 : 8883) : Number(url.port),
    ...(username === '' ? {} : { username }),
    ...(password === '' ? {} : { password }),
  });
};

/** The address as it may be shown: without name and password. */
export const shownAddress = ({ protocol, host, port }: BrokerAddress): string =>
  `${protocol}://${host.includes(':') ? `[${host}]` : host}:${port}`;

const decoded = (part: string): string | undefined => {
  try {
    return decodeURIComponent(part);
  } catch {
    return undefined;
  }
};
