// Makes a checkout ready to run: dependencies from the lockfile, then the build, each only when stale.
// Plain JavaScript and no imports but Node's own, because it must run before anything is installed.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';

export const root = dirname(dirname(fileURLToPath(import.meta.url)));
const folders = ['rules', 'gateway', 'simulator', 'dashboard', 'tests'];

const say = (text) => process.stderr.write(`nightwater: ${text}\n`);
const hashOf = (...parts) => parts.reduce((hash, part) => hash.update(part), createHash('sha256')).digest('hex');
const readOr = (path, other) => (existsSync(path) ? readFileSync(path, 'utf8').trim() : other);

/** Every source file's path, size and time: enough to tell whether the last build is still the right one. */
const fingerprint = (folder) => {
  const lines = [];
  for (const entry of readdirSync(join(root, folder), {
    withFileTypes: true,
    recursive: true,
  })) {
    if (!entry.isFile()) continue;
    const path = join(entry.parentPath ?? entry.path, entry.name);
    const { size, mtimeMs } = statSync(path);
    lines.push(`${path} ${size} ${mtimeMs}`);
  }
  return lines.sort().join('\n');
};

const run = (doing, command, args) => {
  say(`${doing} ...`);
  const began = Date.now();
  const done = spawnSync(command, args, {
    cwd: root,
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'pipe'],
    shell: process.platform === 'win32',
  });
  if (done.status !== 0) {
    process.stderr.write(`${done.stdout ?? ''}${done.stderr ?? ''}\n`);
    say(`${doing} failed. The lines above say why; nothing was started.`);
    process.exit(1);
  }
  say(`${doing}: done in ${((Date.now() - began) / 1000).toFixed(0)} s`);
};

const install = () => {
  const want = hashOf(readFileSync(join(root, 'package-lock.json')), process.version, process.arch);
  const stamp = join(root, 'node_modules', '.nightwater-installed');
  if (readOr(stamp, '') === want) return;
  run('installing what package-lock.json names (the first time takes a minute or two)', 'npm', [
    'ci',
    '--no-audit',
    '--no-fund',
  ]);
  writeFileSync(stamp, want);
};

const build = (again) => {
  const stamp = join(root, 'dist', '.built');
  const want = hashOf(...folders.map(fingerprint), readFileSync(join(root, 'package-lock.json')));
  if (!again && readOr(stamp, '') === want) return;
  run('compiling', process.execPath, [join(root, 'node_modules', 'typescript', 'bin', 'tsc'), '-b']);
  run('building the pages', process.execPath, [
    join(root, 'node_modules', 'vite', 'bin', 'vite.js'),
    'build',
    '--config',
    'dashboard/vite.config.ts',
    '--logLevel',
    'warn',
  ]);
  mkdirSync(dirname(stamp), { recursive: true });
  writeFileSync(stamp, want);
};

export const ready = ({ again = false } = {}) => {
  const [major = 0, minor = 0] = process.versions.node.split('.').map(Number);
  if (major < 20 || (major === 20 && minor < 19)) {
    say(
      `Node ${process.versions.node} is too old: install Node 20.19 or newer (nodejs.org), then run the same command again.`,
    );
    process.exit(1);
  }
  install();
  build(again);
};

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  ready({ again: process.argv.includes('--rebuild') });
}
