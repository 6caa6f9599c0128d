import { existsSync } from 'node:fs';
import { chromium } from 'playwright-core';

const CHROMIUM = '/usr/bin/chromium';

/** The review on A4 as Chromium prints it; undefined where there is no Chromium. */
export const printReview = async (address: string): Promise<Uint8Array | undefined> => {
  if (!existsSync(CHROMIUM)) return undefined;
  const browser = await chromium.launch({ executablePath: CHROMIUM, args: ['--no-sandbox', '--disable-gpu'] });
  try {
    const page = await browser.newPage();
    await page.goto(address);
    await page.locator('.review-stack[data-whole="yes"]').waitFor();
    await page.locator('.review [data-compared="yes"]').waitFor({ state: 'attached', timeout: 120_000 });
    return await page.pdf({ format: 'A4', preferCSSPageSize: false });
  } finally {
    await browser.close();
  }
};

/** Pages of a PDF, by its page objects. */
export const pagesOf = (pdf: Uint8Array): number =>
  (
    Buffer.from(pdf)
      .toString('latin1')
      .match(/\/Type\s*\/Page(?!s)/g) ?? []
  ).length;
