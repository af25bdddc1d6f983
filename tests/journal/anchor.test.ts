import { createHash, generateKeyPairSync } from 'node:crypto';
import { expect, test } from 'vitest';
import { anchorOf, differenceFrom, readAnchor, signAnchor, signatureOf } from '../../src/journal/anchor.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { GrowingTree } from '../../src/journal/merkle.ts';
import { TreeHeads } from '../../src/journal/tree-heads.ts';
import { numbered } from './changes.ts';
import { entriesOf } from './contract.ts';

const sha256 = (...parts: Uint8Array[]) => createHash('sha256').update(Buffer.concat(parts)).digest();

/** The tree head as RFC 9162, section 2.1.1, defines it, word for word: by recursion over the whole list. */
function treeHead(leaves: readonly Uint8Array[]): Buffer {
  if (leaves.length === 0) return sha256();
  if (leaves.length === 1) return sha256(Buffer.of(0), leaves[0]);
  let k = 1;
  while (2 * k < leaves.length) k *= 2;
  return sha256(Buffer.of(1), treeHead(leaves.slice(0, k)), treeHead(leaves.slice(k)));
}

// Leaves and roots that tests of certificate logs use (RFC 6962's tree is the same); from memory.
const LEAVES = [
  '',
  '00',
  '10',
  '2021',
  '3031',
  '40414243',
  '5051525354555657',
  '606162636465666768696a6b6c6d6e6f',
].map((hex) => Buffer.from(hex, 'hex'));
const ROOTS = [
  'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855',
  '6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d',
  'fac54203e7cc696cf0dfcb42c92a1d9dbaf70ad9e621f4bd8d98662f00e3c125',
  'aeb6bcfe274b70a14fb067a5e5578264db0fa9b51af5e0ba159158f329e06e77',
  'd37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7',
  '4e3bbb1f7b478dcfe71fb631631519a3bca12c9aefca1612bfce4c13a86264d4',
  '76e67dadbcdf1e10e1b74ddc608abd2f98dfb16fbce75277b5232a127f2087ef',
  'ddb89be403809e325750d3d263cd78929c2942b7942a34b77e122c9594a74c8c',
  '5dc9da79a70659a9ad559cb701ded9a2ab9d823aad2f4960cfe370eff4604328',
];

test('the tree head is that of known vectors', () => {
  const tree = new GrowingTree();
  for (const [size, root] of ROOTS.entries()) {
    expect(tree.root(), `size ${size}`).toBe(root);
    expect(treeHead(LEAVES.slice(0, size)).toString('hex')).toBe(root);
    if (size < LEAVES.length) tree.add(LEAVES[size]);
  }
});

test('the tree head is that of the definition for every size up to 130', () => {
  const tree = new GrowingTree();
  const leaves: Buffer[] = [];
  for (let size = 0; size <= 130; size++) {
    expect(tree.root(), `size ${size}`).toBe(treeHead(leaves).toString('hex'));
    expect(tree.size).toBe(size);
    leaves.push(sha256(Buffer.of(size)));
    tree.add(leaves[size]);
  }
});

test('tree heads of a growing journal, asked in any order, are those of its anchors', async () => {
  const journal = new MemoryJournal();
  const heads = new TreeHeads(journal);
  const noted: string[] = [];
  for (let i = 0; i < 4; i++) {
    noted.push((await anchorOf(journal, NOW)).root);
    expect(await heads.at(i * 3)).toBe(noted[i]);
    await journal.append(numbered(3));
  }
  const asked = [9, 0, 3, 12, 6].map((entries) => heads.at(entries));
  expect(await Promise.all(asked)).toEqual([
    noted[3],
    noted[0],
    noted[1],
    (await anchorOf(journal, NOW)).root,
    noted[2],
  ]);
});

const NOW = new Date('2026-11-30T12:00:00.000Z');

test('an anchor fixes the entries there were, and holds of what was appended to them', async () => {
  const journal = new MemoryJournal();
  expect(await anchorOf(journal, NOW)).toMatchObject({ entries: 0, root: ROOTS[0], head: '0'.repeat(64) });
  await journal.append(numbered(5));
  const anchor = await anchorOf(journal, NOW);
  const hashes = (await entriesOf(journal)).map(({ hash }) => hash);
  expect(anchor).toEqual({
    caseback: 'anchor/1',
    archive: await journal.identity(),
    entries: 5,
    head: hashes[4],
    root: treeHead(hashes.map((hash) => Buffer.from(hash, 'hex'))).toString('hex'),
    madeOn: '2026-11-30T12:00:00.000Z',
  });
  await journal.append(numbered(8));
  expect(await differenceFrom(journal, readAnchor(JSON.stringify(anchor), 'a.json'))).toBeUndefined();
  expect(await differenceFrom(journal, { ...anchor, entries: 14 })).toContain('has 13');
  expect(await differenceFrom(journal, { ...anchor, entries: 4 })).toContain('are not those');
  expect(await differenceFrom(journal, { ...anchor, root: ROOTS[1] })).toContain('are not those');
  const other = new MemoryJournal();
  await other.append(numbered(13));
  expect(await differenceFrom(other, anchor)).toContain('the anchor is of the archive');
  expect(await differenceFrom(other, { ...anchor, archive: await other.identity() })).toContain(
    'are not those',
  );
});

test('a signature holds for the very anchor and key alone', async () => {
  const [one, other] = [0, 1].map(() => {
    const { privateKey, publicKey } = generateKeyPairSync('ed25519');
    return {
      secret: privateKey.export({ type: 'pkcs8', format: 'pem' }).toString(),
      open: publicKey.export({ type: 'spki', format: 'pem' }).toString(),
    };
  });
  const journal = new MemoryJournal();
  await journal.append(numbered(2));
  const anchor = await anchorOf(journal, NOW);
  expect(signatureOf(anchor)).toBe('none');
  expect(signatureOf(anchor, one.open)).toBe('none');
  const signed = readAnchor(JSON.stringify(signAnchor(anchor, one.secret)), 'a.json');
  expect(signatureOf(signed, one.open)).toBe('good');
  expect(signatureOf(signed)).toBe('good by its own key');
  expect(signatureOf(signed, other.open)).toBe('of another key');
  for (const changed of [
    { entries: 3 },
    { root: ROOTS[1] },
    { archive: 'x' },
    { madeOn: '2026-11-29T12:00:00Z' },
  ])
    expect(signatureOf({ ...signed, ...changed }, one.open), JSON.stringify(changed)).toBe('bad');
  const rsa = generateKeyPairSync('rsa', { modulusLength: 1024 }).privateKey;
  for (const key of ['no key', rsa.export({ type: 'pkcs8', format: 'pem' }).toString()])
    expect(() => signAnchor(anchor, key)).toThrow('not a private Ed25519 key');
  expect(() => readAnchor('{"caseback":"anchor/1"}', 'a.json')).toThrow('a.json is not a valid anchor');
});
