import { isPlaceId } from './place.js';
import { isQuantity, type Quantity } from './quantity.js';

/** A quantity of a place: `l2.temperature`, with a position `b3.oxygen-mg-l.bottom`, computed `l2.salinity~computed`. */
export type ChannelAddress = {
  readonly placeId: string;
  readonly quantity: Quantity;
  readonly position?: string;
  readonly computed?: boolean;
};

export const makeChannelId = ({ placeId, quantity, position, computed }: ChannelAddress): string =>
  `${placeId}.${quantity}${position === undefined ? '' : `.${position}`}${computed === true ? '~computed' : ''}`;

/** The inverse of `makeChannelId`; undefined when the text is not a channel's address. */
export const parseChannelId = (text: string): ChannelAddress | undefined => {
  const computed = text.endsWith('~computed');
  const [placeId, quantity, position, ...rest] = (computed ? text.slice(0, -'~computed'.length) : text).split('.');
  if (placeId === undefined || quantity === undefined || rest.length > 0) return undefined;
  if (!isPlaceId(placeId) || !isQuantity(quantity) || (position !== undefined && !isPlaceId(position)))
    return undefined;
  return {
    placeId,
    quantity,
    ...(position === undefined ? {} : { position }),
    ...(computed ? { computed } : {}),
  };
};
