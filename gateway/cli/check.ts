import { parseArguments } from './arguments.js';
import { LOOKS } from './checks.js';
import { type Command, DONE, FAILED, wrongUsage } from './command.js';
import { settledConfig } from './settled.js';

const SIGN = { well: 'ok       ', attention: 'attention', failed: 'failed   ' } as const;

export const check: Command = {
  name: 'check',
  summary: 'look whether a start would work, and say what to mend',
  help: `nightwater check

Looks at the variables, the clock, the data folder and its journal, the ports, the certificate, the broker and the
history, without changing anything. Exit code 1 when a start would fail. While a gateway runs on the data folder, it is
asked how it is.`,
  run: async (args, io) => {
    const typed = parseArguments(args, {});
    if (!typed.ok) return wrongUsage(io, 'check', typed.fault);
    if (typed.value.words.length > 0) return wrongUsage(io, 'check', 'check takes no words.');
    const config = settledConfig(io);
    if (!config.ok) {
      for (const sentence of config.fault) io.out(`${SIGN.failed}  ${sentence}`);
      return FAILED;
    }
    io.out(`${SIGN.well}  The variables are understood.`);
    let code: number = DONE;
    for (const look of LOOKS) {
      const looked = await look(config.value, io.now());
      if (looked === undefined) continue;
      io.out(`${SIGN[looked.state]}  ${looked.sentence}`);
      if (looked.state === 'failed') code = FAILED;
    }
    return code;
  },
};
