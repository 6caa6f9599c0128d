import { describe, expect, onTestFinished, test } from 'vitest';
import { buildModem } from '../../../gateway/alerts/modem.js';
import { openScriptedModem } from '../../../simulator/peers/scripted-modem.js';
import { outgoing } from '../../support/outgoing.js';

const LIMITS = { answerMs: 2_000, sendMs: 2_000, ringMs: 2_000 };
const NUMBER = '+15550100123';

const withModem = async (limits = LIMITS) => {
  const scripted = await openScriptedModem();
  onTestFinished(scripted.close);
  return { scripted, modem: buildModem(() => ({ path: scripted.path, baud: 115_200 }), limits) };
};

describe('a modem on a serial line (commands of 3GPP TS 27.005 and 27.007, on a pseudo-terminal)', () => {
  test('sends the short form as a text message', async () => {
    const { scripted, modem } = await withModem();
    expect(await modem.text(outgoing({ address: NUMBER }))).toEqual({ kind: 'accepted', detail: '+CMGS: 7' });
    expect(scripted.texts).toEqual([{ number: NUMBER, body: outgoing().words.text, coding: 'GSM' }]);
    expect(outgoing().words.text).toMatch(/^HIGH L2: 29\.9 C/);
  });

  test('spells a message in UCS2 when it has letters that the plain alphabet has not', async () => {
    const { scripted, modem } = await withModem();
    const words = { ...outgoing().words, text: '水温 29.9' };
    await modem.text(outgoing({ address: NUMBER, words }));
    const [sent] = scripted.texts;
    expect(sent?.coding).toBe('UCS2');
    expect(
      Buffer.from(sent?.body ?? '', 'hex')
        .swap16()
        .toString('utf16le'),
    ).toBe('水温 29.9');
    expect(scripted.heard).toContain('AT+CSMP=17,167,0,8');
  });

  test('rings, and hangs up', async () => {
    const { scripted, modem } = await withModem();
    expect(await modem.ring(outgoing({ address: NUMBER }))).toEqual({ kind: 'accepted', detail: 'NO ANSWER' });
    expect(scripted.dialled).toEqual([NUMBER]);
    expect(scripted.heard.at(-1)).toBe('ATH');
  });

  test('understands a modem that echoes every command', async () => {
    const { scripted, modem } = await withModem();
    scripted.plays({ echoes: true });
    expect((await modem.text(outgoing({ address: NUMBER }))).kind).toBe('accepted');
  });

  test('one job waits for the other', async () => {
    const { scripted, modem } = await withModem();
    const outcomes = await Promise.all([
      modem.text(outgoing({ address: NUMBER })),
      modem.ring(outgoing({ address: NUMBER })),
    ]);
    expect(outcomes.map(({ kind }) => kind)).toEqual(['accepted', 'accepted']);
    expect(scripted.heard.indexOf(`ATD${NUMBER};`)).toBeGreaterThan(scripted.heard.indexOf(outgoing().words.text));
  });

  test.each([
    ['the card is not there', { card: '+CME ERROR: 10' }, 'modem-no-sim'],
    ['there is no network', { network: '+CREG: 0,2' }, 'modem-no-network'],
    ['the network refuses the message', { sends: '+CMS ERROR: 331' }, 'modem-no-network'],
    ['the modem has trouble with the message', { sends: '+CMS ERROR: 500' }, 'modem-error'],
  ])('says that %s, and may try later', async (_, script, code) => {
    const { scripted, modem } = await withModem();
    scripted.plays(script);
    expect(await modem.text(outgoing({ address: NUMBER }))).toMatchObject({ kind: 'later', code });
  });

  test('a card that asks for its PIN gets it, and a wrong one never twice', async () => {
    const scripted = await openScriptedModem();
    onTestFinished(scripted.close);
    const settings = { path: scripted.path, baud: 115_200 };
    let pin = '1234';
    const modem = buildModem(() => ({ ...settings, pin }), LIMITS);
    scripted.plays({ card: '+CPIN: SIM PIN', pin: '2468' });
    for (const _ of [1, 2, 3]) expect(await modem.check()).toMatchObject({ kind: 'dead', code: 'modem-pin-refused' });
    expect(scripted.heard.filter((said) => said.startsWith('AT+CPIN="'))).toHaveLength(1);
    pin = '2468';
    expect((await modem.check()).kind).toBe('accepted');
  });

  test('a roaming card counts as network', async () => {
    const { scripted, modem } = await withModem();
    scripted.plays({ network: '+CREG: 0,5' });
    expect((await modem.check()).kind).toBe('accepted');
  });

  test('a busy line is not a ring', async () => {
    const { scripted, modem } = await withModem();
    scripted.plays({ rings: ['OK', 'BUSY'] });
    expect(await modem.ring(outgoing({ address: NUMBER }))).toMatchObject({ kind: 'later', code: 'modem-busy' });
    scripted.plays({ rings: ['NO DIALTONE'] });
    expect(await modem.ring(outgoing({ address: NUMBER }))).toMatchObject({ kind: 'later', code: 'modem-no-network' });
  });

  test('a modem that falls silent is given up, and the next job is done all the same', async () => {
    const { scripted, modem } = await withModem({ ...LIMITS, sendMs: 50 });
    scripted.plays({ sends: 'silent' });
    expect(await modem.text(outgoing({ address: NUMBER }))).toMatchObject({ kind: 'later', code: 'timed-out' });
    scripted.plays({});
    expect((await modem.check()).kind).toBe('accepted');
  });

  test('a modem that is not there is told, not thrown', async () => {
    const modem = buildModem(() => ({ path: '/dev/nightwater-no-such-modem', baud: 9_600 }), LIMITS);
    expect(await modem.text(outgoing({ address: NUMBER }))).toMatchObject({ kind: 'later', code: 'modem-absent' });
    expect(await buildModem(() => undefined).check()).toMatchObject({ kind: 'dead', code: 'not-set-up' });
  });

  test('nothing but an international number reaches the modem', async () => {
    const { scripted, modem } = await withModem();
    for (const address of ['0123', '+1;AT+CFUN=0', '', '+155501001234567890'])
      expect(await modem.ring(outgoing({ address }))).toMatchObject({ kind: 'dead', code: 'address-unusable' });
    expect(scripted.heard).toEqual([]);
  });
});
