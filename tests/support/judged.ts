import {
  freshMemory,
  type JudgedReading,
  type Judgement,
  judgeReading,
  type QualitySettings,
} from '../../rules/quality/judge.js';

export const START_MS = Date.UTC(2026, 2, 14, 2);
export const SECOND_MS = 1000;

/** A tank thermometer with spans and fault values and no other line. */
export const thermometer: QualitySettings = {
  periodMs: 10 * SECOND_MS,
  resolution: 0.1,
  sensorSpan: [-5, 80],
  userSpan: [0, 40],
  faultValues: [85, -127],
};

/** One reading every ten seconds, judged one after the other. */
export const watch = (values: readonly number[], lines: Partial<QualitySettings> = {}): Judgement[] =>
  follow(
    values.map((value, n) => ({ atMs: START_MS + n * 10 * SECOND_MS, value })),
    lines,
  );

export const follow = (readings: readonly JudgedReading[], lines: Partial<QualitySettings> = {}): Judgement[] => {
  let memory = freshMemory;
  return readings.map((reading) => {
    const judged = judgeReading(memory, reading, { ...thermometer, ...lines });
    memory = judged.memory;
    return judged;
  });
};

export const last = (judged: readonly Judgement[]): Judgement => {
  const end = judged.at(-1);
  if (end === undefined) throw new Error('nothing was judged');
  return end;
};
