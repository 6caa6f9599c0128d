import { expect, test } from 'vitest';
import { tellBatch } from '../../simulator/stories/batch.js';

test('a batch goes from the sand bed to post-set seed: no needless alarm, the ceiling when the tray is overheated, a stock that adds up', {
  timeout: 300_000,
}, () => {
  const { story, needless, played } = tellBatch();
  expect(needless).toEqual([]);
  expect(story).toEqual({
    stages: ['conditioning', 'spawning', 'embryo', 'larva', 'setting', 'post-set'],
    needlessAlarms: 0,
    ceilingSounded: true,
    stockBalanced: true,
    logEntries: played.record.written.size,
  });
  // Nothing that the people wrote had to be taken in stride.
  expect(played.record.stock.moves.flatMap(({ doubts }) => doubts)).toEqual([]);
});
