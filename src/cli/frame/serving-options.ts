import { SERVICE_AUDIENCE_OPTION, WHOLE_OPTION } from './common-options.ts';
import { flag, list, text, whole } from './options.ts';

export const PORTS = { min: 0, max: 65_535 } as const;
/** Requests a second from one address, where others than this machine reach the service. */
export const RATE = 50;
/** Options of a service about who gets in. */
const ACCESS_OPTIONS = {
  requireSignIn: flag('nobody reads without signing in'),
  publicUrl: text(
    'URL',
    'address under which people reach the service, where that is not its own (default: PUBLIC_URL); single sign-on leads back to it',
  ),
  hosts: list(
    'NAME,...',
    'further host names to answer under, beside the names of this machine and that of --public-url',
  ),
  accessLog: text(
    'FILE',
    'where a line of JSON goes for each request; - for standard output. After a rotation SIGHUP opens the file anew',
  ),
};

/** Options about where messages of webhooks may go besides public addresses under https. */
export const WEBHOOK_OPTIONS = {
  webhookHttp: list(
    'ORIGIN,...',
    'origins that webhooks may reach by http, such as http://desk.lan:8080 (default: WEBHOOK_HTTP, else none)',
  ),
  webhookRanges: list(
    'RANGE,...',
    'addresses and ranges that are not public and that webhooks may reach, such as 10.20.0.0/16 (default: WEBHOOK_RANGES, else none)',
  ),
};

/** Options of `serve`. */
export const SERVE_OPTIONS = {
  port: whole('N', { help: 'port; 0 takes any free one (default: PORT, else 4860)', ...PORTS }),
  host: text('HOST', 'address to listen on (default: HOST, else 127.0.0.1, which only this machine reaches)'),
  ...SERVICE_AUDIENCE_OPTION,
  readOnly: flag('refuse changes'),
  ...WHOLE_OPTION,
  rate: whole('N', {
    help: `requests a second from one address on average, ten seconds' worth at once; 0 for any number (default: 0 on this machine alone, else ${RATE})`,
    min: 0,
    max: 1_000_000,
  }),
  proxies: whole('N', {
    help: 'proxies in front of the service, whose X-Forwarded-For is believed (default: 0)',
    min: 0,
    max: 10,
  }),
  metricsPort: whole('N', {
    help: 'port on 127.0.0.1 that gives /metrics to whoever asks there; administrators get them at /metrics of the service too',
    ...PORTS,
  }),
  documents: text(
    'FOLDER',
    'folder with GraphQL documents (NAME.graphql), which can be asked for by the SHA-256 of their text, as the questions of feeds can',
  ),
  documentsOnly: flag('answer readers such documents alone, and no other question'),
  hideSchema: flag('refuse questions about the schema (introspection)'),
  ...ACCESS_OPTIONS,
  ...WEBHOOK_OPTIONS,
};
