import type { Outgoing } from '../../gateway/alerts/way.js';
import type { FaultNotice } from '../../rules/alerts/notice.js';
import { noticeWords } from '../../rules/words/notice.js';
import { MINUTE, NIGHT_MS } from './ladder-night.js';

/** An invented fault in the middle of the night. */
export const faultNoticeSample: FaultNotice = {
  kind: 'call',
  atMs: NIGHT_MS,
  faultId: 'heater-stuck-on.l2.temperature.x1',
  alarmId: 'heater-stuck-on.l2.temperature.x1',
  key: 'heater-stuck-on.l2.temperature.x1 1 step-1',
  priority: 'high',
  place: { id: 'l2', name: 'L2', stage: 'larva', regime: 'static' },
  finding: {
    condition: 'heater-stuck-on',
    placeId: 'l2',
    channelId: 'l2.temperature',
    priority: 'high',
    sinceMs: NIGHT_MS - 30 * MINUTE,
    value: 29.9,
    perHour: 2.9,
    line: { kind: 'ceiling', side: 'high', value: 32 },
    harm: {
      atMs: NIGHT_MS + 44 * MINUTE,
      earliestMs: NIGHT_MS + 34 * MINUTE,
      latestMs: NIGHT_MS + 60 * MINUTE,
      basis: [],
    },
    checks: ['heater-off-at-wall'],
  },
  readingMs: NIGHT_MS - 10_000,
  tanks: ['L2'],
  others: [],
  told: [],
};

export const outgoing = (more: Partial<Outgoing> = {}): Outgoing => ({
  key: `${faultNoticeSample.key}|asta|push`,
  personId: 'asta',
  address: '',
  notice: faultNoticeSample,
  words: noticeWords(faultNoticeSample, { zone: 'UTC', hours: 24, temperatureUnit: 'C' }),
  isCall: true,
  faultId: faultNoticeSample.faultId,
  subject: faultNoticeSample.faultId,
  atMs: NIGHT_MS,
  ...more,
});
