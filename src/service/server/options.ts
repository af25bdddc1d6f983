import type { FastifyServerOptions } from 'fastify';
import type { Accounts } from '../../access/accounts.ts';
import type { Who } from '../../access/roles.ts';
import type { SignOn } from '../../access/sign-on.ts';
import type { Documents } from '../../api-schema/document-id.ts';
import { QUESTION_LIMITS, type QuestionLimits } from '../../api-schema/question-limits.ts';
import type { Archive } from '../../archive.ts';
import type { DeskBundle } from '../../desk/bundle.ts';
import type { Audience } from '../../state/visibility/audience.ts';
import type { PostOptions } from '../webhooks/post.ts';
import type { Webhooks } from '../webhooks/webhooks.ts';
import type { Metrics } from './metrics.ts';

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
  /** Requests a second that one account or address may make on average, ten seconds' worth at once; 0 for any number. @default 0 */
  readonly rate?: number;
  /**
   * Proxies in front, whose X-Forwarded-For is believed: how many there are, or their addresses and networks (CIDR). Without it
   * every request is the address's that it comes from. @default none
   */
  readonly trustProxy?: number | readonly string[];
  /** Whether the schema may be asked for by queries. It is no secret: `/schema.graphql` has it. @default true */
  readonly introspection?: boolean;
  /** Documents that may be asked for by their identifiers, beside the questions of feeds. @default none */
  readonly documents?: Documents;
  /** Whether readers are answered such documents alone. @default false */
  readonly documentsOnly?: boolean;
  /** Where to count requests; whoever gives this may serve it elsewhere. @default nothing is counted, and there is no `/metrics` */
  readonly metrics?: Metrics | undefined;
  /** Addresses that are told when the answers of feeds change. @default there are none */
  readonly webhooks?: Webhooks | undefined;
  /** The pages of the desk. @default there is none */
  readonly desk?: DeskBundle | undefined;
  /** How messages to them are sent, where not as usual. */
  readonly posting?: Partial<Omit<PostOptions, 'rules'>>;
}

/** Who gets in. */
export interface AccessOptions {
  /** People with their tokens and sessions. @default nobody has an account */
  readonly accounts: Accounts | undefined;
  /** Whether what is published is read without signing in. @default true */
  readonly isOpen: boolean;
  /** The account of this machine: who acts at a desk. @default `local`, an editor */
  readonly local: Who;
  /** The address under which people reach the service, where it is not its own; https as a rule. */
  readonly publicUrl: URL | undefined;
  /** Single sign-on. @default none */
  readonly signOn: SignOn | undefined;
  /** Where each line of the access log goes. @default nowhere */
  readonly log: ((line: string) => void) | undefined;
}

const DEFAULT_ACCESS: AccessOptions = {
  accounts: undefined,
  isOpen: true,
  local: { name: 'local', role: 'editor' },
  publicUrl: undefined,
  signOn: undefined,
  log: undefined,
};

/** Bounds on one request. */
export interface Limits extends QuestionLimits {
  /** Body of a request of whoever may bring files in, bytes. @default 22,020,096: files add up to 20 MB, and JSON escapes some. */
  readonly bodyBytes: number;
  /** Body of anybody else's request, bytes. @default 1,048,576 */
  readonly questionBytes: number;
  /**
   * Dossiers and catalogues of one import, bytes. They are read by another thread; what is left to do with so much takes up to
   * 100 ms at a stretch. @default 1,048,576
   */
  readonly filesBytes: number;
  /** Components, pins and nets of the trade files of one import, likewise. @default 10,000 */
  readonly designItems: number;
  /** Text of an answer, bytes. @default 33,554,432 */
  readonly answerBytes: number;
  /** How long a question or page may take from its request to its answer, milliseconds; changes are not broken off. @default 60,000 */
  readonly time: number;
  /** How long a request may take to come in whole, milliseconds. @default 60,000 */
  readonly requestTime: number;
  /** Open connections in all. @default 1,000 */
  readonly connections: number;
  /** Open connections from one address, where no proxy stands in front. @default 200 */
  readonly connectionsEach: number;
}

const DEFAULT_LIMITS: Limits = {
  bodyBytes: 21 * 2 ** 20,
  questionBytes: 2 ** 20,
  filesBytes: 2 ** 20,
  designItems: 10_000,
  answerBytes: 32 * 2 ** 20,
  time: 60_000,
  requestTime: 60_000,
  connections: 1_000,
  connectionsEach: 200,
  ...QUESTION_LIMITS,
};

/** Smallest and largest value each limit may have. */
const RANGES: { readonly [name in keyof Limits]: readonly [least: number, most: number] } = {
  bodyBytes: [1_024, 256 * 2 ** 20],
  questionBytes: [1_024, 256 * 2 ** 20],
  filesBytes: [1_024, 256 * 2 ** 20],
  designItems: [10, 10_000_000],
  answerBytes: [65_536, 512 * 2 ** 20],
  time: [100, 3_600_000],
  requestTime: [1_000, 3_600_000],
  connections: [1, 100_000],
  connectionsEach: [1, 100_000],
  tokens: [100, 100_000],
  depth: [4, 64],
  cost: [100, 100_000_000],
};

export type CheckedOptions = Required<
  Omit<ServiceOptions, 'limits' | 'access' | 'metrics' | 'webhooks' | 'desk'>
> & {
  readonly desk: DeskBundle | undefined;
  readonly metrics: Metrics | undefined;
  readonly webhooks: Webhooks | undefined;
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
  const { rate = 0, trustProxy = 0, introspection = true, metrics, webhooks, desk, posting = {} } = options;
  const { documents = new Map(), documentsOnly = false } = options;
  if (audience !== 'reader' && audience !== 'desk') {
    throw new RangeError(`audience is "${audience}"; it must be "reader" or "desk"`);
  }
  if (hosts !== 'any' && hosts.length === 0)
    throw new RangeError('hosts is empty; name a host, or say "any"');
  const access = { ...DEFAULT_ACCESS, ...options.access };
  if (!Number.isFinite(rate) || rate < 0 || rate > 1_000_000)
    throw new RangeError(`rate is ${rate}; it must be a number from 0 to 1000000`);
  const logger = options.logger ?? { level: 'error' };
  return {
    archive,
    audience,
    readOnly,
    hosts,
    limits,
    access,
    rate,
    trustProxy,
    introspection,
    documents,
    documentsOnly,
    metrics,
    webhooks,
    desk,
    posting,
    logger,
  };
}

const LOOPBACK_NAMES = ['localhost', '127.0.0.1', '[::1]'] as const;
