import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { SqliteJournal } from '../../../../src/journal/sqlite/journal.ts';
import { examine } from '../../../../src/journal/verify.ts';
import type { Change } from '../../../../src/model/entry.ts';
import { seededRandom } from '../../../bench/generate.ts';
import { testSeed } from '../../../random.ts';
import { entriesOf } from '../../contract.ts';
import { inFolder } from '../../places.ts';
import { Disk, type Fault, ROOT, withDisk } from './disk.ts';
import { systemOn } from './wasm.ts';

// A journal is made, written, closed and opened again, while at one file operation the disk fails, the process is killed or
// the power is cut. What is left is then opened with node:sqlite in a real folder: every append that was acknowledged is
// there, none half, and it goes on from there. CASEBACK_FAULTS=all tries every operation, else some are drawn.
const EVERY = process.env.CASEBACK_FAULTS === 'all';
const DRAWN = 30;
const FILE = `${ROOT}/journal.sqlite`;

interface Told {
  /** Appends that resolved, in order. */
  readonly acknowledged: string[];
  /** Appends that were refused: nothing says whether they are there. */
  readonly refused: string[];
}

/** What one process does; each append has a name of its own, which its entries carry with their number. */
async function life(disk: Disk): Promise<Told> {
  const told: Told = { acknowledged: [], refused: [] };
  const system = systemOn(disk);
  let journal: SqliteJournal | undefined;
  const open = () => {
    try {
      journal ??= new SqliteJournal(FILE, { system, patience: 0 });
    } catch {
      // Tried again with the next append.
    }
  };
  const append = async (name: string, count: number, size = 10) => {
    open();
    if (journal === undefined) return;
    try {
      await journal.append(changes(name, count, size));
      // Nobody hears of it from a process that is gone.
      (disk.isDead ? told.refused : told.acknowledged).push(`${name} of ${count}`);
    } catch {
      told.refused.push(`${name} of ${count}`);
    }
  };
  const close = async () => {
    await journal?.close().catch(() => undefined);
    journal = undefined;
  };
  await append('first', 3);
  await append('second', 1);
  await append('third', 1);
  await append('import', 12, 3_000);
  await append('fourth', 1);
  await close();
  await append('fifth', 2);
  await append('sixth', 1);
  await close();
  return told;
}

function changes(name: string, count: number, size: number): Change[] {
  return Array.from({ length: count }, (_, i) => ({
    actor: 'bench',
    reason: `${name} of ${count}`,
    kind: 'record-put',
    payload: { collection: 'makers', record: { id: `${name}-${i}`, name: 'x'.repeat(size) } },
  })) as unknown as Change[];
}

/** Opens what is left with the real SQLite and holds it against what was told. */
async function mustHold(files: ReadonlyMap<string, Buffer>, { acknowledged, refused }: Told): Promise<void> {
  await inFolder(async (folder) => {
    const place = join(folder, 'left');
    mkdirSync(place);
    for (const [path, content] of files) writeFileSync(join(place, basename(path)), content);
    const journal = new SqliteJournal(join(place, 'journal.sqlite'));
    try {
      const names = (await entriesOf(journal)).map(({ reason }) => reason);
      const appends = names.filter((name, i) => name !== names[i - 1]);
      for (const name of appends)
        expect(
          names.filter((one) => one === name),
          name,
        ).toHaveLength(Number(name.split(' of ')[1]));
      expect(appends.filter((name) => !refused.includes(name))).toEqual(acknowledged);
      expect(await examine(journal)).toMatchObject({ whole: names.length, faults: [], damage: [] });
      const [{ sequence }] = await journal.append(changes('later', 1, 10));
      expect(sequence).toBe(names.length + 1);
    } finally {
      await journal.close();
      rmSync(place, { recursive: true });
    }
  });
}

async function lifeWith(fault?: Fault): Promise<{ readonly disk: Disk; readonly told: Told }> {
  const disk = new Disk(fault);
  return { disk, told: await withDisk(disk, () => life(disk)) };
}

describe('a fault at a file operation', () => {
  /** Numbers of the operations to try. */
  async function tried(random: () => number): Promise<readonly (readonly [number, string])[]> {
    const { disk, told } = await lifeWith();
    expect(told.acknowledged).toHaveLength(7);
    await mustHold(disk.files(), told);
    const all = disk.operations.map((what, at) => [at, what] as const);
    return EVERY
      ? all
      : all
          .map((one) => ({ one, key: random() }))
          .sort((a, b) => a.key - b.key)
          .slice(0, DRAWN)
          .map(({ one }) => one);
  }

  const kinds = [
    ['that fails once', 'EIO'],
    ['for which there is no space', 'ENOSPC'],
    ['before which the process is killed', 'kill'],
    ['before which the power is cut', 'power'],
  ] as const;
  test.each(kinds)('%s loses nothing that was acknowledged', { timeout: 900_000 }, async (_, kind) => {
    const random = seededRandom(testSeed());
    const operations = await tried(random);
    for (const [at, what] of operations) {
      const { disk, told } = await lifeWith({ at, kind: kind === 'power' ? 'kill' : kind });
      const left = kind === 'power' ? disk.afterPowerCut(random) : disk.files();
      try {
        await mustHold(left, told);
      } catch (error) {
        throw new Error(`operation ${at}, ${what}: ${(error as Error).message}`, { cause: error });
      }
    }
    if (EVERY) console.log(`${kind}: ${operations.length} operations`);
  });
});

test('a disk that forgets what was synced is found out', async () => {
  const { disk, told } = await lifeWith();
  const files = new Map(disk.files());
  // The last append stands in the file alone by now; an older file is one that lost it.
  const older = await lifeWith({ at: disk.operations.lastIndexOf('write journal.sqlite'), kind: 'kill' });
  files.set(FILE, older.disk.files().get(FILE) as Buffer);
  await expect(mustHold(files, told)).rejects.toThrow(/has lost entr|is damaged|another entry/u);
});
