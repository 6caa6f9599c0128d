import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { hatchery, NOON_MS, tank } from '../support/hatchery.js';
import { night } from '../support/night.js';

type Vector = {
  readonly id: string;
  readonly params: {
    direction: 'high' | 'low';
    limit: number;
    deadband: number;
    on_delay_s: number;
    off_delay_s: number;
  };
  readonly samples_t_s_value: readonly (readonly [number, number | null])[];
  readonly expected_events: readonly (readonly [number, 'cond_on' | 'cond_off'])[];
};

/**
 * Source: this project's definition of one comparator, then timers, worked out by hand (tests/fixtures/limit-vectors.json).
 * Deadband, on-delay and off-delay are terms of ISA-18.2, from memory.
 */
const { vectors } = JSON.parse(readFileSync(new URL('../fixtures/limit-vectors.json', import.meta.url), 'utf8')) as {
  vectors: Vector[];
};

describe('a limit with deadband and delays turns exactly when the worked vectors say', () => {
  test.each(vectors.map((vector) => [vector.id, vector] as const))(
    '%s',
    (_, { params, samples_t_s_value, expected_events }) => {
      const line = params.direction === 'high' ? { limitHigh: params.limit } : { limitLow: params.limit };
      const wants = {
        ...line,
        deadband: params.deadband,
        onDelayMs: params.on_delay_s * 1000,
        offDelayMs: params.off_delay_s * 1000,
      };
      const { speciesGroup: _group, ...bare } = tank('l1', { wants: { temperature: wants } });
      const watched = night(hatchery([bare]));
      for (const [s, raw] of samples_t_s_value) {
        if (raw !== null) watched.tell({ kind: 'reading', atMs: NOON_MS + s * 1000, sourceId: 11, raw });
      }
      const turned = watched
        .alarms()
        .filter(({ alarm, event }) => alarm.finding.condition.endsWith('-limit') && event.startsWith('cond-'))
        .map(({ atMs, event }) => [(atMs - NOON_MS) / 1000, event.replace('-', '_')]);
      expect(turned).toEqual(expected_events);
    },
  );
});
