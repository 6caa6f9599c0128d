import { spawn } from 'node:child_process';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { makeLine, parseSimulatorLine, type SimulatorLine } from '../../rules/wire/simulated.js';

/** The simulator as a process of its own: the gateway meets it on the wire only. */
export type InventedHatchery = {
  /** One after the other, to be read by one reader at a time; leaving a loop over it does not end it. */
  readonly lines: { [Symbol.asyncIterator](): AsyncIterator<SimulatorLine> };
  /** Its boards begin to publish to this broker. */
  goLive(broker: string): void;
  close(): Promise<void>;
};

/** Compiled or run from TypeScript: the simulator is the one that was built. */
const programPath = (): string =>
  fileURLToPath(
    new URL(
      import.meta.url.endsWith('.ts') ? '../../dist/simulator/demo.js' : '../../simulator/demo.js',
      import.meta.url,
    ),
  );

export const startInventedHatchery = ({
  seed,
  fromMs,
  isFirst,
}: {
  readonly seed: number;
  readonly fromMs: number;
  /** Nothing of it was told before: then it tells its log too. */
  readonly isFirst: boolean;
}): InventedHatchery => {
  const child = spawn(process.execPath, [programPath(), String(seed), String(fromMs), isFirst ? 'first' : 'again'], {
    stdio: ['pipe', 'pipe', 'inherit'],
  });
  const ended = new Promise<void>((resolve) => child.once('exit', () => resolve()));
  const reader = createInterface({ input: child.stdout })[Symbol.asyncIterator]();
  const next = async (): Promise<IteratorResult<SimulatorLine>> => {
    const line = await reader.next();
    return line.done === true
      ? { done: true, value: undefined }
      : { done: false, value: parseSimulatorLine(line.value) };
  };
  return {
    lines: { [Symbol.asyncIterator]: () => ({ next }) },
    goLive: (broker) => {
      child.stdin.write(makeLine({ kind: 'live', broker }));
    },
    close: async () => {
      child.stdin.end();
      await ended;
    },
  };
};
