import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { brotliCompressSync, gzipSync } from 'node:zlib';
import sharp from 'sharp';
import { defineConfig, type Plugin } from 'vite';

const here = (path: string): string => fileURLToPath(new URL(path, import.meta.url));
const gateway = 'http://127.0.0.1:8460';

/** A view by its file, whatever it draws on. */
const views = (...names: readonly string[]): RegExp => new RegExp(`[\\\\/]views[\\\\/](?:${names.join('|')})\\.tsx$`);

/**
 * What is fetched together: the room; what is opened beside a tank, by night or with wet hands; the rest. Small files of
 * their own compress badly. The page of parts stands apart: no page of ours leads to it.
 */
const FETCHED_TOGETHER = [
  { name: 'room', test: /[\\/]dashboard[\\/](?:app|main)\.tsx$/, priority: 4 },
  {
    name: 'near',
    test: views('tank', 'alarms?', 'answer', 'bedside', 'day', 'reading', 'round', 'sheet', 'sign-in', 'write'),
    priority: 3,
  },
  { name: 'far', test: /[\\/]views[\\/](?!parts\.tsx$)[a-z-]+\.tsx$/, priority: 2 },
  { name: 'parts', test: views('parts'), priority: 1 },
];

const ICONS = { 'icon-192.png': 192, 'icon-512.png': 512, 'apple-touch-icon.png': 180 };
const FAVICON_PX = 32;

/** [ICO] one picture in it, which may be a PNG: a directory of one entry, then the picture. */
const icoOf = (png: Buffer): Buffer => {
  const head = Buffer.alloc(22);
  head.writeUInt16LE(1, 2);
  head.writeUInt16LE(1, 4);
  head.writeUInt8(FAVICON_PX, 6);
  head.writeUInt8(FAVICON_PX, 7);
  head.writeUInt16LE(1, 10);
  head.writeUInt16LE(32, 12);
  head.writeUInt32LE(png.byteLength, 14);
  head.writeUInt32LE(head.byteLength, 18);
  return Buffer.concat([head, png]);
};

/** The icons of a home screen, from the one drawing. */
const icons = (): Plugin => ({
  name: 'icons',
  apply: 'build',
  async generateBundle() {
    const drawing = readFileSync(here('public/icon.svg'));
    const png = (sizePx: number): Promise<Buffer> => sharp(drawing).resize(sizePx, sizePx).png().toBuffer();
    for (const [fileName, sizePx] of Object.entries(ICONS))
      this.emitFile({ type: 'asset', fileName, source: await png(sizePx) });
    this.emitFile({ type: 'asset', fileName: 'favicon.ico', source: icoOf(await png(FAVICON_PX)) });
  },
});

/** Each text of the site a second and third time, compressed once here instead of at every request. */
const compressed = (): Plugin => ({
  name: 'compressed',
  apply: 'build',
  closeBundle() {
    const site = here('../dist/site/');
    for (const name of readdirSync(site, { recursive: true, encoding: 'utf8' })) {
      if (!/\.(?:js|css|html|svg|webmanifest)$/.test(name)) continue;
      const text = readFileSync(site + name);
      writeFileSync(`${site}${name}.gz`, gzipSync(text, { level: 9 }));
      writeFileSync(`${site}${name}.br`, brotliCompressSync(text));
    }
  },
});

export default defineConfig({
  plugins: [icons(), compressed()],
  root: here('.'),
  base: '/',
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  resolve: { extensions: ['.ts', '.tsx', '.js'] },
  build: {
    outDir: '../dist/site',
    emptyOutDir: true,
    target: 'es2022',
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    rollupOptions: {
      input: { main: here('index.html'), worker: here('worker/worker.ts') },
      // A service worker is known by its address: it keeps one name, and rules over every page from the top.
      output: {
        entryFileNames: ({ name }) => (name === 'worker' ? 'worker.js' : 'assets/[name]-[hash].js'),
        codeSplitting: { groups: FETCHED_TOGETHER },
      },
    },
  },
  server: {
    host: '127.0.0.1',
    proxy: { '/api': gateway, '/socket.io': { target: gateway, ws: true } },
  },
});
