import { generateKeyPairSync } from 'node:crypto';
import { cpSync } from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { FILES } from './invented.ts';
import { caseback, Folder, headOf } from './running.ts';

const folder = new Folder(FILES);
const run = (...args: string[]) => caseback(args, { cwd: folder.path });
beforeAll(async () => {
  await run('create-archive', '--without-patterns');
  await run('import', 'catalogue.yaml', '--actor', 'First', '--reason', 'the catalogue');
  await run('import', 'band-1.yaml', 'band-2.yaml', '--reason', 'opened two');
});
afterAll(() => folder.remove());

test('history lists who changed what and why, oldest first', async () => {
  const { code, out } = await run('history');
  const lines = out.trimEnd().split('\n');
  expect(lines.map((line) => line.replace(/\d{4}-\S+Z/u, 'WHEN').trim())).toEqual([
    '1  WHEN  First  record-put ferrule-works  the catalogue',
    '2  WHEN  First  record-put ombrous  the catalogue',
    '3  WHEN  First  record-put ferrule-band  the catalogue',
    '4  WHEN  First  record-put ombrous/OM100  the catalogue',
    '5  WHEN  First  record-put ferrule-band-1  opened two',
    '6  WHEN  First  record-put ferrule-band-2  opened two',
    '7  WHEN  First  dossier-put ferrule-band-1/a  opened two',
    '8  WHEN  First  dossier-put ferrule-band-2/a  opened two',
  ]);
  expect(code).toBe(0);
});

test('history of an id includes what is inside it and the dossier it is in', async () => {
  const subject = async (id: string) => (await run('history', id)).out.match(/(?:record|dossier)-put \S+/gu);
  expect(await subject('ferrule-band-2')).toEqual([
    'record-put ferrule-band-2',
    'dossier-put ferrule-band-2/a',
  ]);
  expect(await subject('ferrule-band-2/a/U1')).toEqual(['dossier-put ferrule-band-2/a']);
  expect(await subject('ombrous')).toEqual(['record-put ombrous', 'record-put ombrous/OM100']);
  const none = await run('history', 'ferrule-band-3');
  expect(none.err).toContain('no entry is about "ferrule-band-3"');
  expect(none.code).toBe(1);
});

test('the last entries, complete, as JSON', async () => {
  const { out } = await run('history', '--last', '2', '--format', 'json');
  const entries = JSON.parse(out) as { sequence: number; hash: string }[];
  expect(entries.map(({ sequence }) => sequence)).toEqual([7, 8]);
  expect(entries[1].hash).toBe((await headOf(join(folder.path, 'data'))).hash);
});

test('verify confirms the chain, and finds a hash noted earlier in it', async () => {
  const { hash } = await headOf(join(folder.path, 'data'));
  const { code, out } = await run('verify');
  expect(out).toBe(`intact: 8 entries, each with the hash it should have; the last is ${hash}\n`);
  expect(code).toBe(0);
  expect((await run('verify', '--noted', hash)).code).toBe(0);
  const other = await run('verify', '--noted', 'f'.repeat(64));
  expect(other.out).toContain('damaged: no entry has the noted hash');
  expect(other.code).toBe(3);
});

test('verify names the altered entries', async () => {
  cpSync(join(folder.path, 'data'), join(folder.path, 'altered'), { recursive: true });
  const db = new DatabaseSync(join(folder.path, 'altered/journal.sqlite'));
  db.exec(`DROP TRIGGER entries_are_never_changed;
    UPDATE entries SET payload = replace(payload, 'Ferrule Band', 'Ferrule Bond') WHERE sequence IN (3, 5)`);
  db.close();
  const { code, out } = await run('verify', '--data', 'altered');
  expect(out).toMatch(/^damaged: entry 3 has been altered[^\n]*\ndamaged: entry 5 has been altered/u);
  expect(code).toBe(3);
  const json = await run('verify', '--data', 'altered', '--format', 'json');
  expect(JSON.parse(json.out)).toMatchObject({ intact: false, sequence: 3, entries: 6 });
});

test('history finds a component with or without its board', async () => {
  const board = /id: U1[^}]*board: ([a-z-]+)/u.exec(FILES['band-2.yaml'] as string)?.[1];
  const added = await run(
    'observe',
    'ferrule-band-2/a',
    'later',
    'appearance',
    '--about',
    'U1',
    '--text',
    'Matt.',
    '--reason',
    'r',
  );
  expect(added).toMatchObject({ code: 0 });
  const kinds = async (id: string) =>
    (await run('history', id)).out.match(/(?:dossier-put|observation-recorded) /gu);
  expect(await kinds('ferrule-band-2/a/U1')).toEqual(['dossier-put ', 'observation-recorded ']);
  expect(await kinds(`ferrule-band-2/a/${board}:U1`)).toEqual(['dossier-put ', 'observation-recorded ']);
  expect(await kinds('ferrule-band-2/a/elsewhere:U1')).toBeNull();
});

test('an anchor that was signed is verified later, and tells an archive that was changed', async () => {
  const { privateKey, publicKey } = generateKeyPairSync('ed25519');
  folder.write('key.pem', privateKey.export({ type: 'pkcs8', format: 'pem' }).toString());
  folder.write('key.pub', publicKey.export({ type: 'spki', format: 'pem' }).toString());
  const made = await run('anchor', '--sign', 'key.pem');
  expect(made.code).toBe(0);
  folder.write('anchor.json', made.out);
  await run(
    'observe',
    'ferrule-band-2/a',
    'more',
    'appearance',
    '--about',
    'U1',
    '--text',
    'Matt.',
    '--reason',
    'x',
  );
  const good = await run('verify', '--anchor', 'anchor.json', '--public-key', 'key.pub');
  expect(good.out).toMatch(
    /^intact: .*\nIt begins with the \d+ entries of the anchor of .*; signature: good\nIts Merkle tree head is [0-9a-f]{64}; \d+ hash(?:es prove| proves) that it extends the anchor's .*\n$/u,
  );
  expect(good.code).toBe(0);
  const { proof } = JSON.parse((await run('verify', '--anchor', 'anchor.json', '--format', 'json')).out);
  const later = await run('anchor', '--consistent-with', 'anchor.json', '--sign', 'key.pem');
  expect(JSON.parse(later.out)).toMatchObject({ root: proof.root, consistency: proof.consistency });
  folder.write('later.json', later.out);
  const shown = ['verify-anchors', 'anchor.json', 'later.json', '--public-key', 'key.pub'];
  expect(await run(...shown)).toMatchObject({
    code: 0,
    out: expect.stringMatching(/^consistent: .*good, good/u),
  });
  const backwards = await run('verify-anchors', 'later.json', 'anchor.json');
  expect([backwards.code, backwards.out]).toEqual([
    3,
    expect.stringContaining('not shown: the later one has'),
  ]);
  folder.write('resigned.json', later.out.replace(proof.consistency.proof[0], proof.consistency.root));
  expect(await run('verify-anchors', 'anchor.json', 'resigned.json')).toMatchObject({
    code: 3,
    out: expect.stringContaining('the signature of the later anchor: bad'),
  });
  expect((await run('anchor', '--consistent-with', 'later.json', '--data', 'nowhere')).code).not.toBe(0);
  const forged = JSON.parse(made.out);
  folder.write('forged.json', JSON.stringify({ ...forged, entries: forged.entries - 1 }));
  const bad = await run('verify', '--anchor', 'forged.json', '--public-key', 'key.pub');
  expect(bad.out).toContain('are not those that the anchor was made of');
  expect(bad.out).toContain('the signature of the anchor: bad');
  expect(bad.code).toBe(3);
});
