import { formsOf } from '../../rules/words/channel.js';
import type { Said } from './said.js';

/** A phrase with its place: `x` from the left of the strip, in the unit of the widths. */
export type SaidAt = { readonly said: Said; readonly text: string; readonly x: number };
export type SaidLayout = { readonly shown: readonly SaidAt[] /** How many found no room. */; readonly more: number };

type Paper = {
  readonly width: number;
  /** Free space between two phrases. */
  readonly gap: number;
  readonly widthOf: (text: string) => number;
};

/**
 * Words under their tanks: each begins under its own tank in the longer form if the next phrase leaves room, else in the
 * shorter; at the right edge it moves left. One phrase a tank, the worst; what finds no room is counted, never cut.
 */
export const beneath = (said: readonly Said[], lefts: readonly number[], paper: Paper): SaidLayout => {
  const worst = said.filter((one, index) => said.findIndex(({ cell }) => cell === one.cell) === index);
  const shown: SaidAt[] = [];
  let free = 0;
  for (const [index, one] of worst.entries()) {
    const own = lefts[one.cell] ?? 0;
    const next = worst[index + 1];
    const end = next === undefined ? paper.width : (lefts[next.cell] ?? paper.width) - paper.gap;
    const placed = placedBetween(one, Math.max(own, free), free, end, paper);
    if (placed === undefined) continue;
    shown.push(placed);
    free = placed.x + paper.widthOf(placed.text) + paper.gap;
  }
  return { shown, more: said.length - shown.length };
};

/** The longest form that fits from its own tank on; else the shorter one, moved left as far as it must. */
const placedBetween = (said: Said, own: number, free: number, end: number, { widthOf }: Paper): SaidAt | undefined => {
  const forms = formsOf(said.phrase);
  const fits = forms.find((text) => own + widthOf(text) <= end);
  if (fits !== undefined) return { said, text: fits, x: own };
  const short = forms.at(-1) ?? '';
  const x = end - widthOf(short);
  return x >= free ? { said, text: short, x } : undefined;
};

/** Words in a row beside the name of the line, worst first, each with its tank; `lead` is the room for its mark. */
export const beside = (
  said: readonly Said[],
  paper: Paper & { readonly lead: number; readonly rest: number },
): SaidLayout => {
  const ordered = said.toSorted((a, b) => b.rank - a.rank);
  const shown: SaidAt[] = [];
  let x = 0;
  for (const one of ordered) {
    const last = shown.length + 1 === ordered.length;
    const room = paper.width - x - (last ? 0 : paper.rest);
    const named = (text: string): string => (one.name === undefined ? text : `${one.name} ${text}`);
    const text = formsOf(one.phrase)
      .map(named)
      .find((form) => paper.lead + paper.widthOf(form) <= room);
    if (text === undefined) break;
    shown.push({ said: one, text, x });
    x += paper.lead + paper.widthOf(text) + paper.gap;
  }
  return { shown, more: ordered.length - shown.length };
};
