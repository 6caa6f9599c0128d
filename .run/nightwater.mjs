#!/usr/bin/env node
// The `nightwater` command: makes the checkout ready, then hands over to the compiled program.
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { ready, root } from './ready.mjs';

const programs = {
  nights: 'dist/simulator/nights.js',
  story: 'dist/simulator/story.js',
  bench: 'dist/tests/bench/main.js',
};
const command = process.argv[2];
ready();
await import(pathToFileURL(join(root, programs[command] ?? 'dist/gateway/cli/main.js')).href);
