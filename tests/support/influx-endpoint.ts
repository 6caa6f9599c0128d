import { once } from 'node:events';
import { createServer, type IncomingHttpHeaders, type Server } from 'node:http';
import { gunzipSync } from 'node:zlib';

/** How the stand-in answers a write; `refuses`: 400 for a request with such a line in it, of which then nothing is kept. */
export type Manner =
  | { readonly status: number; readonly headers?: Readonly<Record<string, string>>; readonly body?: string }
  | { readonly refuses: (line: string) => boolean }
  | 'take'
  | 'hang'
  /** Takes the readings, and never says so. */
  | 'take-and-hang'
  /** Says that it took them, a little later. */
  | 'slow';

export type TakenWrite = {
  readonly path: string;
  readonly headers: IncomingHttpHeaders;
  readonly lines: readonly string[];
};

/** A database that takes lines at /api/v2/write on 127.0.0.1, and can be made to misbehave. */
export const openInfluxEndpoint = async () => {
  /** By series and time, as a database keeps them: the same point again is one point. */
  const points = new Map<string, string>();
  const writes: TakenWrite[] = [];
  const waiting = new Set<() => void>();
  let manner: Manner = 'take';
  let server: Server | undefined;
  let port = 0;

  const keep = (lines: readonly string[]): void => {
    for (const line of lines) {
      const [series = '', fields = '', time = ''] = line.split(' ');
      points.set(`${series} ${time}`, fields);
    }
  };
  const answerTo = (
    lines: readonly string[],
  ): { status: number; headers?: Record<string, string>; body?: string } | undefined => {
    if (manner === 'hang') return undefined;
    if (typeof manner === 'object' && 'refuses' in manner) {
      if (lines.some(manner.refuses))
        return { status: 400, body: JSON.stringify({ code: 'invalid', message: 'not this one' }) };
      keep(lines);
      return { status: 204 };
    }
    if (typeof manner === 'object') return { ...manner };
    keep(lines);
    return manner === 'take-and-hang' ? undefined : { status: 204 };
  };
  const start = async (): Promise<void> => {
    const fresh = createServer((request, response) => {
      const chunks: Buffer[] = [];
      request.on('data', (chunk: Buffer) => chunks.push(chunk));
      request.on('end', () => {
        const body = Buffer.concat(chunks);
        const text = request.headers['content-encoding'] === 'gzip' ? gunzipSync(body) : body;
        const lines = text
          .toString('utf8')
          .split('\n')
          .filter((line) => line !== '');
        const answer = answerTo(lines);
        writes.push({ path: request.url ?? '', headers: request.headers, lines });
        const reply = (): void => {
          if (answer !== undefined)
            response
              .writeHead(answer.status, { 'content-type': 'application/json', ...answer.headers })
              .end(answer.body);
        };
        if (manner === 'slow') setTimeout(reply, 50);
        else reply();
        for (const look of waiting) look();
      });
    });
    server = fresh;
    fresh.listen(port, '127.0.0.1');
    await once(fresh, 'listening');
    const address = fresh.address();
    if (address !== null && typeof address !== 'string') port = address.port;
  };
  const stop = async (): Promise<void> => {
    const last = server;
    server = undefined;
    if (last === undefined) return;
    last.closeAllConnections();
    last.close();
    await once(last, 'close');
  };
  await start();
  return {
    url: `http://127.0.0.1:${port}`,
    points: points as ReadonlyMap<string, string>,
    writes: writes as readonly TakenWrite[],
    answers: (next: Manner): void => {
      manner = next;
    },
    /** Resolves when something that came in makes it true. */
    until: (isTrue: () => boolean): Promise<void> =>
      new Promise((resolve) => {
        const look = (): void => {
          if (!isTrue()) return;
          waiting.delete(look);
          resolve();
        };
        waiting.add(look);
        look();
      }),
    stop,
    start,
    close: stop,
  };
};

export type InfluxEndpoint = Awaited<ReturnType<typeof openInfluxEndpoint>>;
