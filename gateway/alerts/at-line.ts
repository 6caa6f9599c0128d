import type { SerialPort } from 'serialport';

/** A line that a modem said, or the prompt that it waits for text. */
export const PROMPT = '> ';

/** What a modem said to a command; `ended`: with a line that ends an answer, else the time was over. */
export type AtAnswer = { readonly lines: readonly string[]; readonly ended: boolean };

/** The dialogue with one modem: a command at a time, its answer as lines. */
export type AtLine = {
  /** Lines up to one that ends the answer, that line last. */
  ask(command: string, limitMs: number, ends?: RegExp): Promise<AtAnswer>;
  close(): Promise<void>;
};

/** [V.250 5.7] final result codes, and those of 3GPP TS 27.005 and 27.007. */
export const FINAL = /^(OK|ERROR|\+CM[SE] ERROR: .*|NO CARRIER|BUSY|NO ANSWER|NO DIALTONE|CONNECT.*)$/;
/** Where the modem waits for the text of a message, or why not. */
export const PROMPT_OR_FINAL = new RegExp(`^>$|${FINAL.source}`);
/** How a voice call ends; `OK` only says that it is being made. */
export const CALL_END = /^(BUSY|NO ANSWER|NO CARRIER|NO DIALTONE|CONNECT.*|ERROR|\+CM[SE] ERROR: .*)$/;

type Waiter = { readonly take: (line: string) => boolean; readonly done: () => void };

export const openAtLine = (port: SerialPort): AtLine => {
  let held = '';
  let waiter: Waiter | undefined;
  const said = (line: string): void => {
    if (line !== '' && waiter?.take(line) === true) waiter.done();
  };
  port.on('data', (bytes: Buffer) => {
    held += bytes.toString('latin1');
    const lines = held.split(/\r\n|\r|\n/);
    held = lines.pop() ?? '';
    for (const line of lines) said(line.trim());
    // The prompt for the text of a message ends without a line break [3GPP TS 27.005 3.5.1].
    if (held === PROMPT) {
      held = '';
      said(PROMPT.trim());
    }
  });
  const wait = (take: (line: string) => boolean, limitMs: number): Promise<boolean> =>
    new Promise((resolve) => {
      const end = (came: boolean) => (): void => {
        clearTimeout(timer);
        waiter = undefined;
        port.off('close', gone);
        resolve(came);
      };
      const gone = end(false);
      const timer = setTimeout(end(false), limitMs);
      port.once('close', gone);
      waiter = { take, done: end(true) };
    });
  return {
    ask: async (command, limitMs, ends = FINAL) => {
      const lines: string[] = [];
      const answered = wait((line) => {
        // A modem that still echoes says the command itself first.
        if (line !== command.trim()) lines.push(line);
        return ends.test(line);
      }, limitMs);
      port.write(Buffer.from(command, 'latin1'));
      return { ended: await answered, lines };
    },
    close: () =>
      new Promise((resolve) => {
        if (!port.isOpen) return resolve();
        port.close(() => resolve());
      }),
  };
};
