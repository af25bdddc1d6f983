import { rmSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, expect, test, vi } from 'vitest';
import { Archive } from '../../src/archive.ts';
import { SqliteJournal } from '../../src/journal/sqlite/journal.ts';
import { dossier, FILES } from '../cli/invented.ts';
import { caseback, Folder } from '../cli/running.ts';

const folder = new Folder({ ...FILES, 'second.yaml': dossier(2) });
afterAll(() => folder.remove());
const run = (...args: string[]) => caseback(args, { cwd: folder.path });

test('an import begins with the snapshot of the folder, and writes what it would without', async () => {
  await run('create-archive', '--without-patterns');
  await run('import', 'catalogue.yaml', '--reason', 'the catalogue');
  await run('import', 'band-1.yaml', '--reason', 'opened');
  const data = join(folder.path, 'data');
  const onUnusable = (why: string) => {
    throw new Error(why);
  };
  const journal = new SqliteJournal(join(data, 'journal.sqlite'));
  const archive = await Archive.open(journal, undefined, {
    file: join(data, 'snapshot'),
    ahead: [],
    onUnusable,
  });
  expect(await archive.saveSnapshot([])).toBe(true);
  const { version } = archive;
  await archive.close();
  const readFrom: (number | undefined)[] = [];
  const { read } = SqliteJournal.prototype;
  const spy = vi.spyOn(SqliteJournal.prototype, 'read').mockImplementation(function (
    this: SqliteJournal,
    options,
  ) {
    readFrom.push(options?.after);
    return read.call(this, options);
  });
  const imported = await run('import', 'second.yaml', '--reason', 'opened');
  spy.mockRestore();
  expect([imported.code, imported.err]).toEqual([0, expect.not.stringContaining('not used')]);
  expect(readFrom[0]).toBe(version);
  const { out } = await run('devices', '--format', 'json');
  rmSync(join(data, 'snapshot'));
  expect((await run('devices', '--format', 'json')).out).toBe(out);
  expect(JSON.parse(out).map(({ id }: { id: string }) => id)).toEqual(['ferrule-band-1', 'ferrule-band-2']);
  expect(await run('verify')).toMatchObject({ code: 0 });
});
