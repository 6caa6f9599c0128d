import { createTransport } from 'nodemailer';
import { accepted, dead, later, type Outcome, type OutcomeCode, type Outgoing, type Sender } from './way.js';
import { idempotencyKey } from './webhook.js';

export type MailServer = {
  readonly host: string;
  readonly port: number;
  /** `tls` from the first byte, `starttls` demanded before anything is said, `none` only within the house. */
  readonly security: 'tls' | 'starttls' | 'none';
  readonly from: string;
  readonly user?: string;
  readonly password?: string;
  /** PEM of an authority of one's own. */
  readonly authority?: string;
};

export type MailLimits = { readonly connectMs: number; readonly silenceMs: number };
const LIMITS: MailLimits = { connectMs: 10_000, silenceMs: 20_000 };

/** Mail by the hatchery's own server. Accepted is not delivered: a second way, never the only one. */
export const buildEmail =
  (server: () => MailServer | undefined, limits: MailLimits = LIMITS): Sender =>
  async (message) => {
    const set = server();
    if (set === undefined) return dead('not-set-up');
    const transport = createTransport(transportOptions(set, limits));
    try {
      const sent = await transport.sendMail({ ...mailOf(message), from: set.from, to: message.address });
      return accepted(sent.response);
    } catch (error) {
      return outcomeOf(error);
    } finally {
      transport.close();
    }
  };

const transportOptions = (
  { host, port, security, user, password, authority }: MailServer,
  { connectMs, silenceMs }: MailLimits,
) => ({
  host,
  port,
  secure: security === 'tls',
  requireTLS: security === 'starttls',
  ignoreTLS: security === 'none',
  connectionTimeout: connectMs,
  greetingTimeout: connectMs,
  socketTimeout: silenceMs,
  disableFileAccess: true,
  disableUrlAccess: true,
  ...(authority === undefined ? {} : { tls: { ca: authority } }),
  ...(user === undefined ? {} : { auth: { user, pass: password ?? '' } }),
});

/** Plain text: readable on any phone, and nothing in it is fetched from anywhere. */
export const mailOf = ({ words, link, key, isCall, call }: Outgoing) => ({
  subject: words.title,
  text: [
    ...words.lines,
    ...(link === undefined ? [] : ['', `Answer here: ${link}`]),
    ...(call === undefined ? [] : ['', `Call ${call.name}: ${call.phone}`]),
    ...(words.checks.length === 0
      ? []
      : ['', 'Check first:', ...words.checks.map((check, index) => `${index + 1}. ${check}`)]),
    ...(words.cautions.length === 0 ? [] : ['', ...words.cautions]),
  ].join('\n'),
  // [RFC 5322 3.6.4] the same message, tried again, keeps its id.
  messageId: `<${idempotencyKey(key).slice(0, 24)}@nightwater>`,
  headers: { 'Auto-Submitted': 'auto-generated', ...(isCall ? { Importance: 'high', 'X-Priority': '1' } : {}) },
});

const BY_CODE: Readonly<Record<string, OutcomeCode>> = {
  ETIMEDOUT: 'timed-out',
  ESOCKET: 'no-connection',
  ECONNECTION: 'no-connection',
  ECONNREFUSED: 'no-connection',
  EDNS: 'no-connection',
};

/** [RFC 5321 4.2.1] 4yz: try again; 5yz: do not. */
const outcomeOf = (error: unknown): Outcome => {
  const { code = '', responseCode, message } = error as { code?: string; responseCode?: number; message: string };
  // What the server said to STARTTLS is no word on the message.
  if (code === 'ETLS') return later('not-encrypted', message);
  if (responseCode !== undefined && responseCode >= 500) return dead('refused', message);
  if (responseCode !== undefined && responseCode >= 400) return later('server-trouble', message);
  if (code === 'EAUTH' || code === 'EENVELOPE' || code === 'EMESSAGE') return dead('refused', message);
  return later(BY_CODE[code] ?? 'no-connection', message);
};
