import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { forgetfulQueue } from '../../dashboard/link/queue.js';
import { buildOutbox, type OutboxParts } from '../../dashboard/state/outbox.js';
import { makeUlid } from '../../rules/log/ulid.js';
import { fault, ok } from '../../rules/result.js';
import type { Problem } from '../../rules/wire/api.js';
import type { NewEntry } from '../../rules/wire/log.js';

const problem = (status: number): Problem => ({
  type: 'about:blank',
  title: '',
  status,
  detail: `says ${status}`,
  fault: 'X',
});

const note = (number: number): NewEntry => {
  const chance = new Uint8Array(10);
  chance[9] = number;
  return {
    id: makeUlid(1_777_900_000_000 + number, chance),
    atMs: 1_777_900_000_000 + number,
    kind: 'note',
    fields: { words: `${number}` },
  };
};

/** A gateway that answers as it is told, and keeps what it took. */
const pretend = () => {
  let status = 201;
  const took: NewEntry[] = [];
  const photos: string[] = [];
  const api: OutboxParts['api'] = {
    write: async (entry) => {
      const refused = status === 201 ? undefined : problem(status);
      if (refused !== undefined) return fault(refused);
      if (!took.some(({ id }) => id === entry.id)) took.push(entry);
      return ok({ entry: { ...entry, by: 'me' }, recordedMs: 0 } as never);
    },
    sendPhoto: async (photo) => {
      if (status !== 201) return fault(problem(status));
      photos.push(photo.type);
      return ok({ id: 'f'.repeat(64) });
    },
  };
  let last: Promise<void> = Promise.resolve();
  const alone = (work: () => Promise<void>): Promise<void> => {
    last = last.then(work, work);
    return last;
  };
  const patience = (): Promise<void> => new Promise(() => undefined);
  return {
    took,
    photos,
    becomes: (next: number) => {
      status = next;
    },
    outbox: buildOutbox({ queue: forgetfulQueue(), api, alone, patience }),
  };
};

describe('what is written on a phone', () => {
  test('waits while the gateway is away, and is sent in the order in which it was written', async () => {
    const { outbox, took, becomes } = pretend();
    becomes(0);
    for (const number of [1, 2, 3]) expect(await outbox.write(note(number))).toEqual({ kind: 'waiting' });
    expect(outbox.waiting.value).toHaveLength(3);
    becomes(201);
    await outbox.flush();
    expect(took).toEqual([note(1), note(2), note(3)]);
    expect(outbox.waiting.value).toEqual([]);
  });

  test.each([401, 429, 500, 503])(
    'waits as well when the gateway says %i: that is no word about the entry',
    async (status) => {
      const { outbox, took, becomes } = pretend();
      becomes(status);
      expect(await outbox.write(note(1))).toEqual({ kind: 'waiting' });
      becomes(201);
      await outbox.flush();
      expect(took).toHaveLength(1);
    },
  );

  test('is mended on its form when it is refused there, and nothing is left lying', async () => {
    const { outbox, becomes } = pretend();
    becomes(422);
    expect(await outbox.write(note(1))).toMatchObject({ kind: 'refused', problem: { detail: 'says 422' } });
    expect(outbox.waiting.value).toEqual([]);
  });

  test('stays to be seen when it is refused later, and holds up nothing behind it', async () => {
    const { outbox, took, becomes } = pretend();
    becomes(0);
    await outbox.write(note(1));
    becomes(422);
    await outbox.flush();
    expect(outbox.waiting.value).toMatchObject([{ entry: note(1), refused: { status: 422 } }]);
    becomes(201);
    expect((await outbox.write(note(2))).kind).toBe('kept');
    expect(took).toEqual([note(2)]);
    await outbox.drop(outbox.waiting.value[0]?.number ?? 0);
    expect(outbox.waiting.value).toEqual([]);
  });

  test('sends its photos first, and then names them', async () => {
    const { outbox, took, photos, becomes } = pretend();
    becomes(0);
    await outbox.write(note(1), [new Blob(['x'], { type: 'image/jpeg' })]);
    becomes(201);
    await outbox.flush();
    expect(photos).toEqual(['image/jpeg']);
    expect(took).toMatchObject([{ photos: ['f'.repeat(64)] }]);
  });

  test('lands each once and in order, however the connection comes and goes', async () => {
    const weather = fc.array(fc.constantFrom(0, 201, 503, 201), { minLength: 1, maxLength: 20 });
    await fc.assert(
      fc.asyncProperty(weather, async (states) => {
        const { outbox, took, becomes } = pretend();
        for (const [number, status] of states.entries()) {
          becomes(status);
          await outbox.write(note(number));
        }
        becomes(201);
        await outbox.flush();
        expect(took).toEqual(states.map((_, number) => note(number)));
      }),
      { seed: 11, numRuns: 200 },
    );
  });
});
