import { openPseudoTerminal } from './pseudo-terminal.js';

export type ModemScript = {
  readonly card?: string;
  /** Opens a card that asks for a PIN. */
  readonly pin?: string;
  readonly network?: string;
  /** What follows the text of a message; `silent` says nothing. */
  readonly sends?: string | 'silent';
  /** What follows a dialled number, line by line. */
  readonly rings?: readonly string[];
  readonly echoes?: boolean;
};

export type ScriptedModem = {
  readonly path: string;
  /** Every command and text that it was given, in order. */
  readonly heard: readonly string[];
  readonly texts: readonly { readonly number: string; readonly body: string; readonly coding: string }[];
  readonly dialled: readonly string[];
  readonly plays: (script: ModemScript) => void;
  /** Resolves when it has been rung so often. */
  readonly hasDialled: (count: number) => Promise<void>;
  readonly close: () => Promise<void>;
};

const READY: Required<ModemScript> = {
  card: '+CPIN: READY',
  pin: '',
  network: '+CREG: 0,1',
  sends: '+CMGS: 7\r\n\r\nOK',
  rings: ['OK', 'NO ANSWER'],
  echoes: false,
};

/** A modem that answers by a script, on a pseudo-terminal (3GPP TS 27.005 and 27.007). */
export const openScriptedModem = async (): Promise<ScriptedModem> => {
  const terminal = await openPseudoTerminal();
  const heard: string[] = [];
  const texts: { number: string; body: string; coding: string }[] = [];
  const dialled: string[] = [];
  const waiting = new Set<() => void>();
  let script: Required<ModemScript> = READY;
  let writing: string | undefined;
  let coding = 'GSM';
  let held = '';

  const answer = (lines: string): void => terminal.say(`\r\n${lines}\r\n`);
  const command = (said: string): void => {
    heard.push(said);
    if (script.echoes) terminal.say(`${said}\r`);
    const [, set] = /^AT\+CSCS="(\w+)"$/.exec(said) ?? [];
    const [, to] = /^AT\+CMGS="([^"]+)"$/.exec(said) ?? [];
    const [, number] = /^ATD([^;]+);$/.exec(said) ?? [];
    if (set !== undefined) coding = set;
    if (to !== undefined) {
      writing = to;
      return terminal.say('\r\n> ');
    }
    if (number !== undefined) {
      dialled.push(number);
      for (const line of script.rings) answer(line);
      for (const look of waiting) look();
      return;
    }
    if (said === 'AT+CPIN?') return answer(script.card.includes('ERROR') ? script.card : `${script.card}\r\n\r\nOK`);
    const [, pin] = /^AT\+CPIN="(\d+)"$/.exec(said) ?? [];
    if (pin !== undefined) {
      const isRight = pin === script.pin;
      if (isRight) script = { ...script, card: READY.card };
      return answer(isRight ? 'OK' : '+CME ERROR: 16');
    }
    if (said === 'AT+CREG?') return answer(`${script.network}\r\n\r\nOK`);
    answer('OK');
  };
  const text = (body: string): void => {
    texts.push({ number: writing ?? '', body, coding });
    heard.push(body);
    writing = undefined;
    if (script.sends !== 'silent') answer(script.sends);
  };
  terminal.hear((bytes) => {
    held += bytes.toString('latin1');
    for (let end = firstMark(held); end !== -1; end = firstMark(held)) {
      const [said, mark] = [held.slice(0, end), held[end]];
      held = held.slice(end + 1);
      if (mark === '\x1b') writing = undefined;
      else if (mark === '\x1a') text(said);
      else if (said !== '') command(said);
    }
  });
  return {
    path: terminal.path,
    heard,
    texts,
    dialled,
    plays: (next) => {
      script = { ...READY, ...next };
    },
    hasDialled: (count) =>
      new Promise((resolve) => {
        const look = (): void => {
          if (dialled.length < count) return;
          waiting.delete(look);
          resolve();
        };
        waiting.add(look);
        look();
      }),
    close: terminal.close,
  };
};

/** Carriage return ends a command, Ctrl-Z a text, escape gives a text up. */
const firstMark = (text: string): number =>
  [...text].findIndex((letter) => letter === '\r' || letter === '\x1a' || letter === '\x1b');
