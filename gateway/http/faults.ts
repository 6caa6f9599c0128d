import { STATUS_CODES } from 'node:http';
import type { FastifyReply } from 'fastify';
import type { Problem } from '../../rules/wire/api.js';

type Row = { readonly status: number; readonly sentence: string };

/**
 * Everything that the API can refuse: code, HTTP status, and the sentence for a person, `{name}` standing for a
 * parameter. A code is part of the contract: never reuse one.
 */
export const FAULTS = {
  'request-not-understood': { status: 400, sentence: 'The request is not as it should be: {first}' },
  'body-not-json': { status: 400, sentence: 'The body of the request is not JSON: {reason}' },
  'body-too-large': { status: 413, sentence: 'The body of the request is too large: at most {limit} bytes are taken.' },
  'media-type-unknown': { status: 415, sentence: 'The body has the type “{type}”: send application/json.' },
  'span-backwards': { status: 400, sentence: 'The time span ends before it begins: “from” must lie before “to”.' },
  'soundings-too-long': { status: 400, sentence: 'Ask about at most {days} days at once.' },
  'soundings-busy': {
    status: 409,
    sentence: 'Somebody is asking this question already: wait until it is answered, then ask again.',
  },
  'version-missing': {
    status: 428,
    sentence: 'The request does not say which version it changes: read it first and send its ETag back in If-Match.',
  },
  'version-not-understood': {
    status: 400,
    sentence: '“{given}” in If-Match is no version: send the ETag as it was given, as in "3".',
  },
  'version-changed': {
    status: 412,
    sentence:
      'Somebody changed this in the meantime; it is at version {present} now. Look at it again, then repeat your change.',
  },
  'not-signed-in': { status: 401, sentence: 'Sign in first, or send a token as “Authorization: Bearer …”.' },
  'credential-wrong': { status: 401, sentence: 'The name or the passphrase is wrong.' },
  'token-wrong': { status: 401, sentence: 'This link or token is not known, or was revoked: ask for a new one.' },
  'first-code-wrong': {
    status: 401,
    sentence: 'The code is wrong. It stands on the console of the gateway, and each start makes a new one.',
  },
  'first-manager-exists': {
    status: 409,
    sentence: 'There is a manager already: sign in with a name and a passphrase.',
  },
  'passphrase-weak': {
    status: 422,
    sentence: 'The passphrase is too easy to guess: use at least {least} characters, several words are best.',
  },
  'too-many-tries': { status: 429, sentence: 'Too many tries from here: wait {seconds} s, then try again.' },
  'role-too-low': {
    status: 403,
    sentence: 'This needs the role “{needs}”; you are signed in as “{role}”. Ask a manager.',
  },
  'not-this-machine': {
    status: 403,
    sentence: 'This is the demo, which asks nobody to sign in; so it answers only on the machine where it runs.',
  },
  'host-not-loopback': {
    status: 403,
    sentence: 'The demo is reached as http://127.0.0.1 or http://localhost only, not by another name.',
  },
  'origin-not-ours': {
    status: 403,
    sentence:
      'The request comes from another page ({origin}), which may change nothing here. If this is how you reach Nightwater, set NIGHTWATER_PUBLIC_URL to that address.',
  },
  'no-such-page': {
    status: 404,
    sentence: 'There is nothing at {method} {path}. The list is at /api/v1/openapi.json.',
  },
  'no-such-channel': { status: 404, sentence: 'There is no channel “{id}”. The channels are in /api/v1/picture.' },
  'no-such-source': { status: 404, sentence: 'No board ever sent a source with the number {id}.' },
  'no-bed': { status: 404, sentence: '“{id}” has no bed: set one on the page of places.' },
  'no-such-place': { status: 404, sentence: 'There is no place “{id}”.' },
  'no-such-alarm': { status: 404, sentence: 'This alarm is not open: it has ended, or never was.' },
  'no-such-review': { status: 404, sentence: 'There is no review “{id}”.' },
  'review-without-tanks': {
    status: 422,
    sentence: 'A review needs at least one tank that was there at the time: name those with deaths.',
  },
  'review-out-of-order': {
    status: 422,
    sentence:
      'Last seen alive has to lie before the first dead, and neither in the future: look at the two times again.',
  },
  'review-without-deaths': {
    status: 422,
    sentence: 'No entry of these tanks tells of deaths: write the deaths down first, or say when they were found.',
  },
  'no-such-token': { status: 404, sentence: 'There is no token “{id}” that could be revoked.' },
  'no-such-account': { status: 404, sentence: 'Nobody called “{id}” can sign in here.' },
  'alarm-already-done': {
    status: 409,
    sentence: 'That was done to this alarm already, or there is nothing to do it to.',
  },
  'alarm-not-allowed-now': {
    status: 409,
    sentence: 'The alarm is put aside (shelved, suppressed or out of service): take it back first.',
  },
  'shelving-needs-manager': {
    status: 403,
    sentence: 'Only a manager puts aside an alarm that wakes people; what is of low priority anybody of the crew may.',
  },
  'unit-not-understood': {
    status: 422,
    sentence: '“{unit}” is not a unit of {quantity} that is understood: choose one of {known}.',
  },
  'source-not-named': {
    status: 409,
    sentence: 'The source {id} is not named: it means nothing yet that could be changed.',
  },
  'place-exists': { status: 409, sentence: 'There is a place “{id}” already: change that one, or choose another id.' },
  'place-in-use': { status: 409, sentence: '“{name}” cannot be taken out yet: {first}' },
  'place-name-useless': { status: 422, sentence: 'The name “{name}” needs at least one letter or digit.' },
  'settings-conflict': { status: 422, sentence: 'The settings do not fit together: {first}' },
  'site-id-fixed': { status: 422, sentence: 'The id of a site never changes: it is “{id}”.' },
  'site-file-broken': { status: 422, sentence: 'The site file cannot be taken, and nothing was changed: {first}' },
  'site-file-outdated': {
    status: 412,
    sentence: 'The settings were changed since this was looked at: look at the differences again, then repeat it.',
  },
  'token-exists': {
    status: 409,
    sentence: 'There is a token “{name}” already, perhaps a revoked one: choose another name.',
  },
  'account-exists': { status: 409, sentence: 'Somebody called “{name}” can sign in already: choose another name.' },
  'last-manager': { status: 409, sentence: 'This is the last manager: make another one first.' },
  'board-has-password': {
    status: 409,
    sentence:
      'The board “{board}” has a password, and a new one would shut it out until it is typed in there. Send "replace": true to make one all the same.',
  },
  'entry-refused': { status: 422, sentence: 'The entry cannot be kept as it is: {first}' },
  'entry-corrected-meanwhile': {
    status: 409,
    sentence: 'Somebody corrected this entry in the meantime. Look at it as it is now, then correct that one.',
  },
  'entry-id-taken': { status: 409, sentence: 'Another entry has this id: make a new one (ULID) for each entry.' },
  'no-such-entry': { status: 404, sentence: 'There is no such entry in the log.' },
  'no-such-batch': { status: 404, sentence: 'The log knows no batch “{id}”.' },
  'no-such-run': { status: 404, sentence: 'There is no such spawning run, or its plan was taken back.' },
  'no-such-button': { status: 404, sentence: 'There is no button “{id}”.' },
  'no-photo': { status: 415, sentence: 'This is no photo that can be kept: send the bytes of a JPEG, PNG or WebP.' },
  'no-such-photo': { status: 404, sentence: 'There is no such photo.' },
  'no-such-person': { status: 404, sentence: 'There is nobody “{id}” who could be woken.' },
  'no-such-way': { status: 404, sentence: 'This person has no way “{way}” to be reached.' },
  'no-such-fault': { status: 404, sentence: 'Nobody is being woken for this any more: it has ended, or never was.' },
  'nobody-to-pass-to': { status: 409, sentence: 'There is nobody else to pass it on to: it stays with you.' },
  'not-a-person': {
    status: 409,
    sentence: 'This screen is signed in as “{name}”, who is nobody on the list of people: say who you are.',
  },
  'link-not-good': { status: 401, sentence: 'This link is over, or was changed: open Nightwater and sign in.' },
  broken: {
    status: 500,
    sentence: 'Something in Nightwater itself went wrong. It was written to its console; please report it.',
  },
} as const satisfies Readonly<Record<string, Row>>;

export type FaultCode = keyof typeof FAULTS;
type Parameters = Readonly<Record<string, string | number>>;

/** RFC 9457. `about:blank` because `fault` says more than a page would; its title is then the status's own phrase. */
export const problem = (code: FaultCode, parameters: Parameters = {}, faults?: Problem['faults']): Problem => {
  const { status, sentence }: Row = FAULTS[code];
  return {
    type: 'about:blank',
    title: STATUS_CODES[status] ?? 'Error',
    status,
    detail: sentence.replaceAll(/\{(\w+)\}/g, (blank, name: string) => String(parameters[name] ?? blank)),
    fault: code,
    ...(faults === undefined ? {} : { faults }),
  };
};

/** Answers with a problem; for a route to return. */
export const refuse = (
  reply: FastifyReply,
  code: FaultCode,
  parameters?: Parameters,
  faults?: Problem['faults'],
): FastifyReply => {
  const answer = problem(code, parameters, faults);
  if (answer.status === 401) reply.header('www-authenticate', 'Bearer');
  return reply
    .code(answer.status)
    .header('cache-control', 'no-store')
    .header('content-type', 'application/problem+json')
    .send(JSON.stringify(answer));
};
