import type { Delivery, TakeDeliveries } from '../../gateway/intake/delivery.js';

export type Collected = {
  readonly take: TakeDeliveries;
  readonly all: readonly Delivery[];
  readonly groups: readonly (readonly Delivery[])[];
  /** Waits until what was taken fulfils the condition. */
  readonly until: (enough: (all: readonly Delivery[]) => boolean) => Promise<readonly Delivery[]>;
};

/** A taker that keeps everything; `refuse` may throw for a group before it counts as taken. */
export const collectDeliveries = (refuse: (group: readonly Delivery[]) => void = () => undefined): Collected => {
  const all: Delivery[] = [];
  const groups: (readonly Delivery[])[] = [];
  let waiting: (() => void)[] = [];
  return {
    all,
    groups,
    take: (group) => {
      refuse(group);
      all.push(...group);
      groups.push(group);
      for (const look of waiting) look();
    },
    until: (enough) =>
      new Promise((resolve) => {
        const look = (): void => {
          if (!enough(all)) return;
          waiting = waiting.filter((other) => other !== look);
          resolve(all);
        };
        waiting.push(look);
        look();
      }),
  };
};

export const textOf = ({ payload }: Delivery): string => Buffer.from(payload).toString('utf8');
