import { onTestFinished } from 'vitest';
import type { Broker, LinkChange } from '../../gateway/intake/delivery.js';
import { type ExternalOptions, openExternalBroker } from '../../gateway/intake/external.js';
import { NOW_MS } from '../contracts/broker.js';

export type Opened = {
  readonly broker: Broker;
  readonly changes: readonly LinkChange[];
  /** Waits for the next change of the link that fulfils the condition, from the first on. */
  readonly change: (wanted: (change: LinkChange) => boolean) => Promise<LinkChange>;
};

/** A client of a broker, closed at the end of the test, whose link can be waited for. */
export const opened = (options: Partial<ExternalOptions> & { readonly url: string }): Opened => {
  const changes: LinkChange[] = [];
  let look = (): void => undefined;
  const broker = openExternalBroker({
    clientId: 'nightwater-saltmarsh',
    take: () => undefined,
    now: () => NOW_MS,
    reconnect: { firstMs: 50, longestMs: 200 },
    onLink: (change) => {
      changes.push(change);
      look();
    },
    ...options,
  });
  if (!broker.ok) throw new Error(broker.fault.code);
  onTestFinished(() => broker.value.close());
  const change: Opened['change'] = (wanted) =>
    new Promise((resolve) => {
      look = () => {
        const found = changes.find(wanted);
        if (found !== undefined) resolve(found);
      };
      look();
    });
  return { broker: broker.value, changes, change };
};

export const isUp = ({ broker }: LinkChange): boolean => broker === 'up';
export const isDown = ({ broker }: LinkChange): boolean => broker === 'down';
