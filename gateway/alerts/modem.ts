import { SerialPort } from 'serialport';
import { plainText } from '../../rules/words/gsm.js';
import { type AtAnswer, type AtLine, CALL_END, openAtLine, PROMPT_OR_FINAL } from './at-line.js';
import { accepted, dead, later, type Outcome, type Sender } from './way.js';

export type ModemSettings = { readonly path: string; readonly baud: number; readonly pin?: string };

export type ModemLimits = {
  /** For an answer to a plain command, to a message handed over, and for letting it ring. */
  readonly answerMs: number;
  readonly sendMs: number;
  readonly ringMs: number;
};
const LIMITS: ModemLimits = { answerMs: 5_000, sendMs: 60_000, ringMs: 30_000 };

export type Modem = {
  /** Text message of the short form [3GPP TS 27.005]. */
  readonly text: Sender;
  /** A call that only rings [3GPP TS 27.007]: it goes through a phone that is set to silence for all but its contacts. */
  readonly ring: Sender;
  /** Whether it is there and has network, for the drill and for "not watched". */
  readonly check: () => Promise<Outcome>;
};

/** A modem on a serial line at the site: works without internet. One job at a time; the line is closed between jobs. */
export const buildModem = (settings: () => ModemSettings | undefined, limits: ModemLimits = LIMITS): Modem => {
  let last: Promise<unknown> = Promise.resolve();
  // A card locks itself after three wrong ones: the same is never said twice.
  let refusedPin: string | undefined;
  const inTurn = (job: (line: AtLine) => Promise<Outcome>): Promise<Outcome> => {
    const set = settings();
    const card: Card = {
      pin: set?.pin,
      isRefused: () => set?.pin === refusedPin,
      refused: () => {
        refusedPin = set?.pin;
      },
    };
    const done = last.then(() => withLine(set, limits, card, job));
    last = done;
    return done;
  };
  return {
    text: ({ address, words }) =>
      withNumber(address, (number) => inTurn((line) => sendText(line, number, words.text, limits))),
    ring: ({ address }) => withNumber(address, (number) => inTurn((line) => ring(line, number, limits))),
    check: () => inTurn(async () => accepted()),
  };
};

/** [ITU-T E.164] an international number: at most 15 digits. Nothing else reaches the modem's command line. */
const withNumber = async (address: string, send: (number: string) => Promise<Outcome>): Promise<Outcome> => {
  const number = address.replaceAll(/[\s().-]/g, '');
  return /^\+[1-9]\d{5,14}$/.test(number) ? send(number) : dead('address-unusable');
};

type Card = { readonly pin: string | undefined; readonly isRefused: () => boolean; readonly refused: () => void };

const withLine = async (
  settings: ModemSettings | undefined,
  limits: ModemLimits,
  card: Card,
  job: (line: AtLine) => Promise<Outcome>,
): Promise<Outcome> => {
  if (settings === undefined) return dead('not-set-up');
  const port = await openPort(settings);
  if (port === undefined) return later('modem-absent', settings.path);
  const line = openAtLine(port);
  try {
    return (await greet(line, limits, card)) ?? (await job(line));
  } finally {
    await line.close();
  }
};

const openPort = ({ path, baud }: ModemSettings): Promise<SerialPort | undefined> =>
  new Promise((resolve) => {
    const port = new SerialPort({ path, baudRate: baud, autoOpen: false, lock: true });
    port.on('error', () => undefined);
    port.open((error) => resolve(error === null || error === undefined ? port : undefined));
  });

const ok = ({ lines }: AtAnswer): boolean => lines.at(-1) === 'OK';

/** Undefined when it is ready: it answers, its card is open, it is registered at home or roaming. */
const greet = async (line: AtLine, { answerMs }: ModemLimits, card: Card): Promise<Outcome | undefined> => {
  // ESC ends a message that an earlier, killed gateway left half written.
  await line.ask('\x1b\rATE0\r', answerMs);
  if (!ok(await line.ask('AT+CMEE=1\r', answerMs))) return later('modem-error', 'no answer');
  const locked = await unlock(line, answerMs, card);
  if (locked !== undefined) return locked;
  const { lines: network } = await line.ask('AT+CREG?\r', answerMs);
  const isRegistered = network.some((said) => /^\+CREG: ?\d,(1|5)\b/.test(said));
  return isRegistered ? undefined : later('modem-no-network', network.at(0));
};

/** [3GPP TS 27.007 8.3] undefined when the card is open. */
const unlock = async (line: AtLine, answerMs: number, card: Card): Promise<Outcome | undefined> => {
  const asks = async (): Promise<readonly string[]> => (await line.ask('AT+CPIN?\r', answerMs)).lines;
  const said = await asks();
  if (said.includes('+CPIN: READY')) return undefined;
  if (!said.includes('+CPIN: SIM PIN') || card.pin === undefined) return later('modem-no-sim', said.at(0));
  if (card.isRefused()) return dead('modem-pin-refused');
  if (!ok(await line.ask(`AT+CPIN="${card.pin}"\r`, answerMs))) {
    card.refused();
    return dead('modem-pin-refused');
  }
  const after = await asks();
  return after.includes('+CPIN: READY') ? undefined : later('modem-no-sim', after.at(0));
};

/** Letters that are the same in ASCII and in the alphabet of 3GPP TS 23.038, and mean nothing else to a modem. */
const SAME = /^[A-Za-z0-9 !"#%&'()*+,\-./:;<=>?\n]*$/;
const UCS2_LETTERS = 70;

const ucs2 = (text: string): string => {
  const bytes = Buffer.from(text, 'utf16le');
  bytes.swap16();
  return bytes.toString('hex').toUpperCase();
};

const sendText = async (
  line: AtLine,
  number: string,
  said: string,
  { answerMs, sendMs }: ModemLimits,
): Promise<Outcome> => {
  const text = plainText(said);
  const isPlain = SAME.test(text);
  // [3GPP TS 23.040 9.2.3] first octet 17, valid for a day (167), data coding 0: default alphabet, 8: UCS2.
  const setting = [`AT+CMGF=1\r`, `AT+CSCS="${isPlain ? 'GSM' : 'UCS2'}"\r`, `AT+CSMP=17,167,0,${isPlain ? 0 : 8}\r`];
  for (const command of setting) {
    const answer = await line.ask(command, answerMs);
    if (!ok(answer)) return later('modem-error', answer.lines.at(-1));
  }
  const prompt = await line.ask(`AT+CMGS="${isPlain ? number : ucs2(number)}"\r`, answerMs, PROMPT_OR_FINAL);
  if (prompt.lines.at(-1) !== '>') return later('modem-error', prompt.lines.at(-1));
  const body = isPlain ? text : ucs2([...text].slice(0, UCS2_LETTERS).join(''));
  return textOutcome(await line.ask(`${body}\x1a`, sendMs));
};

const textOutcome = (answer: AtAnswer): Outcome => {
  if (!answer.ended) return later('timed-out');
  if (ok(answer)) return accepted(answer.lines.find((said) => said.startsWith('+CMGS')));
  const last = answer.lines.at(-1) ?? '';
  // [3GPP TS 27.005 3.2.5] 331: no network service, 332: network timeout.
  return /ERROR: (331|332)$/.test(last) ? later('modem-no-network', last) : later('modem-error', last);
};

/** It rings until it is taken, refused or left, at most so long; then the line is hung up. */
const ring = async (line: AtLine, number: string, { answerMs, ringMs }: ModemLimits): Promise<Outcome> => {
  const { ended, lines } = await line.ask(`ATD${number};\r`, ringMs, CALL_END);
  await line.ask('ATH\r', answerMs);
  const last = lines.at(-1) ?? '';
  if (!ended) return last === 'OK' ? accepted('rang') : later('modem-error', last);
  if (last === 'BUSY') return later('modem-busy', last);
  if (last === 'NO DIALTONE') return later('modem-no-network', last);
  return last.includes('ERROR') ? later('modem-error', last) : accepted(last);
};
