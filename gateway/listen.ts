import { fault, ok, type Result } from '../rules/result.js';
import type { HostPort } from './config.js';

/** How many further ports the demo tries when its own is taken. */
const FURTHER = 20;

export type ListenFault = { readonly host: string; readonly port: number; readonly because: string };

const codeOf = (error: unknown): string => (error as NodeJS.ErrnoException).code ?? String(error);

/**
 * Opens what is given on its port; with `further`, on the next free one. `open` tells the port it got, which for port 0
 * is the system's choice.
 */
export const listenOn = async (
  open: (at: HostPort) => Promise<number>,
  { host, port }: HostPort,
  { further = false }: { readonly further?: boolean } = {},
): Promise<Result<HostPort, ListenFault>> => {
  for (let tried = 0; ; tried += 1) {
    try {
      return ok({ host, port: await open({ host, port: port + tried }) });
    } catch (error) {
      const because = codeOf(error);
      if (because !== 'EADDRINUSE' || !further || tried >= FURTHER) return fault({ host, port: port + tried, because });
    }
  }
};

const SENTENCES: { readonly [code: string]: (at: HostPort) => string } = {
  EADDRINUSE: ({ host, port }) =>
    `is taken by another program: stop that program, or set NIGHTWATER_HTTP to another address, as in ${host}:${port + 1}.`,
  EACCES: ({ host }) => `may not be opened by this user: set NIGHTWATER_HTTP to a port above 1023, as in ${host}:8460.`,
  EADDRNOTAVAIL: ({ port }) =>
    `is not an address of this machine: set NIGHTWATER_HTTP to one of its addresses, or to 0.0.0.0:${port} for all.`,
};

/** Which address the pages cannot have, and how to mend it. */
export const listenSentence = ({ host, port, because }: ListenFault): string => {
  const sentence = SENTENCES[because]?.({ host, port });
  return `${host}:${port} ${sentence ?? `cannot be opened (${because}): set NIGHTWATER_HTTP to another address.`}`;
};

/** How a browser on this machine reaches it. */
export const urlOf = ({ host, port }: HostPort, isTls: boolean): string => {
  const name = host === '0.0.0.0' || host === '::' ? 'localhost' : host.includes(':') ? `[${host}]` : host;
  return `${isTls ? 'https' : 'http'}://${name}:${port}`;
};
