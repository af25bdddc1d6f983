import { expect, test } from 'vitest';
import { Archive } from '../../src/archive.ts';
import type { ReadDocument } from '../../src/dossier/document/document.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { COLLECTIONS, catalogueSchema } from '../../src/model/catalogue.ts';
import type { Change } from '../../src/model/entry.ts';
import { findPattern } from '../../src/patterns/find.ts';
import { listDevices } from '../../src/state/lists/device-list.ts';
import type { State } from '../../src/state/state.ts';
import { trend } from '../../src/trends/trends.ts';
import { BY, dossierOf, SMALL_CATALOGUE } from './archive-of.ts';

// Questions of many parts while somebody imports without pause: every answer is of one instant, and the same as from an
// archive in which nobody writes.

const PATTERN = { text: 'MATCH (a:Accelerometer)-[:CONNECTS]-(m:Microcontroller) RETURN a' };
/** The first search starts threads, which on a busy machine may take longer than a search is given otherwise. */
const PATIENT = { time: 120_000 };
const locate = () => ({ line: 1, column: 1 });

function device(at: number, note = '', part = 'quistle/QWR4T10'): ReadDocument {
  const id = `made-${String(at).padStart(4, '0')}`;
  return {
    kind: 'dossier',
    file: id,
    locate,
    dossier: dossierOf({
      device: { id, name: id, maker: 'tarn', released: '2020', bodySite: 'wrist' },
      specimen: { id: 'a' },
      boards: [{ id: 'main', kind: 'rigid' }],
      components: [
        { id: 'U1', board: 'main' },
        { id: 'U2', board: 'main' },
      ],
      connections: [{ between: ['U1', 'U2'], medium: 'trace' }],
      identifications: [
        { component: 'U1', candidates: [{ part, probability: 0.99 }] },
        { component: 'U2', candidates: [{ part: 'ostrel/OS7', probability: 0.99 }] },
      ],
      ...(note === '' ? {} : { note }),
    }),
  };
}

function catalogue(): ReadDocument {
  const records = SMALL_CATALOGUE.flatMap((change) => (change.kind === 'record-put' ? [change.payload] : []));
  const of = (name: string) => records.filter((one) => one.collection === name).map((one) => one.record);
  const written = Object.fromEntries(COLLECTIONS.map((name) => [name, of(name)]));
  return {
    kind: 'catalogue',
    file: 'catalogue',
    locate,
    catalogue: catalogueSchema.parse({ caseback: 'catalogue/1', ...written }),
  };
}

/**
 * How many devices each surface counts, and how many of them have an accelerometer: by dossiers, by pattern and by trend.
 * Other work gets in between.
 */
async function counted(
  view: State,
): Promise<{ readonly all: readonly number[]; readonly having: readonly number[] }> {
  const pause = () => new Promise(setImmediate);
  const list = listDevices(view, {}, 'ID').length;
  await pause();
  const searched = await findPattern(view, { ...PATTERN, budgets: PATIENT });
  // Of a search that was cut short nothing could be said.
  expect(searched.complete).toBe(true);
  const pattern = searched.devices.length;
  await pause();
  const share = await trend(view, { of: { share: { category: 'Accelerometer' } } } as Parameters<
    typeof trend
  >[1]);
  await pause();
  const found = [...view.search('made')].filter(({ kind }) => kind === 'DEVICE').length;
  await pause();
  const read = view
    .specimenRows()
    .filter((row) => (view.peek(row).labels.get('U1')?.get('Accelerometer') ?? 0) > 0.5).length;
  return {
    all: [list, share.total.total.devices, found, view.specimenRows().length],
    having: [read, pattern, share.total.total.certain],
  };
}

test('an answer of many parts is of one instant, whatever is imported meanwhile', async () => {
  const archive = await Archive.open(new MemoryJournal());
  const first = 300;
  await archive.importDocuments([catalogue(), ...Array.from({ length: first }, (_, at) => device(at))], BY);
  let isDone = false;
  const writing = (async () => {
    for (let at = first; !isDone; at++) {
      // A new device, and one of the first filed again, so that rows come and change.
      await archive.importDocuments([device(at)], BY);
      const part = at % 2 === 0 ? 'ostrel/OS7' : 'quistle/QWR4T10';
      await archive.importDocuments([device((at * 7) % first, `filed again ${at}`, part)], BY);
      await new Promise(setImmediate);
    }
  })();
  const sizes = new Set<number>();
  try {
    for (let round = 0; round < 12; round++) {
      // Several questions are under way at once, begun at different instants.
      const asked = Array.from({ length: 3 }, async (_, i) => {
        for (let wait = 0; wait < i * 5; wait++) await new Promise(setImmediate);
        return counted(archive.state(i % 2 === 0 ? 'desk' : 'reader'));
      });
      for (const counts of await Promise.all(asked)) {
        expect(new Set(counts.all).size, counts.all.join(' ')).toBe(1);
        expect(new Set(counts.having).size, counts.having.join(' ')).toBe(1);
        sizes.add(counts.having[0] as number);
      }
    }
  } finally {
    isDone = true;
    await writing;
  }
  // The archive did change under the questions.
  expect(sizes.size).toBeGreaterThan(3);
  await archive.close();
});

test('an earlier state gives the same answers as before, and as an archive that ends there', async () => {
  const archive = await Archive.open(new MemoryJournal());
  await archive.importDocuments([catalogue(), ...Array.from({ length: 20 }, (_, at) => device(at))], BY);
  const early = archive.state('desk');
  const before = JSON.stringify(await findPattern(early, PATTERN));
  const unasked = archive.state('desk');
  const identification = {
    component: 'U1',
    candidates: [{ category: 'Microphone', probability: 0.99 }],
    state: 'proposed' as const,
    basis: [],
  };
  await archive.setIdentification('made-0003/a', identification, BY, 'desk');
  await archive.importDocuments([device(100)], BY);
  const late = archive.state('desk');
  expect((await findPattern(late, PATTERN)).devices.map(({ deviceId }) => deviceId)).toEqual(
    [...Array.from({ length: 20 }, (_, at) => at).filter((at) => at !== 3), 100].map(
      (at) => `made-${String(at).padStart(4, '0')}`,
    ),
  );
  // Another text, so that no kept answer helps: the graph has to go back.
  const again = { text: `${PATTERN.text.replace(' RETURN', ' WHERE true RETURN')}` };
  expect(JSON.stringify(await findPattern(unasked, again))).toBe(before);
  expect((await findPattern(late, again)).devices).toHaveLength(20);
  await archive.close();
});

test('a what-if changes no state, and gives the result of the real change', async () => {
  const archive = await Archive.open(new MemoryJournal());
  await archive.importDocuments([catalogue(), ...Array.from({ length: 5 }, (_, at) => device(at))], BY);
  const now = archive.state('desk');
  const payload = {
    specimen: 'made-0003/a',
    identification: { component: 'U1', candidates: [], state: 'withdrawn' as const, basis: [] },
  };
  const change = { ...BY, kind: 'identification-set', payload } as unknown as Change;
  const entry = {
    ...change,
    sequence: now.sequence + 1,
    id: '',
    instant: now.instant,
    previousHash: '',
    hash: '',
  };
  const changed = now.with([
    {
      ...entry,
      payload: {
        ...payload,
        identification: {
          ...payload.identification,
          candidates: [{ category: 'Microphone', probability: 0.99 }],
          state: 'proposed',
        },
      },
    } as never,
  ]);
  expect((await findPattern(changed, PATTERN)).devices).toHaveLength(4);
  expect((await findPattern(now, PATTERN)).devices).toHaveLength(5);
  expect(changed.specimenRow('made-0001/a')).toBe(now.specimenRow('made-0001/a'));
  expect(archive.state('desk')).toBe(now);
  await archive.close();
});
