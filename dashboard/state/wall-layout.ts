/** Sizes of the wall in pixels, from the screen and the number of strips. Nothing scrolls, whatever the room. */
export type WallLayout = {
  /** One pixel of a 1920 by 1080 wall, on this screen. */
  readonly px: number;
  readonly columns: number;
  readonly rows: number;
  /** `full`: words stand under their tank. `close`: beside the name of the line. */
  readonly density: 'full' | 'close';
  readonly strip: {
    readonly width: number;
    readonly title: number;
    readonly water: number;
    readonly labels: number;
    readonly words: number;
  };
};

/** At most this many strips above each other; more stand side by side. */
const ROWS = 5;
/** A tank narrower than this on the 1920 wall has no room for its name and value in full. */
export const FULL_CELL = 236;
export const LEFT = 620;
export const FOOT = 104;
const TOP = 14;
const EDGE = 34;
const BETWEEN = 40;
/** Left free under each strip. */
const BENEATH = 6;

/** Height of the row of supply and air under the lines. */
export const SUPPLY_ROW = 92;

export const wallLayout = (width: number, height: number, strips: number, supply = false): WallLayout => {
  const px = Math.min(width / 1920, height / 1080);
  const columns = Math.max(1, Math.ceil(strips / ROWS));
  const rows = Math.max(1, Math.ceil(strips / columns));
  const density = columns === 1 && rows <= 3 ? 'full' : 'close';
  const room = (height / px - FOOT - TOP * 2 - (supply ? SUPPLY_ROW : 0)) / rows;
  const across = (width / px - LEFT - EDGE * 2 - BETWEEN * (columns - 1)) / columns;
  const [title, labels, words] = density === 'full' ? [48, 62, 54] : [62, 46, 0];
  const water = Math.min(room - title - labels - words - BENEATH, 190);
  const strip = { width: across * px, title: title * px, water: water * px, labels: labels * px, words: words * px };
  return { px, columns, rows, density, strip };
};

/** Where the cells of a strip lie: equal for tanks, narrower for a header or supply; never moved by a state. */
export const cellSpans = (
  kinds: readonly { readonly narrow: boolean }[],
  width: number,
  { gap, widest }: { readonly gap: number; readonly widest: number },
): readonly { readonly x: number; readonly width: number }[] => {
  const weights = kinds.map(({ narrow }) => (narrow ? 0.55 : 1));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const unit = Math.min(widest, (width + gap) / Math.max(1, total));
  let x = 0;
  return weights.map((weight) => {
    const span = { x, width: unit * weight - gap };
    x += unit * weight;
    return span;
  });
};

/** Moves the whole wall by a few pixels over the hours, so that no line burns in. */
export const burnInShift = (nowMs: number): { readonly x: number; readonly y: number } => {
  const tenMinutes = Math.floor(nowMs / 600_000);
  return { x: zigzag(tenMinutes, 4), y: zigzag(Math.floor(tenMinutes / 3), 3) };
};

/** Walks from −size to size and back, one step at a time. */
const zigzag = (step: number, size: number): number => {
  const along = step % (4 * size);
  return along <= 2 * size ? along - size : 3 * size - along;
};
