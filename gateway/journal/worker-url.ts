/**
 * Where the worker thread's file lies beside a module. Worker threads are started from JavaScript: run from TypeScript,
 * the one that `npm run build` made is taken. `folder` is the module's folder within the gateway.
 */
export const workerUrlBeside = (moduleUrl: string, folder: string, file: string): URL =>
  new URL(moduleUrl.endsWith('.ts') ? `../../dist/gateway/${folder}/${file}.js` : `./${file}.js`, moduleUrl);
