import { signal } from '@preact/signals';
import type { SessionPicture } from '../../rules/wire/api.js';

/** Who this screen is signed in as; undefined until the gateway has said. */
export const session = signal<SessionPicture | undefined>(undefined);

/** Whether this screen may change settings. */
export const mayChange = (who: SessionPicture | undefined): boolean => who?.demo === true || who?.role === 'manager';
/** Whether this screen may answer alarms. */
export const mayAnswer = (who: SessionPicture | undefined): boolean => mayChange(who) || who?.role === 'crew';
