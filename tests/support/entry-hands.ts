import type { Page } from 'playwright-core';
import { choiceWords } from '../../dashboard/state/entry-choice.js';
import type { Entry } from '../../rules/log/entry.js';
import { ENTRY_KINDS } from '../../rules/log/entry.js';
import type { Field, Shape } from '../../rules/log/field.js';
import { fieldLabel } from '../../rules/words/entry-field.js';

const READER = { zone: 'UTC', hours: 24, temperatureUnit: 'C' } as const;

/** Presses the pill of these words under a question. */
export const press = async (page: Page, question: string | RegExp, words: string): Promise<void> => {
  const group = page.getByRole('group', { name: question });
  const pill = group.getByRole('button', { name: words, exact: true });
  if ((await pill.getAttribute('aria-pressed')) !== 'true') await pill.click();
};

/** Types the fields of an entry into the form that is open, as a person reads it off a sheet of paper. */
export const fillFields = async (page: Page, entry: Entry, skip: readonly string[] = []): Promise<void> => {
  const { shape } = ENTRY_KINDS[entry.kind];
  if (shape.kind !== 'fields') throw new Error('no fields');
  await fill(page, shape, entry.fields, skip);
};

type Group = Extract<Shape, { kind: 'fields' }>;

const fill = async (page: Page, shape: Group, fields: unknown, skip: readonly string[]): Promise<void> => {
  for (const [name, field] of Object.entries(shape.fields)) {
    const value = (fields as Readonly<Record<string, unknown>>)[name];
    if (value !== undefined && !skip.includes(name)) await fillOne(page, name, field, value);
  }
};

const fillOne = async (page: Page, name: string, { shape }: Field<unknown>, value: unknown): Promise<void> => {
  const label = fieldLabel(name);
  switch (shape.kind) {
    case 'fields':
      return fill(page, shape, value, []);
    case 'flag':
      return value === true ? press(page, label, 'Yes') : undefined;
    case 'choice': {
      const words = choiceWords(name, String(value), READER);
      if (shape.words.length <= 7) return press(page, label, words);
      await page.getByLabel(label, { exact: true }).selectOption(String(value));
      return;
    }
    case 'list':
      await lineOf(page, label).fill((value as readonly unknown[]).join(' '));
      return;
    default: {
      const line = lineOf(page, label);
      if ((await line.evaluate((element) => element.tagName)) === 'SELECT') await line.selectOption(String(value));
      else await line.fill(String(value));
    }
  }
};

/** A needed field says so to those who do not see it. */
const lineOf = (page: Page, label: string) =>
  page.getByLabel(new RegExp(`^${label.replaceAll(/[()]/g, '.')}(?: \\(needed\\))?$`)).first();
