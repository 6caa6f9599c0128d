import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vite';

const gateway = 'http://127.0.0.1:8460';

export default defineConfig({
  root: fileURLToPath(new URL('.', import.meta.url)),
  base: '/',
  oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
  resolve: { extensions: ['.ts', '.tsx', '.js'] },
  build: { outDir: '../dist/site', emptyOutDir: true, target: 'es2022', assetsInlineLimit: 0 },
  server: {
    host: '127.0.0.1',
    proxy: { '/api': gateway, '/socket.io': { target: gateway, ws: true } },
  },
});
