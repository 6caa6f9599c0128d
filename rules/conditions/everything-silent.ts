import { isSilent, placesOf, unseenWorst } from './board-offline.js';
import type { Condition } from './condition.js';

/** Of so few channels all can be silent by chance. */
const FEWEST = 4;

/**
 * Nothing at all is heard: power or network is gone, and every tank is unseen at once. When it is back, the list of what
 * a cut leaves off stays until somebody has read it.
 */
export const EVERYTHING_SILENT: Condition = {
  code: 'everything-silent',
  scope: 'site',
  everyMs: 30_000,
  standsAt: () => true,
  timing: () => ({ onDelayMs: 30_000, offDelayMs: 60_000 }),
  judge: ({ view, nowMs }, before) => {
    const isDown = view.link.broker === 'down';
    // One that is heard is enough to know better.
    const channels = view.everyMeasured((channel) => isSilent(channel, nowMs)) ? view.measured() : [];
    const raw = channels.length > 0 && (isDown || channels.length >= FEWEST);
    if (!raw)
      return before.on
        ? { raw, finding: { priority: 'medium', evidence: ['back-again'], checks: ['after-cut', 'set-clock'] } }
        : { raw };
    const priority = unseenWorst(channels, nowMs);
    return {
      raw,
      finding: {
        priority: priority === 'low' ? 'medium' : 'high',
        places: placesOf(channels),
        evidence: isDown ? ['broker-down'] : [],
        checks: ['mains-and-standby', 'board-network', 'spare-air', 'look-at-tank'],
      },
    };
  },
};
