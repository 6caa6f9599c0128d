import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';

const here = (path: string): string => fileURLToPath(new URL(path, import.meta.url));
const gateway = 'http://127.0.0.1:8460';

export default defineConfig({
  root: here('.'),
  base: '/',
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  resolve: { extensions: ['.ts', '.tsx', '.js'] },
  build: {
    outDir: '../dist/site',
    emptyOutDir: true,
    target: 'es2022',
    assetsInlineLimit: 0,
    rollupOptions: {
      input: { main: here('index.html'), worker: here('worker/worker.ts') },
      // A service worker is known by its address: it keeps one name, and rules over every page from the top.
      output: { entryFileNames: ({ name }) => (name === 'worker' ? 'worker.js' : 'assets/[name]-[hash].js') },
    },
  },
  server: {
    host: '127.0.0.1',
    proxy: { '/api': gateway, '/socket.io': { target: gateway, ws: true } },
  },
});
