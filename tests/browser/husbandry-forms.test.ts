import { connectAsync, type MqttClient } from 'mqtt';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { LogLine } from '../../rules/wire/log.js';
import { begun, diary } from '../rules/log/diary.js';
import { seriousViolations } from '../support/axe.js';
import { type BrowserHatchery, openBrowserHatchery, topicOf } from '../support/browser-hatchery.js';
import { noChromium } from '../support/chromium.js';
import { hatchery, NOON_MS } from '../support/hatchery.js';
import { peer } from '../support/peer.js';
import { UNITED } from '../support/units-diary.js';

const CONTACT = 'tanks/L2/contact';

peer('Chromium', noChromium)('what people fill in and press', () => {
  let room: BrowserHatchery;
  let page: Page;
  let board: MqttClient;

  beforeAll(async () => {
    room = await openBrowserHatchery(hatchery(UNITED.tanks, { mappings: UNITED.mappings }), NOON_MS);
    room.hears(UNITED.mappings.map(({ channelId }) => ({ topic: topicOf(channelId), value: 24, atMs: NOON_MS })));
    const { by, ...entry } = diary(NOON_MS).write('brought-in', 'l1', begun('B-1', 1_000));
    room.gateway.log.write(entry, by);
    board = await connectAsync(room.gateway.broker);
    page = await room.open('/day');
  }, 60_000);
  afterAll(async () => {
    await board.endAsync();
    expect(room.errors).toEqual([]);
    await room.close();
  });

  const goes = async (path: string): Promise<void> => {
    await page.goto(`${room.url}${path}`);
    await page.waitForSelector('main');
  };
  const sequence = (): number => room.gateway.journal.sequence();
  /** The sentence that a screen reader says with a field. */
  const saidOf = async (label: string | RegExp): Promise<string> => {
    const field = page.getByLabel(label).first();
    const ids = (await field.getAttribute('aria-describedby')) ?? '';
    return page.evaluate(
      (all) =>
        all
          .split(' ')
          .map((id) => document.getElementById(id)?.textContent ?? '')
          .join(' '),
      ids,
    );
  };

  /** Where a form is, what is typed wrongly, what is pressed, and what is said beside which field. */
  const FORMS: readonly (readonly [
    path: string,
    typed: readonly (readonly [label: string | RegExp, text: string])[],
    button: string | RegExp,
    said: readonly (readonly [label: string | RegExp, sentence: RegExp])[],
  ])[] = [
    [
      '/write?place=l1&kind=feeding',
      [
        ['Volume', 'six'],
        ['Left before feeding', '-4'],
      ],
      'Write it',
      [
        [/^Volume/, /^Volume: this is not a number; write digits only, as in 12\.5\./],
        [
          /^Left before feeding/,
          /^Left before feeding: -4 is outside of what can be; give 0 to 10,000,000,000 cells\/mL\./,
        ],
      ],
    ],
    [
      '/write?place=l1&kind=count',
      [
        ['Counted in the subsamples', '69 x 70'],
        ['Each subsample', '0.25'],
        ['Taken from', '60'],
      ],
      'Write it',
      [[/^Counted in the subsamples/, /^Counted in the subsamples: this is not a number/]],
    ],
    [
      '/write?place=l1&kind=water-change',
      [
        ['Share of the water', '130'],
        ['Temperature', '90'],
      ],
      'Write it',
      [
        [/^Share of the water/, /^Share of the water: 130 is outside of what can be; give 0 to 100 %\./],
        [/^Temperature/, /^Temperature: 90 is outside of what can be; give -2 to 45 °C\./],
      ],
    ],
    [
      '/write?place=l1&kind=deaths',
      [['How many', '0']],
      'Write it',
      [[/^How many/, /^How many: 0 is outside of what can be; give 1 to/]],
    ],
    [
      '/write?place=l1&kind=brought-in',
      [['Batch', 'no / batch']],
      'Write it',
      [
        [/^Batch/, /^Batch: “no \/ batch” cannot be written so/],
        [/^From where/, /^From where: this is missing; fill it in\./],
      ],
    ],
    [
      '/sheets/l1',
      [
        ['Shell lengths', '150 long'],
        ['Dead', 'few'],
      ],
      /^Write the sheet/,
      [
        [/^Shell lengths/, /^Shell lengths: this is not a number/],
        [/^Dead/, /^Dead: this is not a number/],
      ],
    ],
    [
      '/runs',
      [
        ['Ambient', '20'],
        ['Each hold', '600'],
        ['Ceiling, never to be passed', 'hot'],
      ],
      /^(Begin|Start|Plan|Write)/,
      [
        [/^Each hold/, /^Each hold: 600 is outside of what can be; give 1 to 240 min\./],
        [/^Ceiling/, /^Ceiling, never to be passed: this is not a number/],
      ],
    ],
    [
      '/site',
      [
        ['Height over the sea', 'high'],
        ['Every reading', '5'],
      ],
      'Keep the change',
      [
        ['Height over the sea', /^Metres over the sea, from −430 to 8800/],
        ['Every reading', /^Whole days, 30 or more/],
      ],
    ],
  ];

  it.each(FORMS)(
    '%s says beside each field what is wrong with it, and keeps nothing',
    { timeout: 60_000 },
    async (path, typed, button, said) => {
      await goes(path);
      const before = sequence();
      for (const [label, text] of typed) await page.getByLabel(label).first().fill(text);
      await page.getByRole('button', { name: button }).first().click();
      await page.locator('.field-wrong').first().waitFor();
      for (const [label, sentence] of said) expect(await saidOf(label), String(label)).toMatch(sentence);
      expect(sequence()).toBe(before);
      // What was typed is still there to be mended.
      for (const [label, text] of typed) expect(await page.getByLabel(label).first().inputValue()).toBe(text);
    },
  );

  it('a tank and its limits say so too, and what cannot be is told on the bench by its name', {
    timeout: 60_000,
  }, async () => {
    await goes('/places');
    await page.getByRole('button', { name: 'Change L1' }).click();
    await page.getByLabel('Volume').fill('big');
    await page.getByRole('button', { name: 'Keep the change' }).click();
    await page.getByText('“big” is not a number: write digits only, as in 12.5.').waitFor();
    await page.getByLabel('Volume').fill('-3');
    await page.getByRole('button', { name: 'Keep the change' }).click();
    await page.getByText('A tank holds more than nothing.').waitFor();
    await goes('/limits/l1');
    const before = sequence();
    const row = page.locator('.limits-row', { hasText: 'Temperature' });
    await row.getByLabel('limit, high').fill('1,200');
    await page.getByRole('button', { name: /^Stand by these/ }).click();
    await row.getByText('“1,200” can be read in two ways: write the thousands without a mark.').waitFor();
    await row.getByLabel('limit, high').fill('12');
    await page.getByRole('button', { name: /^Stand by these/ }).click();
    await page
      .getByText(/“limit, high” is 12 °C, and must be above/)
      .first()
      .waitFor();
    expect(sequence()).toBe(before);
    await goes('/bench');
    await page.getByText('Stuck heater').click();
    await page.getByLabel('Power of the heater').fill('-1');
    await page.getByText('The power of the heater is -1 kW; there is an answer only from 0.001 to 10000 kW.').waitFor();
    await page.getByLabel('Its density, cells per mL').fill('0');
    await page
      .getByText(/^The density of the culture is 0 cells\/mL; there is an answer only from 0\.001 to/)
      .first()
      .waitFor();
  });

  /** A contact as a board sends it; the gateway has it when this resolves (QoS 1, acknowledged after the commit). */
  const goesTo = async (value: 0 | 1, afterMs: number): Promise<void> => {
    room.clock.isSet(room.clock.now() + afterMs);
    await board.publishAsync(CONTACT, String(value), { qos: 1 });
  };
  const written = (kind: string): Promise<readonly LogLine[]> =>
    page.evaluate(async (url) => (await fetch(url)).json() as Promise<readonly LogLine[]>, `/api/v1/log?kind=${kind}`);

  it('a push button is named, mapped to an entry on the page, and writes it once however it bounces', {
    timeout: 90_000,
  }, async () => {
    await goesTo(0, 1_000);
    await goes('/sources');
    const source = page.locator('.source', { hasText: CONTACT });
    await source.getByLabel('Tank').fill('L2');
    await source.getByLabel('Measures').selectOption('contact');
    await source.getByRole('button', { name: 'Name it' }).click();
    await source.getByRole('button', { name: 'Name it' }).waitFor({ state: 'detached' });
    await goesTo(0, 1_000);

    await goes('/buttons');
    await page.getByRole('button', { name: 'Set up a button' }).click();
    await page.getByRole('button', { name: 'Set it up' }).click();
    await page.getByText('Which contact is the button?').waitFor();
    await page.getByText('A name with a letter or digit, as it stands on the button.').waitFor();
    await page.getByLabel('Name').fill('Fed L2');
    await page.getByLabel('The contact').selectOption('l2.contact');
    await page.getByLabel('What it does').selectOption('feeding');
    await page.getByLabel('At which tank').selectOption('l2');
    await page.getByLabel('Volume').fill('a can');
    await page.getByRole('button', { name: 'Set it up' }).click();
    await page.getByText('Volume: this is not a number; write digits only, as in 12.5.').first().waitFor();
    expect(await seriousViolations(page)).toEqual([]);
    await page.getByLabel('Volume').fill('6.5');
    await page.getByRole('button', { name: 'Set it up' }).click();
    await page.getByText(/going on: writes “Feeding”, L2/).waitFor();

    expect(await written('feeding')).toHaveLength(0);
    // Pressed once: the contact bounces for a few hundredths of a second, stays closed, and bounces again when let go.
    for (const [value, afterMs] of [
      [1, 60_000],
      [0, 8],
      [1, 6],
      [0, 9],
      [1, 12],
    ] as const)
      await goesTo(value, afterMs);
    for (const [value, afterMs] of [
      [0, 700],
      [1, 7],
      [0, 9],
    ] as const)
      await goesTo(value, afterMs);
    expect(await written('feeding')).toMatchObject([
      { entry: { placeId: 'l2', by: 'button fed-l2', fields: { volumeL: 6.5 } } },
    ]);
    // Let go, nothing is written; nor by the same message once more.
    await goesTo(0, 60_000);
    expect(await written('feeding')).toHaveLength(1);
    // Pressed again later, it is another meal.
    await goesTo(1, 60_000);
    await goesTo(0, 500);
    expect(await written('feeding')).toHaveLength(2);
    await goes('/day');
    await page.getByText('6.5 L').first().waitFor();
  });

  it('a button that declares work ends it when it is pressed again', { timeout: 60_000 }, async () => {
    await goes('/buttons');
    await page.getByRole('button', { name: 'Change fed-l2' }).click();
    await page.getByLabel('What it does').selectOption('work:water-change');
    await page.getByLabel('For so long').fill('0');
    await page.getByRole('button', { name: 'Keep the change' }).click();
    await page.getByText('Minutes, from 1 to 10,080 (a week).').waitFor();
    await page.getByLabel('For so long').fill('45');
    await page.getByRole('button', { name: 'Keep the change' }).click();
    await page.getByText(/declares “water change”, L2, 45 min/).waitFor();
    await goesTo(1, 60_000);
    await goesTo(0, 400);
    await goes('/tanks/l2');
    await page
      .getByText(/4\d min left/)
      .first()
      .waitFor();
    await goesTo(1, 20 * 60_000);
    await goesTo(0, 400);
    expect(await written('work')).toHaveLength(1);
    expect(await written('work-end')).toHaveLength(1);
    // Set to nothing, it does nothing.
    await goes('/buttons');
    await page.getByRole('button', { name: 'Change fed-l2' }).click();
    await page.getByRole('button', { name: 'It writes nothing any more' }).click();
    await page.getByText('No button is set up yet.').waitFor();
    await goesTo(1, 60_000);
    expect(await written('work')).toHaveLength(1);
  });

  it('the papers for an inspector come on paper as tables, with the year, and a batch’s counts in one line', {
    timeout: 60_000,
  }, async () => {
    const { write, entries } = diary(room.clock.now() + 1_000);
    for (const animals of [940, 950, 930, 945]) write('count', 'l1', { count: { animals } });
    for (const { by, ...entry } of entries)
      expect(room.gateway.log.write({ ...entry, atMs: room.clock.now() }, by)).toMatchObject({ ok: true });
    await goes('/papers');
    await page.emulateMedia({ media: 'print' });
    await page.getByRole('row', { name: /^B-1 4 80 25/ }).waitFor();
    const text = ((await page.locator('.papers').textContent()) ?? '').replaceAll(/\s+/g, ' ');
    expect(text).toContain('4 May 2025 to 4 May 2026');
    expect(text).not.toContain('What these papers lack Batch');
    const rows = await page.evaluate(() =>
      [...document.querySelectorAll('.papers-table tr')].map((row) => getComputedStyle(row).display),
    );
    expect(new Set(rows)).toEqual(new Set(['table-row']));
    const pressed = await page.evaluate(
      () =>
        [...document.querySelectorAll<HTMLElement>('.papers button')].filter((one) => one.offsetParent !== null).length,
    );
    expect(pressed).toBe(0);
    await page.emulateMedia({ media: 'screen' });
  });
});
