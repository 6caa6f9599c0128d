import type { QualitySettings } from './settings.js';

/** After declared work the water and the probe need this long before rate and flat line mean anything, ms. No source. */
export const SETTLE_MS = 300_000;

/** Work on the water that has begun; without an end it goes on. UTC ms. */
export type WorkSpan = { readonly fromMs: number; readonly endedMs?: number | undefined };
export type WorkPhase = 'none' | 'during' | 'settling';

/** Where a moment lies. The first moment of work belongs to it, its end to the settling. */
export const workPhase = (work: WorkSpan | undefined, atMs: number, settleMs = SETTLE_MS): WorkPhase => {
  if (work === undefined || atMs < work.fromMs) return 'none';
  if (work.endedMs === undefined || atMs < work.endedMs) return 'during';
  return atMs - work.endedMs < settleMs ? 'settling' : 'none';
};

/**
 * The settings for a phase. During work only syntax, date, gross range and fault values are judged; while settling,
 * spike and recipe band again. A test that is off forgets, so that no rate and no flat line spans the work.
 */
export const settingsIn = (phase: WorkPhase, settings: QualitySettings): QualitySettings => {
  if (phase === 'none') return settings;
  const reason = phase === 'during' ? 'declared-work' : 'settling-after-work';
  const quiet: QualitySettings = {
    ...settings,
    rate: undefined,
    flat: undefined,
    off: { ...settings.off, 'rate-of-change': reason, 'flat-line': reason },
  };
  if (phase === 'settling') return quiet;
  return {
    ...quiet,
    spike: undefined,
    recipeBand: undefined,
    off: { ...quiet.off, spike: reason, climatology: reason },
  };
};
