import { once } from 'node:events';
import { SMTPServer, type SMTPServerOptions } from 'smtp-server';

export type Mail = { readonly to: readonly string[]; readonly text: string };

export type MailServer = {
  readonly port: number;
  readonly mails: readonly Mail[];
  has(count: number): Promise<void>;
  close(): Promise<void>;
};

/** A real SMTP server on 127.0.0.1 that keeps what it is given. */
export const openMailServer = async (options: SMTPServerOptions = {}): Promise<MailServer> => {
  const mails: Mail[] = [];
  const waiting = new Set<() => void>();
  const server = new SMTPServer({
    authOptional: true,
    disabledCommands: ['STARTTLS'],
    onData: (stream, session, done) => {
      const chunks: Buffer[] = [];
      stream.on('data', (chunk: Buffer) => chunks.push(chunk));
      stream.on('end', () => {
        mails.push({
          to: session.envelope.rcptTo.map(({ address }) => address),
          text: Buffer.concat(chunks).toString('utf8'),
        });
        done();
        for (const look of waiting) look();
      });
    },
    ...options,
  });
  server.on('error', () => undefined);
  const listener = server.listen(0, '127.0.0.1');
  await once(listener, 'listening');
  const address = listener.address();
  if (address === null || typeof address === 'string') throw new Error('no port');
  return {
    port: address.port,
    mails,
    has: (count) =>
      new Promise((resolve) => {
        const look = (): void => {
          if (mails.length < count) return;
          waiting.delete(look);
          resolve();
        };
        waiting.add(look);
        look();
      }),
    close: () => new Promise((resolve) => server.close(() => resolve())),
  };
};
