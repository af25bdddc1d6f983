import { isIP } from 'node:net';
import ipaddr from 'ipaddr.js';
import { CasebackError } from '../../model/problems.ts';

type Ip = ipaddr.IPv4 | ipaddr.IPv6;
type Range = [Ip, number];

/** Where messages may go besides public addresses under https. */
export interface AddressRules {
  /** Origins for which http will do, such as `http://desk.lan:8080`. */
  readonly http: ReadonlySet<string>;
  /** Ranges that are not public and may be reached all the same. */
  readonly ranges: readonly Range[];
}

/** Characters of an address. */
const LONGEST = 2_000;

/** What ranges of addresses are, by their name in ipaddr.js, with the document that says so. */
const MEANING: Readonly<Record<string, string>> = {
  unspecified: 'of "this" network (RFC 6890)',
  broadcast: 'for broadcast (RFC 919)',
  multicast: 'for multicast (RFC 5771, RFC 4291)',
  linkLocal: 'link-local (RFC 3927, RFC 4291)',
  loopback: 'loopback (RFC 1122, RFC 4291)',
  carrierGradeNat: 'shared behind a carrier (RFC 6598)',
  private: 'private (RFC 1918)',
  uniqueLocal: 'unique-local (RFC 4193)',
  deprecatedSiteLocal: 'site-local (RFC 3879)',
  ipv4Mapped: 'IPv4 mapped into IPv6 (RFC 4291)',
  rfc6145: 'IPv4 translated into IPv6 (RFC 2765)',
  rfc6052: 'IPv4 translated into IPv6 (RFC 6052, RFC 8215)',
  '6to4': 'IPv4 in IPv6 (RFC 3056)',
  teredo: 'IPv4 in IPv6 (RFC 4380)',
};

/** Global unicast, all that IANA gives out (RFC 4291, section 2.4): what lies outside it is no public address. */
const GLOBAL_IPV6: [ipaddr.IPv6, number] = [ipaddr.IPv6.parse('2000::'), 3];

/**
 * The rules that an operator writes.
 * @param http origins, such as `http://desk.lan:8080`
 * @param ranges addresses or ranges (CIDR), such as `10.20.0.0/16`
 * @throws CasebackError BAD_INPUT
 */
export function addressRules(http: readonly string[], ranges: readonly string[]): AddressRules {
  return {
    http: new Set(http.filter((one) => one !== '').map(httpOrigin)),
    ranges: ranges.filter((one) => one !== '').map(rangeIn),
  };
}

function httpOrigin(written: string): string {
  const url = URL.parse(written);
  if (url?.protocol === 'http:' && url.pathname === '/' && !url.search && !url.hash && !url.username)
    return url.origin;
  throw new CasebackError(
    'BAD_INPUT',
    `"${written}" is not an origin with http; write scheme, host and port, such as http://desk.lan:8080`,
  );
}

function rangeIn(written: string): Range {
  try {
    // The library takes "10.20" for an address as well, which is one that nobody means.
    const [, bare = ''] = /^(?<address>[^/]*)(?:\/\d+)?$/u.exec(written) ?? [];
    const bits = { 0: undefined, 4: 32, 6: 128 }[isIP(bare)];
    if (bits === undefined) throw new RangeError('not an address');
    return bare === written ? [ipaddr.parse(written), bits] : ipaddr.parseCIDR(written);
  } catch {
    throw new CasebackError(
      'BAD_INPUT',
      `"${written}" is not an address or a range of addresses; write one such as 10.20.0.0/16 or fd00:20::/32`,
    );
  }
}

/**
 * The address of a webhook as it is kept.
 * @throws CasebackError BAD_INPUT for what no message may go to, and why
 */
export function webhookAddress(written: string, rules: AddressRules): URL {
  const refuse = (why: string): never => {
    throw new CasebackError('BAD_INPUT', `The address ${why}`);
  };
  if (written.length > LONGEST) return refuse(`has ${written.length} characters; at most ${LONGEST}`);
  const url = URL.parse(written);
  if (!url) return refuse('is not valid; write one such as https://desk.example.org/hooks/feeds');
  if (url.username || url.password) return refuse('must not have a name or password; messages are signed');
  if (url.hash) return refuse('must not have a fragment (#…); it would not be sent');
  if (url.protocol === 'http:' && !rules.http.has(url.origin))
    return refuse(
      'must begin with https; the operator of the service can allow http for it (--webhook-http)',
    );
  if (!['https:', 'http:'].includes(url.protocol)) return refuse('must begin with https');
  const literal = literalIn(url);
  const wrong = literal && unreachable(literal, rules);
  return wrong ? refuse(`is ${wrong}; the operator of the service can allow it (--webhook-ranges)`) : url;
}

/** The IP address that a URL names in place of a host name. */
export function literalIn({ hostname }: URL): string | undefined {
  const bare = hostname.replace(/^\[(?<inside>.*)\]$/u, '$<inside>');
  return isIP(bare) === 0 ? undefined : bare;
}

/** Why no message may go to an IP address, in words that follow "it is"; undefined where one may. */
export function unreachable(address: string, { ranges }: AddressRules): string | undefined {
  if (isIP(address) === 0) return 'not an address';
  const ip = ipaddr.parse(address);
  const isIn = ([first, bits]: Range) => first.kind() === ip.kind() && ip.match([first, bits] as never);
  if (ranges.some(isIn)) return undefined;
  const range: string = ip.range();
  if (range !== 'unicast') return MEANING[range] ?? 'reserved (RFC 6890)';
  return ip.kind() === 'ipv6' && !isIn(GLOBAL_IPV6) ? 'reserved (RFC 4291)' : undefined;
}
