import { Archive } from '../../../src/archive.ts';
import { MemoryJournal } from '../../../src/journal/memory/journal.ts';
import { FeedAnswers } from '../../../src/service/feeds/answers.ts';
import { FeedWatch } from '../../../src/service/feeds/watch.ts';
import { serviceSchema } from '../../../src/service/graphql/schema.ts';
import { Executor } from '../../../src/service/server/executor.ts';
import { checkOptions } from '../../../src/service/server/options.ts';
import { archiveOf, BY, documentOf } from '../serving.ts';

/** Feeds for tests, over the invented archive of the service's tests. */
export const FEEDS = [
  {
    id: 'all-devices',
    title: 'Devices by name',
    question: '{ devices { nodes { id name } } }',
    rows: 'devices.nodes',
    maxAge: 120,
    origins: ['https://desk.example.org'],
  },
  { id: 'count', title: 'Devices', question: '{ devices { totalCount } }', origins: ['*'] },
  { id: 'waiting', title: 'Not for readers', question: '{ devices { totalCount } }', visibility: 'draft' },
] as const;

/** Files records of the catalogue. */
export async function file(archive: Archive, catalogue: object): Promise<void> {
  await archive.importDocuments([documentOf({ caseback: 'catalogue/1', ...catalogue })], BY);
}

/** The invented archive with these feeds in it. Its clock is of the day before, and goes a minute further with each look. */
export async function archiveWithFeeds(): Promise<Archive> {
  const journal = new MemoryJournal();
  await file(await archiveOf(undefined, journal), { feeds: FEEDS });
  let now = Date.now() - 24 * 3_600_000;
  return Archive.open(journal, () => {
    now += 60_000;
    return new Date(now);
  });
}

let added = 0;
/** Files one device more. */
export async function addDevice(archive: Archive, visibility: 'published' | 'draft'): Promise<void> {
  added++;
  const device = {
    id: `added-${added}`,
    name: `Added ${added}`,
    maker: 'tarn',
    released: '2020',
    bodySite: 'wrist',
  };
  await file(archive, { devices: [{ ...device, visibility }] });
}

/** What a service tells the changes of its feeds by, over an archive. */
export function watchOver(archive: Archive): FeedWatch {
  const { limits } = checkOptions({ archive });
  const executor = new Executor(serviceSchema(), limits);
  return new FeedWatch(() => archive, new FeedAnswers({ executor, limits }, limits.answerBytes));
}
