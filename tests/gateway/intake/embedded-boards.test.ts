import type { Client } from 'aedes';
import { describe, expect, test } from 'vitest';
import { receiveGuests } from '../../../gateway/intake/embedded-boards.js';

describe('a board without a name', () => {
  const answerTo = (address: string): Promise<number | undefined> =>
    new Promise((resolve) => {
      const guests = receiveGuests(
        () => true,
        () => address,
      );
      // Only the connection of the client is looked at, and it is looked up by `addressOf` above.
      guests.authenticate({} as Client, undefined, undefined, (error) => resolve(error?.returnCode));
    });

  test('is let in from this machine', async () => {
    expect(await answerTo('127.0.0.1')).toBeUndefined();
  });

  test('is refused from the network (MQTT 3.1.1 table 3.1: 5, not authorized)', async () => {
    expect(await answerTo('192.0.2.7')).toBe(5);
  });
});
