import { ROLES, type Role } from '../../rules/wire/api.js';

/** Who is asking, and by what right. `name` is written beside everything that they change. */
export type Caller = {
  readonly name: string;
  readonly role: Role;
  readonly by: 'session' | 'token' | 'demo' | 'this-machine';
  /** Hash of the session or token, so that its end closes what it opened. */
  readonly key: string;
};

/** A role may do all that the lesser ones may. */
export const isAllowed = (role: Role, needs: Role): boolean => ROLES.indexOf(role) >= ROLES.indexOf(needs);

/** In the demo everybody on this machine is this one. */
export const DEMO_CALLER: Caller = { name: 'demo', role: 'manager', by: 'demo', key: 'demo' };
