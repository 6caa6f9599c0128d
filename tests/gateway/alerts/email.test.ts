import { once } from 'node:events';
import { createServer } from 'node:net';
import { describe, expect, onTestFinished, test } from 'vitest';
import { buildEmail, type MailServer, mailOf } from '../../../gateway/alerts/email.js';
import { openMailServer } from '../../../simulator/peers/mail-server.js';
import { outgoing } from '../../support/outgoing.js';

const LIMITS = { connectMs: 2_000, silenceMs: 2_000 };
const at = (port: number, more: Partial<MailServer> = {}): MailServer => ({
  host: '127.0.0.1',
  port,
  security: 'none',
  from: 'watch@wrack-cove.example',
  ...more,
});
const message = outgoing({ address: 'asta@wrack-cove.example', link: 'https://water.example/answer?t=signed' });

describe('an e-mail', () => {
  test('says everything in plain text: what, the link to answer by, what to check first, the cautions', async () => {
    const server = await openMailServer();
    onTestFinished(server.close);
    expect((await buildEmail(() => at(server.port))(message)).kind).toBe('accepted');
    const [mail] = server.mails;
    expect(mail?.to).toEqual(['asta@wrack-cove.example']);
    expect(mail?.text).toContain('Answer here: https://water.example/answer');
    expect(mail?.text).toContain('Auto-Submitted: auto-generated');
    expect(mail?.text).toMatch(/1\. Heater off at the wall/);
  });

  test('names whom to telephone, with the number', () => {
    const call = { personId: 'bela', name: 'Bela', phone: '+15550100002' };
    expect(mailOf(outgoing({ call })).text).toContain('Call Bela: +15550100002');
  });

  test('keeps its id when it is tried again, so that a mail program can tell', async () => {
    const server = await openMailServer();
    onTestFinished(server.close);
    await buildEmail(() => at(server.port))(message);
    await buildEmail(() => at(server.port))(message);
    const ids = server.mails.map(({ text }) => /^Message-ID: (.*)$/im.exec(text)?.[1]);
    expect(ids[0]).toBe(ids[1]);
  });
});

describe('a mail server that does not take it', () => {
  test('refuses for good (RFC 5321 section 4.2.1, 5yz): not tried again', async () => {
    const server = await openMailServer({
      onRcptTo: (_address, _session, done) => done(Object.assign(new Error('no such person'), { responseCode: 550 })),
    });
    onTestFinished(server.close);
    expect(await buildEmail(() => at(server.port))(message)).toMatchObject({ kind: 'dead', code: 'refused' });
  });

  test('is in trouble (4yz): tried again', async () => {
    const server = await openMailServer({
      onRcptTo: (_address, _session, done) => done(Object.assign(new Error('later'), { responseCode: 451 })),
    });
    onTestFinished(server.close);
    expect(await buildEmail(() => at(server.port))(message)).toMatchObject({ kind: 'later', code: 'server-trouble' });
  });

  test('hangs: given up after the limit', async () => {
    const silent = createServer(() => undefined).listen(0, '127.0.0.1');
    await once(silent, 'listening');
    onTestFinished(() => void silent.close());
    const address = silent.address();
    const port = typeof address === 'object' && address !== null ? address.port : 0;
    expect(await buildEmail(() => at(port), { connectMs: 100, silenceMs: 100 })(message)).toMatchObject({
      kind: 'later',
      code: 'timed-out',
    });
  });

  test('has lost its encryption: nothing is said in the clear', async () => {
    const server = await openMailServer();
    onTestFinished(server.close);
    const outcome = await buildEmail(() => at(server.port, { security: 'starttls' }), LIMITS)(message);
    expect(outcome).toMatchObject({ kind: 'later', code: 'not-encrypted' });
    expect(server.mails).toEqual([]);
  });

  test('shows a certificate that nobody vouches for: nothing is said to it', async () => {
    const server = await openMailServer({ disabledCommands: [], secure: false });
    onTestFinished(server.close);
    const outcome = await buildEmail(() => at(server.port, { security: 'starttls' }), LIMITS)(message);
    expect(outcome.kind).toBe('later');
    expect(server.mails).toEqual([]);
  });

  test('is not there: later', async () => {
    expect(await buildEmail(() => at(1), LIMITS)(message)).toMatchObject({ kind: 'later', code: 'no-connection' });
    expect(await buildEmail(() => undefined)(message)).toMatchObject({ kind: 'dead', code: 'not-set-up' });
  });
});
