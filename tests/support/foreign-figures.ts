import type { Page } from 'playwright-core';

/**
 * What a page says otherwise than a site in °F, with twelve hours and a decimal comma: a degree Celsius, a clock of 24
 * hours, a decimal point between two digits. Looked for in every text, spoken name, hint and typed figure; codes,
 * versions and addresses are marked as not to be translated (HTML), and pickers are the device's own.
 */
export const foreignFigures = (page: Page): Promise<readonly string[]> =>
  page.evaluate(() => {
    const FOREIGN = /°C|\d\.\d|(?<![\d:])(?:[01]?\d|2[0-3]):[0-5]\d(?![\d:])(?!\s?(?:am|pm))/;
    const found: string[] = [];
    const look = (text: string | null, element: Element): void => {
      const at = text === null ? null : FOREIGN.exec(text);
      if (text === null || at === null || element.closest('script, style, code, pre, [translate=no]') !== null) return;
      found.push(`${element.tagName}: ${text.slice(Math.max(0, at.index - 40), at.index + 40).trim()}`);
    };
    const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    for (let node = texts.nextNode(); node !== null; node = texts.nextNode())
      if (node.parentElement !== null) look(node.textContent, node.parentElement);
    for (const element of document.querySelectorAll('body *')) {
      for (const name of ['aria-label', 'title', 'placeholder', 'alt']) look(element.getAttribute(name), element);
      if (element instanceof HTMLInputElement && !['time', 'datetime-local'].includes(element.type))
        look(element.value, element);
      if (element instanceof HTMLTextAreaElement) look(element.value, element);
    }
    return found;
  });
