import { closeSync, openSync, writeSync } from 'node:fs';
import { hostname, networkInterfaces } from 'node:os';
import type { Accounts } from '../../access/accounts.ts';
import { localAccount, nameOrWhyNot } from '../../access/local-account.ts';
import { CasebackError } from '../../model/problems.ts';
import type { ServiceOptions } from '../../service/server/options.ts';
import type { Audience } from '../../state/visibility/audience.ts';
import { systemTrouble } from '../../text/system-trouble.ts';
import { loginName, type Place } from './data-folder.ts';
import { quoted, UsageError } from './exit.ts';
import type { Terminal } from './terminal.ts';

interface Asked {
  readonly requireSignIn: boolean;
  readonly publicUrl: string | undefined;
  readonly hosts: readonly string[] | undefined;
  readonly accessLog: string | undefined;
}

const LOOPBACK: readonly string[] = ['127.0.0.1', 'localhost', '::1'];
const EVERY_ADDRESS: readonly string[] = ['0.0.0.0', '::', ''];

/** Whether only this machine reaches a listening address. */
export function isLoopback(host: string): boolean {
  return LOOPBACK.includes(host);
}

/**
 * What a service is told of who gets in.
 * @throws UsageError for options that are not valid or do not go together; CasebackError for a log that cannot be written
 */
export async function accessOf(
  options: Asked,
  at: { readonly host: string; readonly port: number; readonly audience: Audience; readonly place: Place },
  accounts: Accounts,
  terminal: Terminal,
): Promise<Required<Pick<ServiceOptions, 'hosts' | 'access'>> & { readonly close: () => void }> {
  const { host, port, audience, place } = at;
  if (audience === 'desk' && !isLoopback(host))
    throw new UsageError(
      `--audience desk lets whoever reaches the service change the archive, and so goes with an address of this machine alone, not with ${quoted(host)}; leave it out and give people accounts ("caseback people add"), who see the desk when they sign in`,
    );
  if (audience === 'desk' && options.requireSignIn)
    throw new UsageError('--audience desk does not go with --require-sign-in; give one of the two');
  const publicUrl = publicUrlIn(options.publicUrl ?? (process.env.PUBLIC_URL || undefined));
  const local = nameOrWhyNot(() => localAccount(place.folder)?.name ?? loginName());
  if (audience === 'desk' && local.nameless !== undefined)
    terminal.message(`caseback serve: questions are answered and changes refused: ${local.nameless}\n`);
  const log = options.accessLog === undefined ? undefined : logTo(options.accessLog, terminal);
  const signOnFrom = process.env.OIDC_ISSUER && (await import('../../access/sign-on-settings.ts')).signOnFrom;
  const own = publicUrl ?? new URL(`http://${urlHost(isLoopback(host) ? '127.0.0.1' : host)}:${port}`);
  return {
    hosts: [...new Set(hostsOf(host, publicUrl, options.hosts ?? []))],
    access: {
      accounts,
      isOpen: !options.requireSignIn,
      local: { ...local, role: 'editor' },
      publicUrl,
      signOn: signOnFrom ? signOnFrom(process.env, own) : undefined,
      log: log?.write,
    },
    close: () => log?.close(),
  };
}

/** Names under which a service answers: those of its address, of the public one, and what is named besides. */
function hostsOf(host: string, publicUrl: URL | undefined, named: readonly string[]): readonly string[] {
  const loopback = LOOPBACK.map(urlHost);
  const own = EVERY_ADDRESS.includes(host)
    ? [
        hostname(),
        ...Object.values(networkInterfaces()).flatMap((all) => (all ?? []).map((one) => one.address)),
      ]
    : [host];
  return [
    ...loopback,
    ...own.map(urlHost),
    ...(publicUrl ? [publicUrl.hostname] : []),
    ...named.map(urlHost),
  ];
}

/** As a Host header has it: an IPv6 address in brackets. */
function urlHost(name: string): string {
  return /:/u.test(name) && !name.startsWith('[') ? `[${name.replace(/%.*$/u, '')}]` : name;
}

function publicUrlIn(written: string | undefined): URL | undefined {
  if (written === undefined) return undefined;
  const url = URL.parse(written);
  const isPlain = url !== null && url.pathname === '/' && url.search === '' && url.username === '';
  if (isPlain && (url.protocol === 'https:' || (url.protocol === 'http:' && isLoopback(url.hostname))))
    return url;
  throw new UsageError(
    `--public-url is ${quoted(written)}; write an address without a path, such as https://caseback.example.org (browsers keep no session without TLS)`,
  );
}

/** A log that is added to; on SIGHUP it is opened anew under its name, so that the system may rotate it. */
function logTo(
  file: string,
  terminal: Terminal,
): { readonly write: (line: string) => void; readonly close: () => void } {
  if (file === '-') return { write: (line) => terminal.out(line), close: () => undefined };
  const open = () => {
    try {
      return openSync(file, 'a', 0o640);
    } catch (error) {
      const trouble = systemTrouble(error);
      if (!trouble) throw error;
      throw new CasebackError('BAD_FILE', `${file} cannot be written: it ${trouble.what}`);
    }
  };
  let at = open();
  const reopen = () => {
    try {
      const next = open();
      closeSync(at);
      at = next;
    } catch (error) {
      terminal.message(`caseback serve: ${(error as Error).message}\n`);
    }
  };
  process.on('SIGHUP', reopen);
  return {
    write: (line) => {
      try {
        writeSync(at, line);
      } catch (error) {
        terminal.message(`caseback serve: a line of the access log was lost: ${(error as Error).message}\n`);
      }
    },
    close: () => {
      process.off('SIGHUP', reopen);
      closeSync(at);
    },
  };
}
