import { existsSync, mkdirSync, readdirSync, readFileSync, truncateSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { FILES } from './invented.ts';
import { caseback, Folder } from './running.ts';

const folder = new Folder({ ...FILES });
const at = (...names: string[]) => join(folder.path, ...names);
const run = (...args: string[]) => caseback(args, { cwd: folder.path });
afterAll(() => folder.remove());
beforeAll(async () => {
  for (const name of ['data', 'altered', 'foreign'])
    expect((await run('import', 'catalogue.yaml', 'band-1.yaml', '--data', name)).code).toBe(0);
});

interface Report {
  readonly isWell: boolean;
  readonly findings: readonly { about: string; standing: string; says: string; fix?: string }[];
}

async function examined(name: string, ...more: string[]): Promise<Report & { code: number | null }> {
  const { code, out } = await run('doctor', '--data', name, '--format', 'json', ...more);
  return { ...JSON.parse(out), code };
}

const about = (report: Report, what: string) => report.findings.filter((one) => one.about === what);

describe('doctor', () => {
  test('finds nothing wrong with an archive that is well, and changes nothing', async () => {
    // Reading makes the files that readers of the log share, which are empty and go with the next writer.
    const content = () =>
      readdirSync(at('data'))
        .filter((name) => !/-(?:shm|wal)$/u.test(name))
        .map((name) => [name, readFileSync(at('data', name), 'hex')]);
    const before = content();
    const report = await examined('data');
    expect(report).toMatchObject({ isWell: true, code: 0 });
    expect(new Set(report.findings.map(({ standing }) => standing))).toEqual(new Set(['fine']));
    const { out } = await run('verify', '--data', 'data');
    const [, entries] = /(\d+) entries/u.exec(out) ?? [];
    expect(about(report, 'journal')[0]?.says).toContain(`${entries} entries, each entry with the hash`);
    expect(content()).toEqual(before);
    const text = await run('doctor', '--data', 'data');
    expect(text.out).toMatch(/^ok +journal .*\n/mu);
    expect(text.out).toContain('Nothing is wrong.\n');
  });

  test('names the entry that was altered, says what to do, and ends with 3', async () => {
    const db = new DatabaseSync(at('altered', 'journal.sqlite'));
    db.exec('DROP TRIGGER entries_are_never_changed');
    db.exec("UPDATE entries SET payload = replace(payload, 'Ferrule', 'Ferrula') WHERE sequence = 40");
    db.exec("UPDATE entries SET reason = 'another' WHERE sequence = 41");
    db.close();
    const report = await examined('altered');
    expect(report).toMatchObject({ isWell: false, code: 3 });
    const [journal] = about(report, 'journal');
    expect(journal).toMatchObject({ standing: 'wrong' });
    expect(journal?.says).toMatch(/entry 4[01] /u);
    expect(journal?.fix).toContain('caseback restore');
  });

  test('says of a file that is no journal what it is', async () => {
    writeFileSync(at('foreign', 'journal.sqlite'), 'hello, this is no database at all');
    const report = await examined('foreign', '--quick');
    expect(report).toMatchObject({ isWell: false, code: 3 });
    expect(about(report, 'journal')[0]?.standing).toBe('wrong');
  });

  test('of a folder without an archive says how to get one, and makes none', async () => {
    const report = await examined('nothing');
    expect(report).toMatchObject({ isWell: true, code: 0 });
    expect(about(report, 'journal')[0]?.fix).toContain('create-archive');
    expect(existsSync(at('nothing'))).toBe(false);
  });

  test('names a damaged snapshot and files left by what was ended half way', async () => {
    mkdirSync(at('data', '.snapshot-abc'));
    writeFileSync(at('data', 'snapshot.part-123'), '');
    writeFileSync(at('data', 'snapshot'), readFileSync(at('data', 'journal.sqlite')).subarray(0, 5_000));
    truncateSync(at('data', 'snapshot'), 4_000);
    const report = await examined('data');
    expect(report).toMatchObject({ isWell: true, code: 0 });
    expect(about(report, 'snapshot')[0]).toMatchObject({ standing: 'caution' });
    expect(about(report, 'leftovers')[0]?.says).toMatch(/\.snapshot-abc, snapshot\.part-123/u);
  });
});
