import { afterAll, expect, test } from 'vitest';
import { dossier, FILES } from './invented.ts';
import { caseback, Folder, headOf } from './running.ts';

const folder = new Folder(FILES);
const run = (...args: string[]) => caseback(args, { cwd: folder.path });
afterAll(() => folder.remove());

test('files that describe everything they name are valid on their own', async () => {
  const { code, out, err } = await run('check', '.', '--alone');
  expect(out).toBe('');
  expect(err).toBe('no errors in 3 files\n');
  expect(code).toBe(0);
});

test('without an archive a name described elsewhere is a single caution; otherwise it is an error', async () => {
  const { code, out, err } = await run('check', 'band-1.yaml');
  expect(out).toMatch(
    /^band-1\.yaml:5:\d+ device\.maker: caution: no maker "ferrule-works" in these files/mu,
  );
  expect(err).toBe(
    'no errors and 3 cautions in 1 file\nYou have no archive of your own yet: import what these files name and do not describe with them\n',
  );
  expect(code).toBe(0);
  const alone = await run('check', 'band-1.yaml', '--alone', '--format', 'json');
  const findings = JSON.parse(alone.out) as { severity: string; path: string }[];
  expect(findings.map(({ severity, path }) => `${severity} ${path}`)).toEqual([
    'error device.maker',
    'error device.productLine',
    'error identifications[0].candidates[0].part',
  ]);
  expect(alone.code).toBe(1);
});

test('an error is an error without an archive too', async () => {
  folder.write('off.yaml', dossier(1).replace('at: { x: 9, y: 5 }', 'at: { x: 90, y: 5 }'));
  const { code, out } = await run('check', 'off.yaml');
  expect(out).toMatch(/^off\.yaml:\d+:\d+ components\[1\]\.at.*: (?!caution)/mu);
  expect(code).toBe(1);
});

test('where there is an archive, names are looked up in it, contradictions are found, and nothing is written', async () => {
  await run('import', 'catalogue.yaml', 'band-1.yaml', '--data', 'archive');
  const before = await headOf(`${folder.path}/archive`);
  const fine = await run('check', 'band-2.yaml', '--data', 'archive');
  expect(fine.out).toBe('');
  expect(fine.code).toBe(0);
  folder.write('typo.yaml', dossier(2).replace('ombrous/OM100', 'ombrous/OM10'));
  const typo = await run('check', 'typo.yaml', '--data', 'archive');
  expect(typo.out).toContain('did you mean "ombrous/OM100"?');
  expect(typo.code).toBe(1);
  folder.write(
    'changed.yaml',
    dossier(1).replace('kind: marking, marking: OM100', 'kind: marking, marking: OM108'),
  );
  const changed = await run('check', 'changed.yaml', '--data', 'archive');
  expect(changed.out).toContain('observations are never changed');
  expect(changed.code).toBe(1);
  expect(await headOf(`${folder.path}/archive`)).toEqual(before);
});
