import { type Malformed, malformed } from '../../rules/wire/malformed.js';

/** A text, or one of the signs that nest and part; numbers and words between them do not matter here. */
const TOKENS = /"(?:[^"\\]|\\.)*"|[{}[\],]/g;

/**
 * What JSON.parse does not tell of a text that it accepts: a key that stands twice in one object (RFC 8259 section 4
 * leaves open which counts), and nesting below the limit.
 */
export const shapeFault = (json: string, depthLimit: number): Malformed | undefined => {
  const open: (Set<string> | undefined)[] = [];
  let keyNext = false;
  for (const [token] of json.matchAll(TOKENS)) {
    const keys = open.at(-1);
    if (token === '{' || token === '[') {
      open.push(token === '{' ? new Set() : undefined);
      if (open.length > depthLimit) return malformed('too-deep', { limit: depthLimit });
      keyNext = token === '{';
    } else if (token === '}' || token === ']') {
      open.pop();
      keyNext = false;
    } else if (token === ',') {
      keyNext = keys !== undefined;
    } else if (keyNext && keys !== undefined) {
      const key: string = JSON.parse(token);
      if (keys.has(key)) return malformed('json-duplicate-key', { key: key.slice(0, 80) });
      keys.add(key);
      keyNext = false;
    }
  }
  return undefined;
};
