import { parentPort } from 'node:worker_threads';
import { sealDay } from '../../gateway/journal/sealed/day.js';
import { makeDay } from './water.js';

export type DayAsked = {
  readonly sourceId: number;
  readonly tank: number;
  readonly probe: number;
  readonly day: number;
};

/** Makes days and seals them, so that two threads are busy. */
parentPort?.on('message', (asked: readonly DayAsked[]) => {
  parentPort?.postMessage(
    asked.map(({ sourceId, tank, probe, day }) => {
      const columns = makeDay(tank, probe, day);
      return { sourceId, columns, body: sealDay(columns) };
    }),
  );
});
