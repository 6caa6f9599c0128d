import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

/** Relative luminance and contrast ratio as WCAG 2.2 defines them (0.04045 breakpoint). */
const luminance = (hex: string): number => {
  const channel = (at: number): number => {
    const s = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return s <= 0.04045 ? s / 12.92 : ((s + 0.055) / 1.055) ** 2.4;
  };
  return 0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5);
};
const contrast = (a: string, b: string): number => {
  const [light = 0, dark = 0] = [luminance(a), luminance(b)].toSorted((x, y) => y - x);
  return (light + 0.05) / (dark + 0.05);
};

const css = readFileSync(new URL('../../dashboard/style/tokens.css', import.meta.url), 'utf8');
const paletteOf = (selector: string): Readonly<Record<string, string>> => {
  const from = css.indexOf(selector);
  const block = css.slice(from, css.indexOf('}', from));
  return Object.fromEntries(
    [...block.matchAll(/--([\w-]+): (#[0-9a-f]{6});/g)].map(([, role = '', hex = '']) => [role, hex]),
  );
};

describe('contrast formula', () => {
  // Computed with the definitions of WCAG 2.2; #767676 and #777777 are its well-known neighbours of 4.5.
  it.each([
    ['#000000', '#ffffff', 21],
    ['#767676', '#ffffff', 4.5422],
    ['#777777', '#ffffff', 4.4781],
    ['#ff0000', '#000000', 5.252],
    ['#d0d0d0', '#1a1a1a', 11.2839],
  ])('of %s on %s is %d', (a, b, ratio) => {
    expect(contrast(a, b)).toBeCloseTo(ratio, 3);
  });
});

/** Text that somebody acts on: AAA 7:1. Other text: AA 4.5:1. Graphics that carry a meaning: 3:1 (WCAG 2.2 1.4.3, 1.4.6, 1.4.11). */
const PAIRS: readonly (readonly [front: string, back: string, least: number, what: string])[] = [
  ['ink', 'ground', 7, 'values and sentences'],
  ['ink', 'panel', 7, 'values and sentences on the panel'],
  ['ink', 'water', 7, 'the line to paste'],
  ['float', 'ground', 7, 'names and values of well tanks'],
  ['muted', 'ground', 4.5, 'lesser words'],
  ['muted', 'panel', 4.5, 'lesser words on the panel'],
  ['alarm', 'ground', 4.5, 'an alarm in words'],
  ['alarm', 'panel', 4.5, 'an alarm in words on the panel'],
  ['alarm-ink', 'alarm', 4.5, 'words on the alarm colour'],
  ['alarm', 'water', 3, 'a diamond in the water'],
  ['ink', 'deep', 3, 'a ring in the water'],
  ['float', 'water', 3, 'a float in the water'],
  ['float', 'deep', 3, 'a float in the deep of the water'],
  ['trail', 'water', 3, 'a trail'],
  ['trail', 'deep', 3, 'a trail in the deep'],
  ['trail', 'ground', 3, 'a trail outside of the water'],
  ['surface', 'ground', 3, 'the edge of the water'],
  ['surface', 'panel', 3, 'the edge of the water in the key'],
  ['limit', 'ground', 3, 'the dots of a limit, and the edge of a button'],
  ['limit', 'panel', 3, 'the dots of a limit in the key'],
  ['sand', 'ground', 3, 'a bed'],
];

describe.each([
  ['night', '[data-light="night"]'],
  ['day', '[data-light="day"]'],
])('the palette of the %s', (_, selector) => {
  const palette = paletteOf(selector);
  it.each(PAIRS)('tells %s from %s, at least %d to 1, for %s', (front, back, least) => {
    const [a, b] = [palette[front], palette[back]];
    expect(a, front).toBeDefined();
    expect(b, back).toBeDefined();
    expect(contrast(a ?? '', b ?? '')).toBeGreaterThanOrEqual(least);
  });

  it('has every role that the other palette has', () => {
    expect(Object.keys(palette).toSorted()).toEqual(Object.keys(paletteOf('[data-light="day"]')).toSorted());
  });
});
