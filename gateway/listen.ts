import { fault, ok, type Result } from '../rules/result.js';
import type { HostPort } from './config.js';

/** How many further ports the demo tries when its own is taken. */
const FURTHER = 20;

export type ListenFault = { readonly host: string; readonly port: number; readonly because: string };

const codeOf = (error: unknown): string => (error as NodeJS.ErrnoException).code ?? String(error);

/** Opens what is given on its port; with `further`, on the next free one. The port it got, or why it got none. */
export const listenOn = async (
  open: (at: HostPort) => Promise<unknown>,
  { host, port }: HostPort,
  { further = false }: { readonly further?: boolean } = {},
): Promise<Result<HostPort, ListenFault>> => {
  for (let tried = 0; ; tried += 1) {
    try {
      await open({ host, port: port + tried });
      return ok({ host, port: port + tried });
    } catch (error) {
      const because = codeOf(error);
      if (because !== 'EADDRINUSE' || !further || tried >= FURTHER) return fault({ host, port: port + tried, because });
    }
  }
};

const REASONS: { readonly [code: string]: string } = {
  EADDRINUSE: 'is taken by another program',
  EACCES: 'may not be opened by this user',
  EADDRNOTAVAIL: 'is not an address of this machine',
};

export const listenSentence = ({ host, port, because }: ListenFault): string =>
  `${host}:${port} ${REASONS[because] ?? `cannot be opened (${because})`}: stop the other program, or set NIGHTWATER_HTTP to another address, as in ${host}:${port + 1}.`;
