import { lotsIn, totalOf } from './book.js';
import type { Entry } from './entry.js';
import { carry, goOut, lotsMeant, mix, type Pen, recount, setStage, setTo, shared } from './pen.js';
import { portion, tallyOf } from './tally.js';

type Sheet = Entry<'drain-down'>;

/** A drain-down sheet in the book: who was taken out, who was counted, what they are now, and where they went. */
export const endSheet = (pen: Pen, { fields }: Sheet, placeId: string): void => {
  const take = (animals: number | undefined, account: 'died' | 'culled'): void => {
    if (animals === undefined || animals === 0) return;
    for (const [lot, mine] of shared(lotsMeant(pen, placeId, undefined), animals)) goOut(pen, lot, mine, account);
  };
  take(fields.dead, 'died');
  take(fields.culled, 'culled');
  if (fields.count !== undefined) {
    const tally = tallyOf(fields.count);
    if (tally.ok) recount(pen, lotsMeant(pen, placeId, undefined), tally.value);
    else pen.doubts.push({ code: 'not-countable', placeId });
  }
  if (fields.stage !== undefined) setStage(pen, placeId, fields.stage);
  end(pen, fields, placeId);
};

const end = (pen: Pen, fields: Sheet['fields'], placeId: string): void => {
  const { placeId: to, batchId } = fields;
  switch (fields.end) {
    case 'back-in':
      return;
    case 'dumped':
      for (const lot of lotsMeant(pen, placeId, undefined)) goOut(pen, lot, lot.animals, 'dumped');
      return;
    case 'split':
      return share(pen, fields.to ?? [], placeId);
    case 'to':
    case 'pooled':
      if (to === undefined) return;
      for (const lot of lotsMeant(pen, placeId, undefined)) carry(pen, lot, to, lot);
      if (fields.end === 'pooled' && batchId !== undefined) mix(pen, to, batchId);
  }
};

/** Each part to its tank; what the parts do not name is missing, and is written as that. */
const share = (pen: Pen, parts: NonNullable<Sheet['fields']['to']>, placeId: string): void => {
  for (const part of parts) {
    if (part.placeId === placeId) continue;
    for (const [lot, mine] of shared(lotsMeant(pen, placeId, undefined), part.animals)) {
      carry(pen, lot, part.placeId, portion(lot, mine));
    }
  }
  const back = parts.reduce((sum, part) => sum + (part.placeId === placeId ? part.animals : 0), 0);
  const left = lotsIn(pen.book, placeId);
  if (totalOf(left).animals === back) return;
  for (const [lot, mine] of shared(left, back)) setTo(pen, lot, portion(lot, mine));
};
