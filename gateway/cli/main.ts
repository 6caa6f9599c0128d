import { existsSync, readFileSync } from 'node:fs';
import { run } from './run.js';

/** package.json lies above the sources, and above dist when compiled. */
const version = (): string => {
  const paths = ['../../package.json', '../../../package.json'].map((path) => new URL(path, import.meta.url));
  const found = paths.find((path) => existsSync(path));
  const { version: said = '0.0.0' } =
    found === undefined ? {} : (JSON.parse(readFileSync(found, 'utf8')) as { readonly version?: string });
  return said;
};

const io = {
  out: (line: string): void => {
    process.stdout.write(`${line}\n`);
  },
  err: (line: string): void => {
    process.stderr.write(`${line}\n`);
  },
  env: process.env,
  now: (): number => Date.now(),
};

// A reader that had enough (`| head`) is no failure of ours.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
});

process.exitCode = await run(process.argv.slice(2), io, version());
