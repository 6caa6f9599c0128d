import { describe, expect, test } from 'vitest';
import { LINK_REASONS } from '../../../rules/wire/broker.js';
import { brokerFaultSentence, linkReasonWords } from '../../../rules/words/broker.js';

describe('a broker that cannot be opened', () => {
  test('on a taken port: which one, and three ways to mend it', () => {
    expect(brokerFaultSentence({ code: 'port-taken', host: '0.0.0.0', port: 1883 })).toBe(
      'Port 1883 on 0.0.0.0 is taken by another program, perhaps another MQTT broker. Stop that program, use it by setting NIGHTWATER_MQTT=mqtt://127.0.0.1:1883, or choose another port with NIGHTWATER_MQTT_LISTEN=0.0.0.0:1884.',
    );
  });

  test.each(['port-forbidden', 'address-not-here'] as const)('%s names the setting that mends it', (code) => {
    expect(brokerFaultSentence({ code, host: '192.0.2.7', port: 80 })).toContain('NIGHTWATER_MQTT_LISTEN');
  });

  test('by a wrong URL: what one looks like', () => {
    expect(brokerFaultSentence({ code: 'broker-url', part: 'form' })).toContain('mqtt://name:password@');
    expect(brokerFaultSentence({ code: 'broker-url', part: 'protocol' })).toContain('mqtts://');
  });
});

test.each(LINK_REASONS)('a link that changes because of “%s” says so in words', (reason) => {
  expect(linkReasonWords(reason)).not.toBe(reason);
});
