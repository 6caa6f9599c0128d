import { argv, exit, stderr, stdout } from 'node:process';

type Telling = { readonly text: string; readonly ok: boolean };
type Story = { readonly tell: (args: readonly string[]) => Telling | Promise<Telling> };

/** Each story is loaded only when it is asked for. */
const STORIES: Readonly<Record<string, () => Promise<Story>>> = {
  batch: () => import('./stories/batch.js'),
  'die-off': () => import('./stories/die-off.js'),
  night: () => import('./stories/night.js'),
};

const [name = '', ...args] = argv.slice(3);
const story = STORIES[name];
if (story === undefined) {
  stderr.write(`npm run story -- NAME [--json], NAME one of: ${Object.keys(STORIES).join(', ')}\n`);
  exit(2);
}
const { text, ok } = await (await story()).tell(args);
stdout.write(`${text}\n`, () => exit(ok ? 0 : 1));
