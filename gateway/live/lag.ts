import type { Stop } from '../clock.js';

/** The part of an engine.io connection that tells how much waits to be sent. */
export type Connection = {
  on(event: 'packetCreate' | 'flush' | 'drain', listen: () => void): unknown;
  off(event: 'packetCreate' | 'flush' | 'drain', listen: () => void): unknown;
};

/** How far a screen is behind: packets made for it that its connection has not taken yet. */
export type Lag = { waiting(): number; readonly stop: Stop };

/**
 * engine.io hands its whole buffer to the connection when that is ready (`flush`); until then packets pile up in memory.
 * `onCaughtUp` is called when the pile has been handed over.
 */
export const watchLag = (connection: Connection, onCaughtUp: () => void): Lag => {
  let waiting = 0;
  const made = (): void => {
    waiting += 1;
  };
  const flushed = (): void => {
    waiting = 0;
  };
  connection.on('packetCreate', made);
  connection.on('flush', flushed);
  // After the hand-over: what is sent inside `flush` would go out twice over a connection that is not ready.
  connection.on('drain', onCaughtUp);
  return {
    waiting: () => waiting,
    stop: () => {
      connection.off('packetCreate', made);
      connection.off('flush', flushed);
      connection.off('drain', onCaughtUp);
    },
  };
};
