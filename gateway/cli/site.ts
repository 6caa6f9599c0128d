import { fault, ok, type Result } from '../../rules/result.js';
import { type Imported, importedFrom } from '../http/site-file.js';
import type { Journal } from '../journal/journal.js';
import { didYouMean } from '../nearest.js';
import { buildSettingsDesk, ensureSite, SITE } from '../settings.js';
import { importSiteFile, presentSettings } from '../site-file/apply.js';
import { differences } from '../site-file/difference.js';
import { SITE_FILE } from '../site-file/format.js';
import { makeSiteFile, type Present } from '../site-file/make.js';
import { parseSiteFile, type SiteFileFault } from '../site-file/parse.js';
import type { Wanted } from '../site-file/wanted.js';
import { parseArguments } from './arguments.js';
import { type Command, DONE, failed, type Io, wrongUsage } from './command.js';
import { writeNew } from './new-file.js';
import { done, type Reached, withReached } from './reach.js';
import { readText } from './text-file.js';

const VERBS = ['export', 'import', 'schema'] as const;
type Wish = { readonly path: string; readonly text: string; readonly dryRun: boolean; readonly remove: boolean };

export const site: Command = {
  name: 'site',
  summary: 'all settings of the site as a file: export, import, schema',
  help: `nightwater site export [FILE.yaml]
nightwater site import FILE.yaml [--dry-run] [--remove]
nightwater site schema

export   writes the site, its lines, tanks, limits and probes as YAML, to the file or to standard output
import   makes the settings what the file says: all of it, or nothing and every fault with its line and column
schema   prints the JSON Schema of the file, for editors

  --dry-run   only shows what would change: + new, ~ changed, - taken away, = kept
  --remove    also takes away places and probes that the file does not have; without it they stay

With a gateway running on this data folder the command speaks to it, else it opens the journal itself.`,
  run: async (args, io) => {
    const typed = parseArguments(args, { 'dry-run': 'flag', remove: 'flag' });
    if (!typed.ok) return wrongUsage(io, 'site', typed.fault);
    const { words, flags } = typed.value;
    const [verb = '', path, extra] = words;
    if (extra !== undefined) return wrongUsage(io, 'site', `“${extra}” is one word too many.`);
    const isImport = verb === 'import';
    if (!isImport && (flags['dry-run'] || flags.remove))
      return wrongUsage(io, 'site', '--dry-run and --remove are for “site import”.');
    if (verb === 'schema' && path === undefined) return printed(io, JSON.stringify(SITE_FILE, undefined, 2));
    if (verb === 'export') return finish(io, await exportTo(io, path));
    if (!isImport)
      return wrongUsage(io, 'site', `Write one of ${VERBS.join(', ')} after “site”.${didYouMean(verb, VERBS)}`);
    if (path === undefined) return wrongUsage(io, 'site', 'Name the file to import.');
    const text = readText(path);
    if (!text.ok) return failed(io, text.fault);
    const wish = { path, text: text.value, dryRun: flags['dry-run'], remove: flags.remove };
    return finish(io, await importFrom(io, wish));
  },
};

const printed = ({ out }: Io, text: string): number => {
  out(text);
  return DONE;
};

const finish = (io: Io, result: Result<undefined, readonly string[]>): number =>
  result.ok ? DONE : failed(io, ...result.fault);

const exportTo = (io: Io, path: string | undefined): Promise<Result<undefined, readonly string[]>> =>
  withReached(io, async (reached) => {
    const file = await fileOf(io, reached);
    if (!file.ok) return file;
    if (path === undefined) {
      io.out(file.value.text.trimEnd());
      return done;
    }
    const written = writeNew(path, file.value.text);
    return written.ok ? done : fault([written.fault]);
  });

type Exported = { readonly text: string; readonly etag?: string };

const fileOf = async (io: Io, reached: Reached): Promise<Result<Exported, readonly string[]>> => {
  if (reached.kind === 'running') return reached.running.ask('/site/file');
  const { journal } = reached;
  if (!hasSite(journal)) return fault(['There is no site yet: import one, or start the gateway once.']);
  return ok({ text: makeSiteFile(presentSettings(journal, io.now())) });
};

const hasSite = ({ settings }: Pick<Journal, 'settings'>): boolean => settings.latest(SITE, SITE) !== undefined;

/** What a first import is compared with: the site itself and nothing in it. */
const nothingYet = ({ site: wanted }: Wanted, atMs: number): Present => ({
  hatchery: { site: { ...wanted, id: '' }, places: [], mappings: [], calibrations: [] },
  sources: [],
  atMs,
});

const placed = (path: string, { line, column, sentence }: SiteFileFault): string =>
  `${path}:${line}:${column}: ${sentence}`;

const importFrom = async (io: Io, wish: Wish): Promise<Result<undefined, readonly string[]>> => {
  const parsed = parseSiteFile(wish.text);
  if (!parsed.ok) return fault(parsed.fault.map((each) => placed(wish.path, each)));
  return withReached(io, async (reached) => {
    const imported =
      reached.kind === 'running' ? await askImport(reached, wish) : ownImport(io, reached, wish, parsed.value);
    if (!imported.ok) return imported;
    for (const line of imported.value.lines) io.out(line);
    const { changes } = imported.value;
    const words = changes === 1 ? '1 change' : `${changes} changes`;
    io.err(
      changes === 0
        ? 'Nothing to change.'
        : wish.dryRun
          ? `${words} would be made. Nothing was changed.`
          : `${words} made.`,
    );
    return done;
  });
};

const ownImport = (
  io: Io,
  { journal }: Extract<Reached, { kind: 'journal' }>,
  { path, ...wish }: Wish,
  wanted: Wanted,
): Result<Imported, readonly string[]> => {
  if (!hasSite(journal)) {
    if (wish.dryRun) return ok(importedFrom(differences(nothingYet(wanted, io.now()), wanted, wish.remove), true));
    const { name, zone } = wanted.site;
    ensureSite(journal, { name, zone, nowMs: io.now() });
  }
  // Nobody is watching now: the next start reads what rules.
  const desk = buildSettingsDesk({ journal, watchkeeper: { tell: () => ({ changes: [] }) }, now: io.now });
  const result = importSiteFile(journal, desk, { ...wish, by: 'command line' }, io.now);
  return result.ok
    ? ok(importedFrom(result.value, wish.dryRun))
    : fault(result.fault.map((each) => placed(path, each)));
};

/** What the running gateway has is read first, so that nothing that somebody changed meanwhile is written over. */
const askImport = async (
  { running }: Extract<Reached, { kind: 'running' }>,
  { text, dryRun, remove }: Wish,
): Promise<Result<Imported, readonly string[]>> => {
  const present = await running.ask('/site/file');
  if (!present.ok) return present;
  const { etag } = present.value;
  const body = { text, dryRun, remove };
  const reply = await running.ask('/site/file', {
    method: 'PUT',
    body,
    ...(etag === undefined ? {} : { ifMatch: etag }),
  });
  return reply.ok ? ok(JSON.parse(reply.value.text) as Imported) : reply;
};
