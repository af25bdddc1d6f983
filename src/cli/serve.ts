import { flushCompileCache } from 'node:module';
import { fileURLToPath } from 'node:url';
import { Archive } from '../archive.ts';
import type { Journal } from '../journal/journal.ts';
import { createService } from '../service/create-service.ts';
import { type Command, choiceOf, EXIT, numberOf, textOf, Unable } from './command.ts';
import { confusionFor, followConfusion } from './confusion.ts';
import { DATA_HELP, DATA_OPTION, dataFolder, openJournal } from './data-folder.ts';
import { inWords, readWithProgress } from './import.ts';
import { withProgress } from './journal-reading.ts';

const DEMO_FOLDER = fileURLToPath(new URL('../../seed-data', import.meta.url));
/** How often another process's changes are looked for, in ms. */
const FOLLOW_EVERY = 1_000;
/** How long open connections may take to end once the service is told to stop, in ms. */
const PATIENCE = 5_000;

export const command: Command = {
  usage: 'serve [--data FOLDER] [--port N] [--host H] [--audience reader|desk] [--empty] [--read-only]',
  help: `Serves the page, GraphQL and its explorer on one address until Ctrl-C (SIGINT or SIGTERM). An empty data folder gets
the invented demo archive first. A confusion.yaml in the data folder, in the form of schema/confusions.yaml, says how
eyes confuse characters. What other commands import meanwhile is seen within a second.

${DATA_HELP}
  --port N          port; 0 takes any free one (default: PORT, else 4860)
  --host H          address to listen on (default: HOST, else 127.0.0.1, which only this machine reaches)
  --audience reader what is published; desk shows drafts and what is under embargo too
  --empty           do not load the demo archive
  --read-only       refuse changes

GET /livez answers as soon as it listens, GET /readyz once the archive is read.

  caseback serve
  caseback serve --data ./bench --audience desk --port 4861
  caseback serve --empty --data ./our-own-archive`,
  options: {
    ...DATA_OPTION,
    port: { type: 'string' },
    host: { type: 'string' },
    audience: { type: 'string' },
    empty: { type: 'boolean' },
    'read-only': { type: 'boolean' },
  },
  words: 0,

  async run(_, values) {
    const audience = choiceOf(values, 'audience', ['reader', 'desk'], 'reader');
    const given = textOf(values, 'port');
    const port = numberOf(given ?? (process.env.PORT || '4860'), given === undefined ? 'PORT' : '--port', {
      least: 0,
      most: 65_535,
    });
    const host = textOf(values, 'host') ?? (process.env.HOST || '127.0.0.1');
    const folder = dataFolder(values);
    const confusion = confusionFor(folder);
    const journal = withProgress(openJournal(folder));
    const stopped = stopSignal();
    const opening = open(journal, values.empty === true).then((archive) => {
      followConfusion(archive, confusion);
      return archive;
    });
    const isLocal = ['127.0.0.1', 'localhost', '::1'].includes(host);
    const hosts = isLocal ? undefined : 'any';
    const readOnly = values['read-only'] === true;
    const app = createService({ archive: opening, audience, readOnly, hosts });
    let following: NodeJS.Timeout | undefined;
    try {
      await app.listen({ port, host }).catch((error) => {
        throw listenError(error, host, port);
      });
      const archive = await Promise.race([opening, stopped]);
      if (!archive) return EXIT.fine;
      const { port: actual } = app.server.address() as { port: number };
      process.stdout.write(welcome(folder, host, actual));
      if (!isLocal && audience === 'desk')
        process.stderr.write(
          `caution: whoever reaches ${host} sees drafts and what is under embargo (--audience desk)\n`,
        );
      flushCompileCache();
      following = follow(archive);
      await stopped;
      return EXIT.fine;
    } finally {
      clearInterval(following);
      // A stream that a client keeps open must not keep the process.
      setTimeout(() => process.exit(), PATIENCE).unref();
      await app.close();
      // Ends the reading, too, where the archive is not there yet.
      await journal.close();
      await opening.then((archive) => archive.close()).catch(() => undefined);
    }
  },
};

async function open(journal: Journal, empty: boolean): Promise<Archive> {
  const archive = await Archive.open(journal);
  if (archive.version === 0 && !empty) {
    process.stderr.write('The data folder is empty; loading the demo archive, all of it invented …\n');
    const by = { actor: 'demo', reason: 'the invented demo archive' };
    const report = await archive.importDocuments(readWithProgress([DEMO_FOLDER]), by);
    process.stderr.write(`${inWords(report)}\n`);
  }
  return archive;
}

/**
 * Resolves when the process is told to stop. The signal may come twice, from the terminal and from the launcher,
 * so later ones are ignored.
 */
function stopSignal(): Promise<undefined> {
  return new Promise((resolve) => {
    for (const signal of ['SIGINT', 'SIGTERM'] as const) process.on(signal, () => resolve(undefined));
  });
}

function welcome(folder: string, host: string, port: number): string {
  const address = `http://${host.includes(':') ? `[${host}]` : host}:${port}`;
  return `Caseback serves ${folder}
  page      ${address}/
  explorer  ${address}/explorer
  GraphQL   ${address}/graphql
Ctrl-C stops it.
`;
}

/** Looks for what other processes wrote; a failure is said once, not every second. */
function follow(archive: Archive): NodeJS.Timeout {
  let said = '';
  return setInterval(() => {
    archive.follow().then(
      () => {
        said = '';
      },
      ({ message }: Error) => {
        if (message !== said)
          process.stderr.write(`caseback serve: could not read what others wrote: ${message}\n`);
        said = message;
      },
    );
  }, FOLLOW_EVERY);
}

function listenError(error: NodeJS.ErrnoException, host: string, port: number): Error {
  switch (error.code) {
    case 'EADDRINUSE':
      return new Unable(`port ${port} on ${host} is taken; stop what uses it, or give another with --port`);
    case 'EACCES':
      return new Unable(`port ${port} on ${host} may not be used; give one from 1024 on with --port`);
    case 'EADDRNOTAVAIL':
    case 'ENOTFOUND':
      return new Unable(`${host} is no address of this machine; give another with --host`);
    default:
      return error;
  }
}
