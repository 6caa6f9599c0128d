import { existsSync } from 'node:fs';
import { type Browser, chromium } from 'playwright-core';

const PATH = '/usr/bin/chromium';

/** Why there is no browser here, or undefined. */
export const noChromium = (): string | undefined => (existsSync(PATH) ? undefined : `no ${PATH}`);

/** A browser that speaks to nobody but this machine. */
export const openChromium = (): Promise<Browser> =>
  chromium.launch({
    executablePath: PATH,
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  });
