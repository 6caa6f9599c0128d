import type { WhyUncalibrated } from '../bed/calibration.js';
import { type Marked, roughWords } from './figure.js';

/** Why only a wide range is known, and what would narrow it. */
export const UNCALIBRATED_WORDS: Readonly<Record<WhyUncalibrated, string>> = {
  'never-calibrated':
    'Nobody has looked at the layer of this bed yet: the estimate can be 3 to 10 times off. A core, or the black edge behind the glass, would calibrate it.',
  'calibration-old':
    'The layer was looked at more than a month before: the estimate can be 3 to 10 times off again until somebody looks anew.',
  'pump-changed':
    'The layer was looked at with the bed pump as it is no longer: the estimate can be 3 to 10 times off until somebody looks anew.',
};

/** `0.4 to 8 mm`, with the likely one where there is one. */
export const bedDepthWords = ({ low, mid, high }: Depth, reader: Marked): string => {
  const mm = (value: number): string => roughWords(value, reader);
  if (low === undefined || high === undefined) return 'not measured';
  const range = `${mm(low)} to ${mm(high)} mm`;
  return mid === undefined ? range : `about ${mm(mid)} mm, ${range}`;
};

type Depth = { readonly low: number | undefined; readonly mid: number | undefined; readonly high: number | undefined };
