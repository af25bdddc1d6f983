import type { IncomingHttpHeaders } from 'node:http';
import type { FastifyReply, FastifyRequest } from 'fastify';

/** What is known of the representation that a request would get. */
export interface Validators {
  /** Strong entity tag, quotation marks included (RFC 9110, section 8.8.3). */
  readonly etag: string;
  /** Last-Modified, milliseconds since 1970, whole seconds; where there is none, conditions about it are ignored. */
  readonly modified?: number;
}

/**
 * What the preconditions of a GET or HEAD request come to, in the order of RFC 9110, section 13.2.2: 412 where the asker wants
 * another representation, 304 where it has this one, else undefined. A date that is not an HTTP-date is ignored (13.1.3, 13.1.4).
 */
export function precondition(
  headers: IncomingHttpHeaders,
  { etag, modified }: Validators,
): 304 | 412 | undefined {
  const match = headers['if-match'];
  const unmodified = httpDate(headers['if-unmodified-since']);
  if (match !== undefined) {
    if (!names(match, etag, isStrongMatch)) return 412;
  } else if (unmodified !== undefined && modified !== undefined && modified > unmodified) return 412;
  const none = headers['if-none-match'];
  if (none !== undefined) return names(none, etag, isWeakMatch) ? 304 : undefined;
  const since = httpDate(headers['if-modified-since']);
  return since !== undefined && modified !== undefined && modified <= since ? 304 : undefined;
}

/** Sends what was asked for, or 304 or 412 without it (RFC 9110, sections 15.4.5 and 15.5.13). */
export function conditional(
  { headers }: FastifyRequest,
  reply: FastifyReply,
  validators: Validators,
  send: () => FastifyReply,
): FastifyReply {
  reply.header('etag', validators.etag);
  switch (precondition(headers, validators)) {
    case 304:
      return reply.code(304).send();
    case 412: {
      const message = 'The answer is another one than If-Match or If-Unmodified-Since ask for';
      return reply.code(412).header('cache-control', 'no-store').send({ code: 'CONFLICT', message });
    }
    default:
      return send();
  }
}

type Compare = (one: string, other: string) => boolean;

/** Strong comparison: neither is weak (RFC 9110, section 8.8.3.2). */
const isStrongMatch: Compare = (one, other) => one === other && !one.startsWith('W/');
/** Weak comparison: the opaque tags are equal. */
const isWeakMatch: Compare = (one, other) => one.replace(/^W\//u, '') === other.replace(/^W\//u, '');

/** An entity tag, or the comma of a list; lists may have empty members (RFC 9110, sections 5.6.1.2 and 8.8.3). */
const MEMBER = /[ \t]*(?:(?<tag>(?:W\/)?"[\x21\x23-\x7E\x80-\xFF]*")[ \t]*(?=,|$)|(?=,|$))(?:,|$)/uy;

/** Whether a list of entity tags, or `*`, names one; what is no such list names none. */
function names(field: string, etag: string, isMatch: Compare): boolean {
  if (field.trim() === '*') return true;
  MEMBER.lastIndex = 0;
  let isNamed = false;
  while (MEMBER.lastIndex < field.length) {
    const member = MEMBER.exec(field);
    if (!member) return false;
    const tag = member.groups?.tag;
    if (tag !== undefined && isMatch(tag, etag)) isNamed = true;
  }
  return isNamed;
}

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];
const DAY = '(?:Mon|Tue|Wed|Thu|Fri|Sat|Sun)';
const LONG_DAY = '(?:Monday|Tuesday|Wednesday|Thursday|Friday|Saturday|Sunday)';
const MONTH = `(?<month>${MONTHS.join('|')})`;
const TIME = '(?<hour>\\d\\d):(?<minute>\\d\\d):(?<second>\\d\\d)';
/** The three forms of RFC 9110, section 5.6.7: of today, of RFC 850, of C's asctime. */
const DATES = [
  new RegExp(`^${DAY}, (?<day>\\d\\d) ${MONTH} (?<year>\\d{4}) ${TIME} GMT$`, 'u'),
  new RegExp(`^${LONG_DAY}, (?<day>\\d\\d)-${MONTH}-(?<year>\\d\\d) ${TIME} GMT$`, 'u'),
  new RegExp(`^${DAY} ${MONTH} (?<day>[ \\d]\\d) ${TIME} (?<year>\\d{4})$`, 'u'),
];

/** An HTTP-date in milliseconds since 1970; undefined for anything else. */
export function httpDate(field: string | undefined, now = Date.now()): number | undefined {
  for (const form of DATES) {
    const found = form.exec(field ?? '')?.groups;
    if (!found) continue;
    const number = (name: string) => Number(found[name]);
    const month = MONTHS.indexOf(found.month);
    const at = (year: number) => {
      const [day, hour, minute, second] = ['day', 'hour', 'minute', 'second'].map(number);
      // A leap second is that of the minute before, as clocks without them have it.
      const is = Date.UTC(year, month, day, hour, minute, Math.min(second, 59));
      const isReal = new Date(is).getUTCDate() === day && hour < 24 && minute < 60 && second <= 60;
      return isReal ? is : undefined;
    };
    if (found.year.length === 4) return at(number('year'));
    // Two digits of a year that would be more than 50 years ahead are of the century before (section 5.6.7).
    const century = Math.floor(new Date(now).getUTCFullYear() / 100) * 100;
    const thisCentury = at(century + number('year'));
    const ahead = new Date(now);
    ahead.setUTCFullYear(ahead.getUTCFullYear() + 50);
    return thisCentury !== undefined && thisCentury > ahead.getTime()
      ? at(century - 100 + number('year'))
      : thisCentury;
  }
  return undefined;
}
