import { COMPANION_MS } from '../../rules/engine/computed.js';
import type { Quantity } from '../../rules/quantity.js';
import type { TimeSpan } from '../journal/gateway-runs.js';
import type { DayColumns } from '../journal/sealed/day.js';
import type { Use, UseOfFlags } from '../journal/use.js';
import { within } from './measured.js';
import type { Piece } from './pieces.js';
import type { Recipe } from './recipe.js';
import type { SourceRows } from './source-rows.js';
import type { Sink } from './track.js';

export type ComputedInputs = {
  readonly rows: Pick<SourceRows, 'blocks'>;
  readonly useOfFlags: UseOfFlags;
  readonly recipe: Recipe;
  /** The measured channels in the order of `recipe.inputs`. */
  readonly inputs: readonly { readonly quantity: Quantity; readonly pieces: readonly Piece[] }[];
  readonly pressureKpa: number;
};

type Block = { readonly columns: DayColumns; readonly correct: Piece['correct'] };

function* blocksOf({ rows }: Pick<ComputedInputs, 'rows'>, pieces: readonly Piece[], span: TimeSpan): Generator<Block> {
  for (const { sourceId, fromMs, toMs, correct } of within(pieces, span)) {
    for (const columns of rows.blocks(sourceId, fromMs, toMs)) yield { columns, correct };
  }
}

/** The last reading of an input up to a time that only grows. One object for all of them: there are millions. */
type Latest = { atMs: number; value: number; use: Use; moveTo(atMs: number): void };

const buildLatest = (blocks: Generator<Block>, useOfFlags: UseOfFlags): Latest => {
  let block: Block | undefined = blocks.next().value;
  let place = 0;
  const latest: Latest = {
    atMs: Number.NEGATIVE_INFINITY,
    value: Number.NaN,
    use: 'usable',
    moveTo: (atMs) => {
      while (block !== undefined) {
        const { deviceMs, raw, flags } = block.columns;
        const before = place;
        while (place < deviceMs.length && (deviceMs[place] ?? 0) <= atMs) place += 1;
        if (place > before) {
          latest.atMs = deviceMs[place - 1] ?? 0;
          latest.value = block.correct(raw[place - 1] ?? 0);
          latest.use = useOfFlags(flags[place - 1] ?? 0);
        }
        if (place < deviceMs.length) return;
        block = blocks.next().value;
        place = 0;
      }
    },
  };
  return latest;
};

/** Each reading of the first input with what was last read of the others, computed. */
export const walkPoints = (parts: ComputedInputs, span: TimeSpan, sink: Pick<Sink, 'reading'>): void => {
  const [lead, ...companions] = parts.inputs;
  if (lead === undefined || span.fromMs >= span.toMs) return;
  const { useOfFlags } = parts;
  const wider = { fromMs: span.fromMs - COMPANION_MS, toMs: span.toMs };
  const beside = companions.map(({ quantity, pieces }) => ({
    quantity,
    latest: buildLatest(blocksOf(parts, pieces, wider), useOfFlags),
  }));
  const compute = buildCompute(parts, lead.quantity, beside, sink);
  for (const { columns, correct } of blocksOf(parts, lead.pieces, span)) {
    const { deviceMs, raw, flags } = columns;
    for (let n = 0; n < deviceMs.length; n += 1)
      compute(deviceMs[n] ?? 0, correct(raw[n] ?? 0), useOfFlags(flags[n] ?? 0));
  }
};

type Beside = { readonly quantity: Quantity; readonly latest: Latest };

const buildCompute = (
  { recipe, pressureKpa }: ComputedInputs,
  lead: Quantity,
  beside: readonly Beside[],
  sink: Pick<Sink, 'reading'>,
): ((atMs: number, value: number, use: Use) => void) => {
  /** Why the moment cannot be computed, by the first input that is no water; null where a companion is missing. */
  const doubt = (atMs: number, use: Use): Use | undefined | null => {
    let found: Use | undefined = use === 'usable' ? undefined : use;
    for (const { latest } of beside) {
      if (found !== undefined) return found;
      if (atMs - latest.atMs > COMPANION_MS) return null;
      if (latest.use !== 'usable') found = latest.use;
    }
    return found;
  };
  return (atMs, value, use) => {
    for (const { latest } of beside) latest.moveTo(atMs);
    const unusable = doubt(atMs, use);
    if (unusable === null) return;
    if (unusable !== undefined) {
      sink.reading(atMs, undefined, unusable);
      return;
    }
    const known: { [quantity in Quantity]?: number } = { [lead]: value };
    for (const { quantity, latest } of beside) known[quantity] = latest.value;
    const answer = recipe.run(known, pressureKpa);
    if (answer === undefined) return;
    if (answer.ok) sink.reading(atMs, answer.value, 'usable');
    // A conductivity next to nothing is a probe in air, not a broken one.
    else sink.reading(atMs, undefined, answer.fault.code === 'impossible' ? 'out-of-water' : 'not-plausible');
  };
};
