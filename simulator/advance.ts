import type { Schedule } from './event.js';
import type { Hatchery, HatcheryState } from './hatchery.js';
import { measureHatchery, stepHatchery } from './hatchery-step.js';
import type { Message } from './payload.js';

/** A hatchery at work: what it is, how it stands, what will happen to it. */
export type Run = { readonly hatchery: Hatchery; readonly state: HatcheryState; readonly schedule: Schedule };

/** Lets time pass until `toMs` in steps of at most `stepS`, and gathers what the boards say on the way. */
export const advance = (
  run: Run,
  toMs: number,
  stepS: number,
): { readonly run: Run; readonly messages: readonly Message[] } => {
  let state = run.state;
  const messages: Message[] = [];
  while (state.atMs < toMs) {
    const dtS = Math.min(stepS, (toMs - state.atMs) / 1000);
    const stepped = stepHatchery(run.hatchery, state, dtS, run.schedule(state.atMs));
    const measured = measureHatchery(run.hatchery, stepped, run.schedule(stepped.atMs));
    state = measured.state;
    messages.push(...measured.messages);
  }
  return { run: { ...run, state }, messages };
};
