import { createHash } from 'node:crypto';
import type { FastifyPluginAsync } from 'fastify';
import { importSiteFile, presentSettings } from '../site-file/apply.js';
import { type Difference, differenceLine } from '../site-file/difference.js';
import { makeSiteFile } from '../site-file/make.js';
import { refuse } from './faults.js';
import { callerOf } from './guard.js';
import type { AppParts } from './parts.js';
import { route } from './route.js';
import { anyText, listOf, optional, shape, text, yesNo } from './schema/shape.js';

type Import = { readonly text: string; readonly dryRun?: boolean; readonly remove?: boolean };
const IMPORT = shape<Import>({ text: text(200_000), dryRun: optional(yesNo), remove: optional(yesNo) });

/** What was changed, or would be: one line each, as the command line prints them. */
export type Imported = { readonly applied: boolean; readonly changes: number; readonly lines: readonly string[] };
const IMPORTED = shape<Imported>({ applied: yesNo, changes: { type: 'integer' }, lines: listOf(anyText) });

export const importedFrom = (differences: readonly Difference[], dryRun: boolean): Imported => ({
  applied: !dryRun,
  changes: differences.filter(({ kind }) => kind !== 'kept').length,
  lines: differences.map(differenceLine),
});

const etagOf = (file: string): string => `"${createHash('sha256').update(file).digest('base64url')}"`;

/** All settings as one file: for a copy, for a plan that is looked at before it rules, for another site. */
export const siteFileRoutes =
  ({ desk, journal, clock }: Pick<AppParts, 'desk' | 'journal' | 'clock'>): FastifyPluginAsync =>
  async (app) => {
    const tag = 'site';
    const present = (): string => makeSiteFile(presentSettings(journal, clock.now()));
    app.get(
      '/site/file',
      route({
        tag,
        needs: 'viewer',
        summary: 'All settings as a site file; its ETag goes back in If-Match',
        answer: { type: 'application/yaml', description: 'a site file' },
      }),
      async (_request, reply) => {
        const file = present();
        return reply.type('application/yaml; charset=utf-8').header('etag', etagOf(file)).send(file);
      },
    );
    app.put<{ Body: Import }>(
      '/site/file',
      route({
        tag,
        needs: 'manager',
        summary: 'Make the settings what a site file says, all of it or nothing; a dry run only tells the differences',
        body: IMPORT,
        answer: IMPORTED,
      }),
      async (request, reply) => {
        const { text: file, dryRun = false, remove = false } = request.body;
        const given = request.headers['if-match'];
        if (!dryRun && given === undefined) return refuse(reply, 'version-missing');
        if (!dryRun && given !== etagOf(present())) return refuse(reply, 'site-file-outdated');
        const done = importSiteFile(
          journal,
          desk,
          { text: file, by: callerOf(request).name, dryRun, remove },
          clock.now,
        );
        if (done.ok) return reply.send(importedFrom(done.value, dryRun));
        const faults = done.fault.map(({ line, column, sentence }) => ({
          pointer: '/text',
          detail: `line ${line}, column ${column}: ${sentence}`,
        }));
        return refuse(reply, 'site-file-broken', { first: faults[0]?.detail ?? '' }, faults);
      },
    );
  };
