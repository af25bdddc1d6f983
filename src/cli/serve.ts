import { once } from 'node:events';
import { fileURLToPath } from 'node:url';
import { Archive } from '../archive.ts';
import { createService } from '../service/createService.ts';
import { type Command, choiceOf, EXIT, textOf, UsageError } from './command.ts';
import { DATA_HELP, DATA_OPTION, dataFolder, openJournal } from './dataFolder.ts';
import { inWords, readWithProgress } from './import.ts';

const DEMO_FOLDER = fileURLToPath(new URL('../../seed-data', import.meta.url));
/** How often another process's changes are looked for, in ms. */
const FOLLOW_EVERY = 1_000;

export const command: Command = {
  summary: 'serves the archive: page, GraphQL and explorer on one address',
  usage: 'serve [--port N] [--host H] [--audience reader|desk] [--empty]',
  help: `An empty data folder gets the invented demo archive first. Stop with Ctrl-C.

${DATA_HELP}
  --port N          port (default: PORT, else 4860)
  --host H          address to listen on (default: HOST, else 127.0.0.1)
  --audience reader what is published; desk shows drafts and what is under embargo too
  --empty           do not load the demo archive
  --read-only       refuse changes

  caseback serve --data ./bench --audience desk`,
  options: {
    ...DATA_OPTION,
    port: { type: 'string' },
    host: { type: 'string' },
    audience: { type: 'string' },
    empty: { type: 'boolean' },
    'read-only': { type: 'boolean' },
  },

  async run(_, values) {
    const audience = choiceOf(values, 'audience', ['reader', 'desk'], 'reader');
    const port = portOf(textOf(values, 'port') ?? process.env.PORT ?? '4860');
    const host = textOf(values, 'host') ?? process.env.HOST ?? '127.0.0.1';
    const folder = dataFolder(values);
    const journal = openJournal(folder);
    const opening = open(journal, values.empty === true);
    // Listening does not wait for the archive; /readyz tells when it is there.
    const hosts = ['127.0.0.1', 'localhost', '::1'].includes(host) ? undefined : ('any' as const);
    const app = createService({ archive: opening, audience, readOnly: values['read-only'] === true, hosts });
    try {
      await app.listen({ port, host });
    } catch (error) {
      await (await opening).close();
      throw listenError(error, host, port);
    }
    const archive = await opening;
    process.stderr.write(`Caseback serves ${folder} on http://${host}:${port} (Ctrl-C stops it)\n`);
    const following = setInterval(() => void archive.follow().catch(reportFollowing), FOLLOW_EVERY);
    await Promise.race([once(process, 'SIGINT'), once(process, 'SIGTERM')]);
    clearInterval(following);
    await app.close();
    await archive.close();
    return EXIT.fine;
  },
};

async function open(journal: ReturnType<typeof openJournal>, empty: boolean): Promise<Archive> {
  const archive = await Archive.open(journal);
  if (archive.version === 0 && !empty) {
    process.stderr.write('The data folder is empty; loading the demo archive (invented) …\n');
    const by = { actor: 'demo', reason: 'the invented demo archive' };
    const report = await archive.importDocuments(readWithProgress([DEMO_FOLDER]), by);
    process.stderr.write(`${inWords(report)}\n`);
  }
  return archive;
}

function portOf(text: string): number {
  const port = Number(text);
  if (!Number.isInteger(port) || port < 0 || port > 65_535) {
    throw new UsageError(`the port is "${text}"; it must be a whole number from 0 to 65535`);
  }
  return port;
}

function listenError(error: unknown, host: string, port: number): unknown {
  const { code } = error as NodeJS.ErrnoException;
  if (code === 'EADDRINUSE')
    return new UsageError(`port ${port} on ${host} is taken; stop what uses it, or give --port`);
  if (code === 'EACCES')
    return new UsageError(`port ${port} on ${host} may not be used; give --port from 1024 on`);
  if (code === 'EADDRNOTAVAIL')
    return new UsageError(`${host} is no address of this machine; give another --host`);
  return error;
}

function reportFollowing(error: unknown): void {
  process.stderr.write(`caseback serve: could not read what others wrote: ${(error as Error).message}\n`);
}
