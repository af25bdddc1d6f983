import { lookup } from 'node:dns/promises';
import { isIPv6, type LookupFunction } from 'node:net';
import { type AddressRules, literalIn, unreachable } from './addresses.ts';
import { retryAfter } from './retries.ts';

/** Finds the addresses of a host name. */
export type Resolve = (host: string) => Promise<readonly string[]>;

/** How messages are sent. */
export interface PostOptions {
  readonly rules: AddressRules;
  readonly resolve: Resolve;
  /** Longest that a try may take, ms: Standard Webhooks suggests 15 to 30 s. */
  readonly time: number;
  /** Certificates that are trusted in place of the usual ones, PEM. */
  readonly ca?: string;
}

/** What a try came to. Nothing of the answer but its status is kept. */
export interface Outcome {
  readonly status: number | undefined;
  /** In a few words, for whoever looks after the webhook. */
  readonly said: string;
  /** What Retry-After asks for, ms. */
  readonly retryAfter: number | undefined;
}

/** Longest that a try may take, ms. */
export const TIME = 20_000;
/** Bytes of header fields of an answer. */
const HEADER_BYTES = 16_384;
/** Bytes of an answer that are taken off the line before the connection is cut; none are looked at. */
const BODY_BYTES = 65_536;

/** As the machine resolves names. */
export const systemResolve: Resolve = async (host) =>
  (await lookup(host, { all: true, verbatim: true })).map(({ address }) => address);

/**
 * Posts a message to an address. The host name is resolved once, every address that it leads to is held against the rules, and the
 * connection is made to one of them, so that a name which leads elsewhere a moment later is of no use. Redirects are not followed. It
 * never throws: what goes wrong is the outcome.
 * @param turn which of several addresses of a host is tried, so that the next try takes the next
 */
export async function post(
  url: URL,
  headers: Readonly<Record<string, string>>,
  body: string,
  { rules, resolve, time, ca }: PostOptions,
  turn = 0,
): Promise<Outcome> {
  const late = AbortSignal.timeout(time);
  try {
    const found = await reachable(url, rules, resolve, late);
    if ('refused' in found) return failed(found.refused);
    return await send(url, found.addresses[turn % found.addresses.length], headers, body, late, ca);
  } catch (error) {
    return failed(late.aborted ? `no answer within ${time / 1_000} s` : spoken(error));
  }
}

type Found = { readonly addresses: readonly string[] } | { readonly refused: string };

/** The addresses of a host, or why none of them may be reached: one that may not be is reason enough to refuse them all. */
async function reachable(url: URL, rules: AddressRules, resolve: Resolve, late: AbortSignal): Promise<Found> {
  if (url.protocol === 'http:' && !rules.http.has(url.origin))
    return { refused: 'refused here: http is not allowed for this address' };
  const literal = literalIn(url);
  const addresses = literal === undefined ? await inTime(resolve(url.hostname), late) : [literal];
  if (addresses.length === 0) return { refused: 'the host name has no address' };
  for (const address of addresses) {
    const wrong = unreachable(address, rules);
    if (wrong) return { refused: `refused here: the host has an address that is ${wrong}` };
  }
  return { addresses };
}

function inTime<T>(work: Promise<T>, late: AbortSignal): Promise<T> {
  return new Promise((resolve, reject) => {
    late.addEventListener('abort', () => reject(late.reason), { once: true });
    work.then(resolve, reject);
  });
}

async function send(
  url: URL,
  address: string,
  headers: Readonly<Record<string, string>>,
  body: string,
  late: AbortSignal,
  ca: string | undefined,
): Promise<Outcome> {
  const family = isIPv6(address) ? 6 : 4;
  const fixed: LookupFunction = (_host, options, done) =>
    options.all ? done(null, [{ address, family }]) : done(null, address, family);
  // Loaded when it is needed: as a module node:http brings Node's own client along, which takes a start longer than any package does.
  const { request } = await (url.protocol === 'https:' ? import('node:https') : import('node:http'));
  return new Promise((resolve, reject) => {
    const sent = request(
      url,
      {
        method: 'POST',
        headers: {
          ...headers,
          'content-type': 'application/json',
          'content-length': Buffer.byteLength(body),
          'user-agent': 'Caseback',
        },
        // A connection of its own, which no proxy setting of the process leads elsewhere.
        agent: false,
        lookup: fixed,
        maxHeaderSize: HEADER_BYTES,
        signal: late,
        ...(ca === undefined ? {} : { ca }),
      },
      (answer) => {
        const { statusCode: status = 0 } = answer;
        const wait = retryAfter(answer.headers['retry-after'], Date.now());
        resolve({ status, said: saidBy(status), retryAfter: wait });
        let left = BODY_BYTES;
        answer.on('data', (piece: Buffer) => {
          left -= piece.length;
          if (left < 0) answer.destroy();
        });
        // The outcome stands, whatever becomes of the rest.
        answer.on('error', () => undefined);
      },
    );
    sent.on('error', reject);
    sent.end(body);
  });
}

function saidBy(status: number): string {
  if (status >= 200 && status < 300) return String(status);
  if (status >= 300 && status < 400)
    return `${status}: a redirect, which is not followed; register the new address`;
  if (status === 410) return '410: the receiver wants no more messages';
  return String(status);
}

function failed(said: string): Outcome {
  return { status: undefined, said, retryAfter: undefined };
}

/** A failure below HTTP, in words that tell nothing of networks behind the service. */
function spoken(error: unknown): string {
  const code = String((error as { code?: unknown }).code ?? '');
  switch (code) {
    case 'ENOTFOUND':
    case 'EAI_AGAIN':
    case 'ENODATA':
      return 'the host name was not found';
    case 'ECONNREFUSED':
      return 'the connection was refused';
    case 'ECONNRESET':
    case 'EPIPE':
      return 'the connection was cut before an answer';
    case 'EHOSTUNREACH':
    case 'ENETUNREACH':
    case 'ETIMEDOUT':
      return 'the host cannot be reached';
    case 'HPE_HEADER_OVERFLOW':
      return 'the header of the answer is too long';
    default:
      if (code.startsWith('HPE_')) return 'the answer is not HTTP';
      return /CERT|ISSUER|SIGNATURE|CRL|ALTNAME|SSL|TLS|EPROTO/u.test(code)
        ? `TLS failed (${code})`
        : 'the connection failed';
  }
}
