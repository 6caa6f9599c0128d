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
    response.end(readFileSync(file));
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const address = server.address();
  const port = typeof address === 'object' && address !== null ? address.port : 0;
  return { url: `http://127.0.0.1:${port}`, close: () => new Promise((resolve) => server.close(() => resolve())) };
};

/**
 * Bytes of code (scripts, styles, the worker) as gzip sends them: all that a phone fetches over all pages of the product.
 * The page of parts (`/parts`) is not among them: it shows an invented room to whoever works on the pages, no page leads
 * to it, and its code lies in a file of its own that only its address fetches.
 */
export const compressedCode = (): readonly { readonly file: string; readonly bytes: number }[] =>
  readdirSync(SITE, { recursive: true, encoding: 'utf8' })
    .filter((file) => /\.(js|css)$/.test(file) && !/^parts-/.test(basename(file)))
    .map((file) => ({ file, bytes: gzipSync(readFileSync(join(SITE, file))).byteLength }));
