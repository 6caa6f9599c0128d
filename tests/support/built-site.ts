import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import { basename, extname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';

/** The pages as `npm run build` (and `npm test` before it runs) leaves them. */
export const SITE = fileURLToPath(new URL('../../dist/site/', import.meta.url));

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.woff2': 'font/woff2',
  '.woff': 'font/woff',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.ico': 'image/vnd.microsoft.icon',
  '.webmanifest': 'application/manifest+json',
};

/** Serves the built pages alone, without a gateway, on a free port of this machine. */
export const serveSite = async (): Promise<{ readonly url: string; readonly close: () => Promise<void> }> => {
  if (!existsSync(join(SITE, 'index.html'))) throw new Error('The pages are not built: run `npm run build` first.');
  const server: Server = createServer((request, response) => {
    const path = (request.url ?? '/').split('?')[0] ?? '/';
    const file = join(SITE, extname(path) === '' ? 'index.html' : path);
    if (path.startsWith('/api/') || !existsSync(file)) {
      response.writeHead(404).end();
      return;
    }
    response.setHeader('content-type', TYPES[extname(file)] ?? 'application/octet-stream');
    if (path.startsWith('/assets/')) response.setHeader('cache-control', 'max-age=3600, immutable');
    response.end(readFileSync(file));
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const address = server.address();
  const port = typeof address === 'object' && address !== null ? address.port : 0;
  return { url: `http://127.0.0.1:${port}`, close: () => new Promise((resolve) => server.close(() => resolve())) };
};

/** Fetched only by whoever opens one of these pages: reviews, runs, settings and the like; and the page of parts. */
const APART = /^(?:far|parts)-/;

export type Code = { readonly file: string; readonly bytes: number; readonly apart: boolean };

/**
 * Bytes of code (scripts, styles, the worker) as gzip sends them. What is not apart is fetched by every phone that opens
 * the dashboard: the room, and what is opened beside a tank, by night or with wet hands.
 */
export const compressedCode = (): readonly Code[] =>
  readdirSync(SITE, { recursive: true, encoding: 'utf8' })
    .filter((file) => /\.(js|css)$/.test(file))
    .map((file) => ({
      file,
      bytes: gzipSync(readFileSync(join(SITE, file))).byteLength,
      apart: APART.test(basename(file)),
    }));
