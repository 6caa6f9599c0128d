import {
  type DeliveryPicture,
  type DeliverySettings,
  TRIALS,
  type TrialBody,
  type TrialOutcome,
} from '../../../rules/wire/waking.js';
import { anyText, count, type JsonSchema, optional, shape, slug, text, wordOf, yesNo } from './shape.js';

type Email = NonNullable<DeliverySettings['email']>;
type Modem = NonNullable<DeliverySettings['modem']>;
type Webhook = NonNullable<DeliverySettings['webhook']>;
const port = { type: 'integer', minimum: 1, maximum: 65_535 };
const EMAIL = shape<Email>({
  host: text(253),
  port,
  security: wordOf(['tls', 'starttls', 'none']),
  from: text(254),
  user: optional(text(254)),
  password: optional({ ...text(1_000), description: 'goes in and never comes out' }),
});
const MODEM = shape<Modem>({
  path: text(200),
  baud: { type: 'integer', minimum: 300, maximum: 4_000_000 },
  pin: optional({ type: 'string', pattern: '^[0-9]{4,8}$', description: 'of the card; goes in and never comes out' }),
});
const WEBHOOK = shape<Webhook>({
  keyId: { type: 'string', pattern: '^[A-Za-z0-9._-]{1,60}$' },
  secret: optional({ ...text(1_000, 32), description: 'at least 32 characters; goes in and never comes out' }),
});
const ways = {
  email: optional(EMAIL),
  modem: optional(MODEM),
  webhook: optional(WEBHOOK),
  contact: optional({ type: 'string', pattern: '^(mailto:|https://).{3,250}$' }),
  checkInUrl: optional({ type: 'string', pattern: '^https?://.{3,1000}$' }),
} as const;
export const DELIVERY: JsonSchema = shape<DeliverySettings>(ways);
export const DELIVERY_PICTURE: JsonSchema = shape<DeliveryPicture>({
  ...ways,
  kept: shape<DeliveryPicture['kept']>({ password: yesNo, secret: yesNo, pin: yesNo }),
  pushKey: anyText,
  phones: count,
});

export const TRIAL: JsonSchema = shape<TrialBody>({ what: wordOf(TRIALS), personId: optional(slug) });
export const TRIAL_OUTCOME: JsonSchema = shape<TrialOutcome>({
  taken: yesNo,
  code: optional(anyText),
  detail: optional(anyText),
});
