import { mkdirSync, mkdtempSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { readFiles } from '../../src/dossier/read-files.ts';
import { GOOD_CATALOGUE, GOOD_DOSSIER } from './files.ts';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'caseback-files-'));
});
afterEach(() => rmSync(folder, { recursive: true }));

function write(name: string, text: string): string {
  const file = join(folder, name);
  mkdirSync(join(file, '..'), { recursive: true });
  writeFileSync(file, text);
  return file;
}

const short = (file: string | undefined) => file?.slice(folder.length + 1);

describe('reading files and folders', () => {
  test('walks folders in the order of names and ignores other files', () => {
    write('b/two.yml', GOOD_DOSSIER);
    write('a.yaml', GOOD_CATALOGUE);
    write('b/a/one.json', '{ "caseback": "catalogue/1" }');
    write('b/photo.jpg', 'no text');
    write('README.md', '# not ours');
    const { documents, problems } = readFiles([folder]);
    expect(problems).toEqual([]);
    expect(documents.map(({ file }) => short(file))).toEqual([
      'a.yaml',
      join('b', 'a', 'one.json'),
      join('b', 'two.yml'),
    ]);
  });

  test('keeps the order in which files are named', () => {
    const [first, second] = [write('z.yaml', GOOD_DOSSIER), write('a.yaml', GOOD_CATALOGUE)];
    expect(readFiles([first, second]).documents.map(({ kind }) => kind)).toEqual(['dossier', 'catalogue']);
  });

  test('reads a file once, however often it is named', () => {
    const file = write('a.yaml', GOOD_DOSSIER);
    expect(readFiles([file, folder, join(folder, '.', 'a.yaml')]).documents).toHaveLength(1);
  });

  test('collects the problems of all files', () => {
    write('a.yaml', GOOD_DOSSIER.replace('wrist', 'arm'));
    write('b.yaml', '\ta: 1\n');
    write('c.yaml', GOOD_CATALOGUE);
    const { documents, problems } = readFiles([folder, join(folder, 'nowhere.yaml')]);
    expect(documents).toHaveLength(1);
    expect(problems.map(({ file, line }) => [short(file), line])).toEqual([
      ['nowhere.yaml', undefined],
      ['a.yaml', 8],
      ['b.yaml', 1],
    ]);
    expect(problems[0]).toMatchObject({ what: 'does not exist', fix: 'check the path' });
  });

  test('a huge file is refused by its size, before it is read', () => {
    const file = write('huge.yaml', '');
    truncateSync(file, 3 * 1024 ** 3);
    expect(readFiles([file]).problems).toEqual([
      expect.objectContaining({ what: 'is 3072.0 MiB large; at most 20.0 MiB are read' }),
    ]);
  });

  test('an empty folder is a mistake', () => {
    expect(readFiles([folder]).problems).toEqual([
      expect.objectContaining({ what: 'holds no .yaml or .json file' }),
    ]);
  });
});
