import { describe, it } from 'vitest';

type Suite = (title: string, body: () => void) => void;

/**
 * `describe` for checks against another program that may not be on this machine. `probe` says why it is missing, or
 * undefined when it is there. Missing, the checks are skipped and the title says what and why; with
 * NIGHTWATER_PEERS=required in the environment they fail instead. A skipped body is still read to list its tests: start
 * the peer in `beforeAll`, not in the body.
 */
export const peer = (name: string, probe: () => string | undefined): Suite => {
  const missing = probe();
  if (missing === undefined) return (title, body) => void describe(title, body);
  if (process.env.NIGHTWATER_PEERS === 'required') {
    return (title) =>
      void describe(title, () => {
        it(`needs ${name}`, () => {
          throw new Error(`NIGHTWATER_PEERS=required, but ${name} is missing: ${missing}`);
        });
      });
  }
  return (title, body) => void describe.skip(`${title} [skipped without ${name}: ${missing}]`, body);
};
