import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';

/** Opens a pair of pseudo-terminals, says the name of the one end, and carries bytes between the other and stdio. */
const PAIR = `
import os, sys, select, tty
master, slave = os.openpty()
tty.setraw(slave)
sys.stdout.write(os.ttyname(slave) + '\\n'); sys.stdout.flush()
while True:
    ready, _, _ = select.select([master, 0], [], [])
    if master in ready:
        os.write(1, os.read(master, 4096))
    if 0 in ready:
        said = os.read(0, 4096)
        if not said: break
        os.write(master, said)
`;

export type PseudoTerminal = {
  /** What a program opens as its serial line. */
  readonly path: string;
  readonly hear: (listen: (bytes: Buffer) => void) => void;
  readonly say: (bytes: string) => void;
  readonly close: () => Promise<void>;
};

export const openPseudoTerminal = async (): Promise<PseudoTerminal> => {
  const child: ChildProcess & { stdout: NodeJS.ReadableStream; stdin: NodeJS.WritableStream } = spawn(
    '/usr/bin/python3',
    ['-u', '-c', PAIR],
    { stdio: ['pipe', 'pipe', 'inherit'] },
  );
  const [first] = (await once(child.stdout, 'data')) as [Buffer];
  return {
    path: first.toString().trim(),
    hear: (listen) => child.stdout.on('data', listen),
    say: (bytes) => child.stdin.write(Buffer.from(bytes, 'latin1')),
    close: async () => {
      const ended = once(child, 'exit');
      child.stdin.end();
      await ended;
    },
  };
};
