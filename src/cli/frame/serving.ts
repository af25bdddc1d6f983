import { flushCompileCache } from 'node:module';
import { resolve as absolute } from 'node:path';
import fastify from 'fastify';
import type { SnapshotPlace } from '../../archive/opening.ts';
import { Archive } from '../../archive.ts';
import { type DeskBundle, deskBundle } from '../../desk/bundle.ts';
import type { Journal } from '../../journal/journal.ts';
import { madeWhenWritten } from '../../journal/made-when-written.ts';
import type { SqliteOptions } from '../../journal/sqlite/journal.ts';
import { keepIndexed } from '../../questions/indexes.ts';
import { createService } from '../../service/create-service.ts';
import { Metrics, metricsRoute } from '../../service/server/metrics.ts';
import { removeLeftovers } from '../../snapshot/leftovers.ts';
import type { BegunSnapshot } from '../../snapshot/read-early.ts';
import type { Audience } from '../../state/visibility/audience.ts';
import { accountsOf } from './accounts.ts';
import type { Call } from './call.ts';
import {
  databaseJournal,
  demoShare,
  hasArchive,
  hasConfusion,
  heldArchive,
  openJournal,
  openKeptJournal,
  type Place,
  written,
} from './data-folder.ts';
import { writtenPlace } from './database.ts';
import { documentsIn } from './documents-folder.ts';
import { EXIT, Unable } from './exit.ts';
import { follow } from './following.ts';
import { withProgress } from './journal-reading.ts';
import { wholeNumber } from './options.ts';
import { photosOf } from './photos.ts';
import { accessOf, isLoopback } from './serving-access.ts';
import { PORTS, RATE, type SERVE_OPTIONS } from './serving-options.ts';
import { snapshotPlace } from './snapshot-place.ts';
import type { Terminal } from './terminal.ts';
import { webhooksOf } from './webhooks.ts';

/** How long open connections may take to end once the service is told to stop, in ms. */
const PATIENCE = 5_000;

/** Serves an archive until the process is told to stop. @param begun its snapshot, where a thread reads it already @returns the exit code */
export async function serve(
  { options, place, ownFolder, terminal }: Call<typeof SERVE_OPTIONS>,
  begun?: BegunSnapshot,
): Promise<number> {
  const { audience, whatIsWhole } = options;
  const readOnly = options.readOnly || whatIsWhole;
  const port = options.port ?? wholeNumber(process.env.PORT || '4860', 'PORT', PORTS);
  const host = options.host ?? (process.env.HOST || '127.0.0.1');
  // What reads a table of an archive's own is not loaded where there is none.
  const own = hasConfusion(place.folder) ? await import('./confusion.ts') : undefined;
  const confusion = own?.confusionFor(place.folder);
  const accounts = accountsOf(place);
  const webhooks = webhooksOf(place, options);
  const documents = options.documents === undefined ? undefined : documentsIn(options.documents);
  const { hosts, access, close } = await accessOf(
    options,
    { host, port, audience, place },
    accounts,
    terminal,
  );
  const warn = (message: string) => terminal.message(`caution: ${message}\n`);
  const journal = withProgress(journalOf(place, { whatIsWhole, warn }));
  const stopped = stopSignal();
  // Of a damaged journal the snapshot may hold what is behind the damage.
  const ahead = audiencesOf(await accounts.hasPeople().catch(() => false), audience);
  const snapshot = whatIsWhole ? undefined : snapshotPlace(place.folder, ahead, terminal, begun);
  if (snapshot) removeLeftovers(snapshot.file);
  const opening = openFilled(journal, place, snapshot, terminal).then((archive) => {
    own?.followConfusion(archive, confusion);
    return archive;
  });
  // Whoever waits for it further on is told why it failed; it may fail before.
  opening.catch(() => undefined);
  const desk = await deskFor(terminal);
  const metrics = new Metrics();
  const { proxies, rate = isLoopback(host) ? 0 : RATE, hideSchema } = options;
  const app = createService({
    archive: opening,
    audience,
    readOnly,
    hosts,
    access,
    rate,
    trustProxy: proxies ?? 0,
    introspection: !hideSchema,
    ...(documents && { documents }),
    documentsOnly: options.documentsOnly,
    metrics,
    webhooks,
    desk,
    logger: { level: 'warn' },
  });
  const counting = options.metricsPort === undefined ? undefined : fastify({ logger: false });
  counting?.register(metricsRoute, { metrics, isOpen: true });
  let following: (() => void) | undefined;
  let indexing: ReturnType<typeof keepIndexed> | undefined;
  try {
    await app.listen({ port, host }).catch((error) => {
      throw listenError(error, host, port);
    });
    await counting?.listen({ port: options.metricsPort, host: '127.0.0.1' }).catch((error) => {
      throw listenError(error, '127.0.0.1', options.metricsPort ?? 0);
    });
    const archive = await Promise.race([opening, stopped]);
    if (!archive) return EXIT.fine;
    const { port: actual } = app.server.address() as { port: number };
    terminal.out(welcome(place, ownFolder, host, actual));
    for (const note of notes(place, archive)) terminal.message(`${note}\n`);
    const hasPeople = await accounts.hasPeople();
    if (audience === 'desk' && hasPeople)
      terminal.message(
        'caution: people have accounts here, so that --audience desk is without effect; sign in to see the desk\n',
      );
    flushCompileCache();
    following = follow(archive, (message) =>
      terminal.message(`caseback serve: could not read what others wrote: ${message}\n`),
    );
    indexing = keepIndexed(archive, audiencesOf(hasPeople, audience), (error) =>
      terminal.message(`caseback serve: could not index what is new: ${(error as Error).message}\n`),
    );
    await stopped;
    return EXIT.fine;
  } finally {
    following?.();
    indexing?.stop();
    // A stream that a client keeps open must not keep the process.
    setTimeout(() => process.exit(), PATIENCE).unref();
    await counting?.close();
    await app.close();
    await accounts.close();
    await webhooks.close();
    close();
    // Ends the reading, too, where the archive is not there yet.
    await journal.close();
    await opening.then((archive) => archive.close()).catch(() => undefined);
  }
}

/** Who may ask: whoever has an account may be at the desk, and whoever has none is a reader. */
function audiencesOf(hasPeople: boolean, audience: Audience): readonly Audience[] {
  return hasPeople ? ['reader', 'desk'] : [audience];
}

/** @throws CasebackError NOT_FOUND when a folder was named that has no archive */
function journalOf(place: Place, options: SqliteOptions): Journal {
  const { folder, database, isDemo } = place;
  if (database !== undefined) {
    const { whatIsWhole, warn } = options;
    return databaseJournal(database, folder, { whatIsWhole, warn });
  }
  return isDemo && !hasArchive(folder)
    ? madeWhenWritten(() => openJournal(folder, options))
    : openKeptJournal(place, options);
}

/** The pages of the desk, built where the code has changed; everything else is served without them where they cannot be. */
async function deskFor(terminal: Terminal): Promise<DeskBundle | undefined> {
  try {
    return await deskBundle(() => terminal.message('Building the pages (once) …\n'));
  } catch (error) {
    terminal.message(
      `caution: ${(error as Error).message}; /devices and the other pages of the desk are not there\n`,
    );
    return undefined;
  }
}

/** The archive, with the demo in it where that is yet to be made: never where an archive was. */
async function openFilled(
  journal: Journal,
  { folder, database, isDemo }: Place,
  snapshot: SnapshotPlace | undefined,
  terminal: Terminal,
): Promise<Archive> {
  const held = heldArchive(folder);
  const archive = await Archive.open(journal, undefined, snapshot, photosOf({ folder, database }));
  if (archive.version === 0 && isDemo && held) {
    await archive.close();
    throw new Unable(
      `${written(folder)} held an archive and has no entries now; nothing was put in their place. Restore it from a copy, or remove the folder, and the demo is made anew`,
    );
  }
  if (archive.version === 0 && isDemo) {
    // A start that finds an archive reads no files.
    const { fillWithDemo } = await import('./new-archive.ts');
    await fillWithDemo(archive, folder, terminal);
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

function welcome(place: Place, ownFolder: string, host: string, port: number): string {
  const { folder, database, isDemo } = place;
  const address = `http://${host.includes(':') ? `[${host}]` : host}:${port}`;
  return `Caseback serves ${isDemo ? 'the invented demo archive' : 'your own archive'}, ${database === undefined ? folder : writtenPlace(place)}
  page      ${address}/
  explorer  ${address}/explorer
  GraphQL   ${address}/graphql
${changeOf(place, ownFolder)}
Ctrl-C stops it.
`;
}

/** How the other archive is served. */
function changeOf({ folder, isDemo }: Place, ownFolder: string): string {
  if (!isDemo) return 'The invented demo archive: npm start -- --demo';
  // A folder that was named and has the demo, such as a restored copy: nothing is ever imported over it.
  if (absolute(folder) === absolute(ownFolder))
    return 'Your own archive: "npm run caseback -- create-archive --data FOLDER" makes it in a folder of its own, since this one holds the demo';
  return hasArchive(ownFolder) && demoShare(ownFolder) !== 'all'
    ? 'Your own archive: start without --demo'
    : `Your own archive: the first import, or "npm run caseback -- create-archive", makes it in ${ownFolder}; start again, and it is served`;
}

/** What the owner of an archive should know of it. */
function notes({ folder, database, isDemo }: Place, archive: Archive): readonly string[] {
  if (isDemo) return [];
  if (archive.version === 0)
    return ['It is blank: "caseback import --patterns" brings the library of named patterns into it'];
  return database === undefined && demoShare(folder) === 'some'
    ? [
        'caution: it holds the demo devices beside your own, from an earlier version, and they count in its odds, habits and trends. To be without them: caseback create-archive --data FOLDER, and import your own files there; this archive stays as it is.',
      ]
    : [];
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
