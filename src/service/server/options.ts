import type { FastifyServerOptions } from 'fastify';
import type { Accounts } from '../../access/accounts.ts';
import type { Role } from '../../access/roles.ts';
import type { Archive } from '../../archive.ts';
import type { Audience } from '../../state/audience.ts';

/** How the service is set up. */
export interface ServiceOptions {
  /** The archive, or a promise of it: the service listens at once and says "not ready" until it is there. */
  readonly archive: Archive | PromiseLike<Archive>;
  /**
   * For whom the service answers whoever has not signed in: `reader` sees what is published; at the `desk` the account of this
   * machine acts and sees everything, as long as nobody has an account. @default 'reader'
   */
  readonly audience?: Audience;
  /** Refuse all mutations. @default false */
  readonly readOnly?: boolean;
  /**
   * Host names a request may come under, without port, or `any`. On a loopback address this keeps a web site
   * from reaching the service by pointing its own name at it (DNS rebinding).
   * @default the names of the loopback address
   */
  readonly hosts?: readonly string[] | 'any';
  /** As Fastify takes it. @default errors only, to standard output */
  readonly logger?: FastifyServerOptions['logger'];
  readonly limits?: Partial<Limits>;
  readonly access?: Partial<AccessOptions>;
}

/** Who gets in. */
export interface AccessOptions {
  /** People with their tokens and sessions. @default nobody has an account */
  readonly accounts: Accounts | undefined;
  /** Whether what is published is read without signing in. @default true */
  readonly isOpen: boolean;
  /** The account of this machine: who acts at a desk. @default `local`, an editor */
  readonly local: { readonly name: string; readonly role: Role };
  /** The address under which people reach the service, where it is not its own; https as a rule. */
  readonly publicUrl: URL | undefined;
}

const DEFAULT_ACCESS: AccessOptions = {
  accounts: undefined,
  isOpen: true,
  local: { name: 'local', role: 'editor' },
  publicUrl: undefined,
};

/** Bounds on one request. */
export interface Limits {
  /** Body of a request, bytes. @default 22,020,096: files of an import add up to 20 MB, and JSON escapes some. */
  readonly bodyBytes: number;
  /** Tokens of a GraphQL document. @default 4,000 */
  readonly tokens: number;
  /** Levels of nested fields, introspection apart. @default 14 */
  readonly depth: number;
  /** Work of a query, in fields; lists count as many times as they may have items. @default 100,000 */
  readonly cost: number;
}

const DEFAULT_LIMITS: Limits = { bodyBytes: 21 * 2 ** 20, tokens: 4_000, depth: 14, cost: 100_000 };

/** Smallest and largest value each limit may have. */
const RANGES: { readonly [name in keyof Limits]: readonly [least: number, most: number] } = {
  bodyBytes: [1_024, 256 * 2 ** 20],
  tokens: [100, 100_000],
  depth: [4, 64],
  cost: [100, 100_000_000],
};

export type CheckedOptions = Required<Omit<ServiceOptions, 'limits' | 'access'>> & {
  readonly limits: Limits;
  readonly access: AccessOptions;
};

/**
 * Options with their defaults.
 * @throws RangeError that names the option, its value and its range
 */
export function checkOptions(options: ServiceOptions): CheckedOptions {
  const limits = { ...DEFAULT_LIMITS, ...options.limits };
  for (const [name, [least, most]] of Object.entries(RANGES)) {
    const value = limits[name as keyof Limits];
    if (!Number.isInteger(value) || value < least || value > most) {
      throw new RangeError(`limits.${name} is ${value}; it must be a whole number from ${least} to ${most}`);
    }
  }
  const { archive, audience = 'reader', readOnly = false, hosts = LOOPBACK_NAMES } = options;
  if (audience !== 'reader' && audience !== 'desk') {
    throw new RangeError(`audience is "${audience}"; it must be "reader" or "desk"`);
  }
  if (hosts !== 'any' && hosts.length === 0)
    throw new RangeError('hosts is empty; name a host, or say "any"');
  const access = { ...DEFAULT_ACCESS, ...options.access };
  return { archive, audience, readOnly, hosts, limits, access, logger: options.logger ?? { level: 'error' } };
}

const LOOPBACK_NAMES = ['localhost', '127.0.0.1', '[::1]'] as const;
