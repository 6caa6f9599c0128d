import { expect, test } from 'vitest';
import { emptyFolder, landing, openedIn } from './opened.js';

test('the oldest packets are forgotten, here and after a restart: boards that come and go fill nothing', () => {
  const folder = emptyFolder();
  const journal = openedIn(folder);
  const packets = Array.from({ length: 32_770 }, (_, at) => ({ packetId: 2 ** 47 + at, fingerprint: `f${at}` }));
  journal.land(landing({ packets }));
  const asked = [0, 1, 2, 32_769].map((at) => 2 ** 47 + at);
  expect(asked.map(journal.packets.fingerprint)).toEqual([undefined, undefined, 'f2', 'f32769']);
  journal.close();
  const again = openedIn(folder);
  expect(asked.map(again.packets.fingerprint)).toEqual([undefined, undefined, 'f2', 'f32769']);
  again.close();
});
