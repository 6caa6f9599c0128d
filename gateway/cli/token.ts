import { fault, type Result } from '../../rules/result.js';
import { ROLES, type Role } from '../../rules/wire/api.js';
import { hashSecret, makeSecret } from '../access/secret.js';
import { didYouMean } from '../nearest.js';
import { parseArguments } from './arguments.js';
import { type Command, DONE, failed, type Io, wrongUsage } from './command.js';
import { done, type Reached, withReached } from './reach.js';

const isRole = (text: string): text is Role => (ROLES as readonly string[]).includes(text);

/** Prints the token alone on standard output, so that a script can take it. */
export const token: Command = {
  name: 'token',
  summary: 'make a token for a program or a wall',
  help: `nightwater token create --name NAME --role viewer|crew|manager

Makes a token and prints it, this once: only its hash is kept. A program sends it as “Authorization: Bearer TOKEN”; a
wall screen is opened with …/#wall=TOKEN. Revoke it on the page of tokens, or with DELETE /api/v1/tokens/NAME.

  --name   what it is for, as in “wall, larval room”; each name once
  --role   viewer sees; crew also acknowledges and names sources; manager also changes settings`,
  run: async (args, io) => {
    const typed = parseArguments(args, { name: 'value', role: 'value' });
    if (!typed.ok) return wrongUsage(io, 'token', typed.fault);
    const { words, values } = typed.value;
    const [verb, extra] = words;
    if (verb !== 'create' || extra !== undefined)
      return wrongUsage(io, 'token', 'Write “token create”, then --name and --role.');
    const name = values.name?.trim() ?? '';
    if (name === '' || name.length > 60)
      return wrongUsage(io, 'token', '--name is missing or longer than 60 characters.');
    const role = values.role ?? '';
    if (!isRole(role)) {
      return wrongUsage(io, 'token', `--role must be one of ${ROLES.join(', ')}.${didYouMean(role, ROLES)}`);
    }
    const made = await withReached(io, (reached) => create(io, reached, { name, role }));
    return made.ok ? DONE : failed(io, ...made.fault);
  },
};

const create = async (
  io: Io,
  reached: Reached,
  wish: { readonly name: string; readonly role: Role },
): Promise<Result<undefined, readonly string[]>> => {
  if (reached.kind === 'running') {
    const reply = await reached.running.ask('/tokens', { method: 'POST', body: wish });
    if (!reply.ok) return reply;
    io.out((JSON.parse(reply.value.text) as { readonly token: string }).token);
    return done;
  }
  const secret = makeSecret('nwt');
  const added = reached.journal.tokens.add({ ...wish, hash: hashSecret(secret), createdMs: io.now() });
  if (!added) return fault([`There is a token “${wish.name}” already, perhaps a revoked one: choose another name.`]);
  io.out(secret);
  return done;
};
