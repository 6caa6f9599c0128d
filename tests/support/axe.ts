import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

export type Violation = { readonly id: string; readonly impact: string; readonly html: readonly string[] };

/** The light of the device changes, and the page follows it. */
export const becomesDay = async (page: Page): Promise<void> => {
  await page.emulateMedia({ colorScheme: 'light' });
  await page.waitForFunction(() => document.documentElement.dataset.light === 'day');
};

/** What keeps somebody from using a page: axe-core's serious and critical findings. */
export const seriousViolations = async (page: Page): Promise<readonly Violation[]> => {
  await page.evaluate(() => document.fonts.ready);
  await page.evaluate(AXE);
  return page.evaluate(async () => {
    // biome-ignore lint/suspicious/noExplicitAny: axe puts itself on the page without a type
    const found = await (globalThis as any).axe.run(document);
    if (found.passes.length === 0) throw new Error('axe looked at nothing');
    return (
      found.violations
        // biome-ignore lint/suspicious/noExplicitAny: as above
        .filter((one: any) => one.impact === 'serious' || one.impact === 'critical')
        // biome-ignore lint/suspicious/noExplicitAny: as above
        .map((one: any) => ({ id: one.id, impact: one.impact, html: one.nodes.map((node: any) => node.html) }))
    );
  });
};
