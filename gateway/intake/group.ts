import type { Delivery, TakeDeliveries } from './delivery.js';

export type GroupOptions = {
  readonly take: TakeDeliveries;
  /** Called when a group is committed, or with the reason when it is not: then nothing of it may be acknowledged. */
  readonly settled: (failure?: Error) => void;
  /** A group is committed when it has so many messages ... */
  readonly most?: number;
  /** ... or when its first has waited so long. */
  readonly waitMs?: number;
};

export type DeliveryGroup = {
  readonly add: (delivery: Delivery) => void;
  /** Commits what is waiting, now. */
  readonly flush: () => void;
};

/** Gathers deliveries so that one commit serves many: a commit a message would cost several times as much. */
export const groupDeliveries = ({ take, settled, most = 500, waitMs = 2 }: GroupOptions): DeliveryGroup => {
  let waiting: Delivery[] = [];
  let timer: NodeJS.Timeout | undefined;
  const flush = (): void => {
    clearTimeout(timer);
    timer = undefined;
    if (waiting.length === 0) return;
    const group = waiting;
    waiting = [];
    settled(failureOf(take, group));
  };
  return {
    add: (delivery) => {
      waiting.push(delivery);
      if (waiting.length >= most) flush();
      else timer ??= setTimeout(flush, waitMs);
    },
    flush,
  };
};

const failureOf = (take: TakeDeliveries, group: readonly Delivery[]): Error | undefined => {
  try {
    take(group);
    return undefined;
  } catch (error) {
    return error instanceof Error ? error : new Error(String(error));
  }
};
