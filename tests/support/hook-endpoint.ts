import { once } from 'node:events';
import { createServer, type IncomingHttpHeaders } from 'node:http';
import type { Socket } from 'node:net';

export type Hooked = { readonly path: string; readonly headers: IncomingHttpHeaders; readonly body: string };

/** A program of somebody else that takes signed posts on 127.0.0.1. `raw` is written to the line as it stands. */
export const openHookEndpoint = async () => {
  const received: Hooked[] = [];
  let how: { readonly status: number; readonly headers?: Record<string, string> } | { readonly raw: string } | 'hang' =
    { status: 204 };
  const server = createServer((request, response) => {
    const chunks: Buffer[] = [];
    request.on('data', (chunk: Buffer) => chunks.push(chunk));
    request.on('end', () => {
      received.push({
        path: request.url ?? '',
        headers: request.headers,
        body: Buffer.concat(chunks).toString('utf8'),
      });
      if (how === 'hang') return;
      if ('raw' in how) (response.socket as Socket).write(how.raw);
      else response.writeHead(how.status, how.headers).end();
    });
  });
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('no port');
  return {
    url: `http://127.0.0.1:${address.port}/hatchery`,
    received: received as readonly Hooked[],
    answers: (next: typeof how): void => {
      how = next;
    },
    close: async (): Promise<void> => {
      server.closeAllConnections();
      server.close();
      await once(server, 'close');
    },
  };
};
