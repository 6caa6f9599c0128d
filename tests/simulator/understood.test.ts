import { describe, expect, it } from 'vitest';
import { decode } from '../../gateway/intake/decode.js';
import { canonicalFrom, UNIT } from '../../rules/quantity.js';
import { advance, type Run } from '../../simulator/advance.js';
import { startHatchery } from '../../simulator/hatchery-step.js';
import { type Message, sourceKey, sourceOf } from '../../simulator/payload.js';
import { demoScript } from '../../simulator/world/demo-script.js';
import { saltmarshLane } from '../../simulator/world/saltmarsh-lane.js';

const START = Date.UTC(2026, 5, 17, 3);
const hatchery = saltmarshLane(7);

type Arrived = { readonly message: Message; readonly arrivalMs: number };

/** Two hours of the demo, with a backlog, a reboot and fault values in them; each message arrives within half a minute. */
const twoHours = (): readonly Arrived[] => {
  let run: Run = { hatchery, state: startHatchery(hatchery, START), schedule: demoScript(hatchery, START) };
  return Array.from({ length: 240 }, (_, half) => START + (half + 1) * 30_000).flatMap((arrivalMs) => {
    const passed = advance(run, arrivalMs, 5);
    run = passed.run;
    return passed.messages.map((message) => ({ message, arrivalMs }));
  });
};

const bytes = ({ payload }: Message): Uint8Array =>
  typeof payload === 'string' ? new TextEncoder().encode(payload) : payload;

describe('what the boards say and what the gateway hears', () => {
  const heard = twoHours().map(({ message, arrivalMs }) => ({
    message,
    decoded: decode({ topic: message.topic, payload: bytes(message), arrivalMs }),
  }));

  it('is understood to the last message, with nothing odd in it', () => {
    const odd = heard.filter(({ decoded }) => decoded.kind === 'malformed' || decoded.kind === 'empty');
    expect(odd).toEqual([]);
    expect(heard.flatMap(({ decoded }) => (decoded.kind === 'readings' ? decoded.oddities : []))).toEqual([]);
  });

  it('comes from the sources that the boards promise, and from each of them', () => {
    const promised = hatchery.boards.flatMap((board) => board.probes.map((probe) => sourceKey(sourceOf(board, probe))));
    const keys = heard.flatMap(({ decoded }) =>
      decoded.kind === 'readings' ? decoded.items.map(({ key }) => key) : [],
    );
    expect(new Set(keys)).toEqual(new Set(promised));
  });

  it('states units that turn into ours: 24 °C stay 24 °C, 49 mS/cm do not become 4.9', () => {
    const [last] = heard.filter(({ message }) => message.topic === 'boards/larval-2/senml').slice(-1);
    const items = last?.decoded.kind === 'readings' ? last.decoded.items : [];
    const value = (name: string, quantity: 'temperature' | 'conductivity' | 'oxygen-saturation') =>
      items
        .filter(({ pointer }) => pointer === `larval-2/L3/${name}`)
        .map(({ raw, statedUnit }) => canonicalFrom(quantity, statedUnit ?? UNIT[quantity], raw))[0];
    expect(value('temperature', 'temperature')).toBeGreaterThan(22);
    expect(value('temperature', 'temperature')).toBeLessThan(25);
    expect(value('conductivity', 'conductivity')).toBeGreaterThan(45);
    expect(value('conductivity', 'conductivity')).toBeLessThan(52);
    expect(value('oxygen-saturation', 'oxygen-saturation')).toBeGreaterThan(90);
  });

  it('carries the boards’ own times where they have a clock', () => {
    for (const { message, decoded } of heard) {
      if (decoded.kind !== 'readings') continue;
      const board = hatchery.boards.find(({ id }) => id === message.board);
      expect(decoded.items.every(({ time }) => (time?.kind === 'stamped') === (board?.stamps !== 'none'))).toBe(true);
    }
  });
});
