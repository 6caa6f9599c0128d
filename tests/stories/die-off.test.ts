import { execFile, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { expect, onTestFinished, test } from 'vitest';
import type { DieOffStory } from '../../simulator/stories/die-off.js';
import { noChromium } from '../support/chromium.js';

const run = promisify(execFile);
/** As `npm test` built it: the gateway, the simulator and the pages together. */
const STORY = fileURLToPath(new URL('../../dist/simulator/story.js', import.meta.url));

/** A story told with `--stay`, and how it is ended as a service manager would. */
const staying = async (args: readonly string[]) => {
  const child = spawn(process.execPath, [STORY, 'story', 'die-off', '--stay', ...args], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  onTestFinished(() => void child.kill('SIGKILL'));
  const ended = once(child, 'exit');
  const said = await new Promise<string>((resolve, reject) => {
    let soFar = '';
    child.stdout.on('data', (piece) => {
      soFar += String(piece);
      if (soFar.endsWith('\n}\n')) resolve(soFar);
    });
    child.once('exit', () => reject(new Error(`The story ended: ${soFar}`)));
  });
  const ends = async (): Promise<void> => {
    child.kill('SIGTERM');
    await ended;
  };
  return { story: JSON.parse(said) as DieOffStory, ends };
};

test.skipIf(noChromium() !== undefined)(
  'a die-off is told from the boards to the paper: right line, right first mover, the gap with its reason, no drain-down',
  { timeout: 240_000 },
  async () => {
    const folder = mkdtempSync(join(tmpdir(), 'nightwater-paper-'));
    onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
    const paper = join(folder, 'review.pdf');
    const { story, ends } = await staying(['--json', '--pdf', paper]);
    expect((await fetch(story.review)).ok).toBe(true);
    await ends();
    // Nothing of it goes on running.
    await expect(fetch(story.review)).rejects.toThrow();
    expect(story).toMatchObject({
      line: 'warm',
      firstMover: 'warm.temperature',
      gapReason: 'board-silent',
      drainDownCounted: false,
    });
    expect(story.exposureHours).toBeGreaterThan(8);
    expect(story.exposureHours).toBeCloseTo(story.exposureHoursFromRaw, 6);

    const info = (await run('pdfinfo', [paper])).stdout;
    expect(Number(/Pages:\s+(\d+)/.exec(info)?.[1])).toBe(story.pdfPages);
    const text = (await run('pdftotext', ['-layout', paper, '-'])).stdout;
    for (const words of [
      'Before the deaths in N1, N2, N3, N4',
      '4 of 5 on Warm line, 0 of 6 elsewhere',
      'First to move: Warm line temperature',
      'board silent 41 min',
      'Laboratory results',
      'It cannot name a cause.',
      `1 / ${story.pdfPages ?? ''}`,
    ])
      expect(text.replaceAll(/\s+/g, ' '), words).toContain(words);
    expect(text).not.toContain('Comparing with the record');
  },
);
