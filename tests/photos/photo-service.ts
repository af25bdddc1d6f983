import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { monitorEventLoopDelay } from 'node:perf_hooks';
import { Archive } from '../../src/archive.ts';
import { SqliteJournal } from '../../src/journal/sqlite/journal.ts';
import { FolderPhotos } from '../../src/photos/folder-store.ts';
import { Photos } from '../../src/photos/photos.ts';
import { createService } from '../../src/service/create-service.ts';
import { BY, documentOf } from '../service/serving.ts';

// A service of its own process with an archive in a folder, whose memory and event loop can be asked. Started by `fork` with the folder
// and a file with the digests of photos that its dossier names.

const [folder, digests] = process.argv.slice(2);
const named = JSON.parse(readFileSync(digests, 'utf8')) as readonly string[];
const journal = new SqliteJournal(join(folder, 'journal.sqlite'));
const photos = new Photos(new FolderPhotos(join(folder, 'photos')), join(folder, 'renditions'));
const archive = await Archive.open(journal, undefined, undefined, photos);
const records = [
  {
    caseback: 'catalogue/1',
    makers: [{ id: 'quoin', name: 'Quoin', makes: ['devices'], invented: true }],
  },
  {
    caseback: 'dossier/1',
    device: {
      id: 'quoin-disc',
      name: 'Quoin Disc',
      maker: 'quoin',
      released: '2021',
      bodySite: 'wrist',
      invented: true,
    },
    specimen: { id: 'a' },
    teardown: { on: '2022-03', by: 'A. Example', hazards: [] },
    photos: named.map((sha256, i) => ({ id: `p${i}`, sha256, credit: 'B. Example', licence: 'CC-BY-4.0' })),
  },
];
if (archive.state('desk').devices().length === 0) await archive.importDocuments(records.map(documentOf), BY);
const app = createService({
  archive,
  audience: 'desk',
  access: { local: { name: BY.actor, role: 'administrator' } },
});
await app.listen({ host: '127.0.0.1', port: 0 });
const delay = monitorEventLoopDelay({ resolution: 5 });
delay.enable();

/** What the process says of itself when it is asked. */
export interface Told {
  readonly port: number;
  /** Bytes. */
  readonly rss: number;
  /** Longest that the event loop was held since it was last asked, ms. */
  readonly held: number;
}

process.on('message', (message) => {
  if (message === 'end') {
    void app
      .close()
      .then(() => archive.close())
      .then(() => process.exit());
    return;
  }
  globalThis.gc?.();
  const address = app.server.address();
  const port = typeof address === 'object' && address ? address.port : 0;
  process.send?.({ port, rss: process.memoryUsage().rss, held: delay.max / 1e6 } satisfies Told);
  delay.reset();
});
process.send?.('ready');
