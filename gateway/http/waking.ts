import type { FastifyPluginAsync } from 'fastify';
import { deliveryRoutes } from './delivery.js';
import { drillRoutes } from './drill.js';
import { faultAnswerRoutes } from './fault-answers.js';
import type { AppParts } from './parts.js';
import { personRoutes } from './people.js';
import { pushRoutes } from './push.js';
import { reportRoutes } from './reports.js';
import type { WakingRouteParts } from './waking-parts.js';
import { watchRoutes } from './watch.js';

/** Everything about waking people, one plugin a noun. */
export const wakingRoutes = (
  waking: WakingRouteParts,
  { clock }: Pick<AppParts, 'clock'>,
): readonly FastifyPluginAsync[] => [
  faultAnswerRoutes(waking),
  personRoutes(waking),
  watchRoutes(waking),
  deliveryRoutes(waking),
  pushRoutes(waking),
  drillRoutes(waking),
  reportRoutes(waking, clock),
];
