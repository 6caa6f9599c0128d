import type { Malformed, MalformedCode, OddityCode } from '../../rules/wire/malformed.js';
import { parseTopic } from '../../rules/wire/topic.js';
import type { MalformedMessage } from '../journal/landing.js';
import type { Delivery } from './delivery.js';

/** So much of a malformed payload is kept: enough to see what the board sent. */
export const KEPT_BYTES = 200;

/** A refused message as it is journalled: counted for its board, with the reason and its first bytes. */
export const makeMalformedMessage = (
  delivery: Delivery,
  { code, parameters }: Malformed<MalformedCode | OddityCode>,
): MalformedMessage => {
  const address = parseTopic(delivery.topic);
  const said = address.kind === 'board' || address.kind === 'board-status' ? address.board : undefined;
  // Who sent it counts before whom the topic names: a board must not fill another's list.
  const board = delivery.board ?? said;
  return {
    atMs: delivery.arrivalMs,
    topic: delivery.topic,
    code,
    parameters,
    payload: delivery.payload.slice(0, KEPT_BYTES),
    // A message that was cut on its way here says how long it was.
    bytes: typeof parameters.bytes === 'number' ? parameters.bytes : delivery.payload.length,
    ...(board === undefined ? {} : { board }),
  };
};
