import { flushCompileCache } from 'node:module';
import { fileURLToPath } from 'node:url';
import { Archive } from '../../archive.ts';
import type { Journal } from '../../journal/journal.ts';
import { keepIndexed } from '../../questions/indexes.ts';
import { createService } from '../../service/create-service.ts';
import { defineCommand } from '../frame/command.ts';
import { AUDIENCE_OPTION } from '../frame/common-options.ts';
import { confusionFor, followConfusion } from '../frame/confusion.ts';
import { openJournal } from '../frame/data-folder.ts';
import { EXIT, Unable } from '../frame/exit.ts';
import { withProgress } from '../frame/journal-reading.ts';
import { flag, text, whole, wholeNumber } from '../frame/options.ts';
import type { Terminal } from '../frame/terminal.ts';
import { importSentence, readWithProgress } from './import.ts';

const DEMO_FOLDER = fileURLToPath(new URL('../../../seed-data', import.meta.url));
const PORTS = { min: 0, max: 65_535 } as const;
/** How often another process's changes are looked for, in ms. */
const FOLLOW_EVERY = 1_000;
/** How long open connections may take to end once the service is told to stop, in ms. */
const PATIENCE = 5_000;

export const command = defineCommand({
  name: 'serve',
  about:
    'Serves the page, GraphQL and its explorer on one address until Ctrl-C (SIGINT or SIGTERM). An empty data folder gets the invented demo archive first. A confusion.yaml in the data folder, in the form of schema/confusions.yaml, defines how eyes confuse characters. What other commands import meanwhile is seen within a second.\nGET /livez answers as soon as it listens, GET /readyz once the archive is read.',
  options: {
    port: whole('N', { help: 'port; 0 takes any free one (default: PORT, else 4860)', ...PORTS }),
    host: text(
      'HOST',
      'address to listen on (default: HOST, else 127.0.0.1, which only this machine reaches)',
    ),
    ...AUDIENCE_OPTION,
    empty: flag('do not load the demo archive'),
    readOnly: flag('refuse changes'),
  },
  uses: 'folder',
  examples: [
    'serve',
    'serve --data ./bench --audience desk --port 4861',
    'serve --empty --data ./our-own-archive',
  ],

  async run({ options, folder, terminal }) {
    const { audience, readOnly } = options;
    const port = options.port ?? wholeNumber(process.env.PORT || '4860', 'PORT', PORTS);
    const host = options.host ?? (process.env.HOST || '127.0.0.1');
    const confusion = confusionFor(folder);
    const journal = withProgress(openJournal(folder));
    const stopped = stopSignal();
    const opening = openFilled(journal, options.empty, terminal).then((archive) => {
      followConfusion(archive, confusion);
      return archive;
    });
    const isLocal = ['127.0.0.1', 'localhost', '::1'].includes(host);
    const hosts = isLocal ? undefined : 'any';
    const app = createService({ archive: opening, audience, readOnly, hosts });
    let following: NodeJS.Timeout | undefined;
    let indexing: ReturnType<typeof keepIndexed> | undefined;
    try {
      await app.listen({ port, host }).catch((error) => {
        throw listenError(error, host, port);
      });
      const archive = await Promise.race([opening, stopped]);
      if (!archive) return EXIT.fine;
      const { port: actual } = app.server.address() as { port: number };
      terminal.out(welcome(folder, host, actual));
      if (!isLocal && audience === 'desk')
        terminal.message(
          `caution: whoever reaches ${host} sees drafts and embargoed records (--audience desk)\n`,
        );
      flushCompileCache();
      following = follow(archive, terminal);
      indexing = keepIndexed(archive, (error) =>
        terminal.message(`caseback serve: could not index what is new: ${(error as Error).message}\n`),
      );
      await stopped;
      return EXIT.fine;
    } finally {
      clearInterval(following);
      indexing?.stop();
      // A stream that a client keeps open must not keep the process.
      setTimeout(() => process.exit(), PATIENCE).unref();
      await app.close();
      // Ends the reading, too, where the archive is not there yet.
      await journal.close();
      await opening.then((archive) => archive.close()).catch(() => undefined);
    }
  },
});

/** The archive, with the demo archive in it where it was empty. */
async function openFilled(journal: Journal, isToStayEmpty: boolean, terminal: Terminal): Promise<Archive> {
  const archive = await Archive.open(journal);
  if (archive.version === 0 && !isToStayEmpty) {
    terminal.message('The data folder is empty; loading the demo archive, all of it invented …\n');
    const by = { actor: 'demo', reason: 'the invented demo archive' };
    const report = await archive.importDocuments(readWithProgress([DEMO_FOLDER]), by);
    terminal.message(`${importSentence(report)}\n`);
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

/** Looks for what other processes wrote; a failure is reported once, not every second. */
function follow(archive: Archive, terminal: Terminal): NodeJS.Timeout {
  let reported = '';
  return setInterval(() => {
    archive.follow().then(
      () => {
        reported = '';
      },
      ({ message }: Error) => {
        if (message !== reported)
          terminal.message(`caseback serve: could not read what others wrote: ${message}\n`);
        reported = message;
      },
    );
  }, FOLLOW_EVERY);
}

function listenError(error: NodeJS.ErrnoException, host: string, port: number): Error {
  switch (error.code) {
    case 'EADDRINUSE':
      return new Unable(`port ${port} on ${host} is in use; stop what uses it, or give another with --port`);
    case 'EACCES':
      return new Unable(`port ${port} on ${host} may not be used; give one from 1024 on with --port`);
    case 'EADDRNOTAVAIL':
    case 'ENOTFOUND':
      return new Unable(`${host} is not an address of this machine; give another with --host`);
    default:
      return error;
  }
}
