import { createHash, generateKeyPairSync } from 'node:crypto';
import { expect, test } from 'vitest';
import {
  type Anchor,
  anchorOf,
  differenceFrom,
  readAnchor,
  signAnchor,
  signatureOf,
  whyNotExtended,
} from '../../src/journal/anchor.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { consistencyProof, GrowingTree, isConsistent } from '../../src/journal/merkle.ts';
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

/** PROOF(m, D_n) as RFC 9162, section 2.1.4.1, defines it, word for word. */
function definedProof(m: number, leaves: readonly Uint8Array[], b = true): readonly Buffer[] {
  const n = leaves.length;
  if (m === n) return b ? [] : [treeHead(leaves)];
  let k = 1;
  while (2 * k < n) k *= 2;
  if (m <= k) return [...definedProof(m, leaves.slice(0, k), b), treeHead(leaves.slice(k))];
  return [...definedProof(m - k, leaves.slice(k), false), treeHead(leaves.slice(0, k))];
}

/** The heads of both trees that a proof amounts to, by going back through the definition; undefined where it is of another length. */
function headsBy(
  m: number,
  n: number,
  old: Buffer,
  proof: readonly Buffer[],
  b = true,
): readonly [Buffer, Buffer] | undefined {
  if (m === n) {
    if (b) return proof.length === 0 ? [old, old] : undefined;
    return proof.length === 1 ? [proof[0] as Buffer, proof[0] as Buffer] : undefined;
  }
  const last = proof.at(-1);
  if (!last) return undefined;
  let k = 1;
  while (2 * k < n) k *= 2;
  const isLeft = m <= k;
  const inner = headsBy(isLeft ? m : m - k, isLeft ? k : n - k, old, proof.slice(0, -1), isLeft && b);
  if (!inner) return undefined;
  const node = (left: Buffer, right: Buffer) => sha256(Buffer.of(1), left, right);
  return isLeft ? [inner[0], node(inner[1], last)] : [node(last, inner[0]), node(last, inner[1])];
}

const HEX = (hash: Uint8Array) => Buffer.from(hash).toString('hex');

test('consistency proofs are those of the definition for every pair of sizes up to 40, and hold', () => {
  const leaves = Array.from({ length: 40 }, (_, i) => sha256(Buffer.of(i)));
  for (let n = 1; n <= leaves.length; n++)
    for (let m = 1; m <= n; m++) {
      const tree = leaves.slice(0, n);
      const proof = consistencyProof(m, tree);
      expect(proof.map(HEX), `${m} of ${n}`).toEqual(definedProof(m, tree).map(HEX));
      const growth = {
        first: m,
        firstRoot: HEX(treeHead(leaves.slice(0, m))),
        second: n,
        secondRoot: HEX(treeHead(tree)),
      };
      expect(isConsistent(growth, proof), `${m} of ${n}`).toBe(true);
    }
});

test('the example of RFC 9162, section 2.1.5: proofs of the tree of seven leaves for three, four and six', () => {
  const seven = LEAVES.slice(0, 7);
  const [a, b, c, d, e, f, j] = seven.map((leaf) => sha256(Buffer.of(0), leaf)) as [
    Buffer,
    Buffer,
    Buffer,
    Buffer,
    Buffer,
    Buffer,
    Buffer,
  ];
  const node = (left: Buffer, right: Buffer) => sha256(Buffer.of(1), left, right);
  const [g, h, i] = [node(a, b), node(c, d), node(e, f)];
  const [k, l] = [node(g, h), node(i, j)];
  expect(consistencyProof(3, seven).map(HEX)).toEqual([c, d, g, l].map(HEX));
  expect(consistencyProof(4, seven).map(HEX)).toEqual([l].map(HEX));
  expect(consistencyProof(6, seven).map(HEX)).toEqual([i, j, k].map(HEX));
});

test('a proof that was altered, cut, lengthened, or is of other sizes or heads, holds exactly where the definition says', () => {
  const leaves = Array.from({ length: 17 }, (_, i) => sha256(Buffer.of(i)));
  const wrong = sha256(Buffer.of(99));
  let refused = 0;
  const agree = (m: number, n: number, oldHead: Buffer, newHead: Buffer, proof: readonly Buffer[]) => {
    const heads = headsBy(m, n, oldHead, proof);
    const holds = (heads?.[0].equals(oldHead) && heads[1].equals(newHead)) === true;
    const growth = { first: m, firstRoot: HEX(oldHead), second: n, secondRoot: HEX(newHead) };
    expect(isConsistent(growth, proof), `${m} of ${n}, ${proof.length} hashes`).toBe(holds);
    if (!holds) refused++;
  };
  for (let n = 2; n <= leaves.length; n++)
    for (let m = 1; m < n; m++) {
      const proof = consistencyProof(m, leaves.slice(0, n));
      const [oldHead, newHead] = [treeHead(leaves.slice(0, m)), treeHead(leaves.slice(0, n))];
      for (let at = 0; at < proof.length; at++) {
        agree(m, n, oldHead, newHead, proof.toSpliced(at, 1, wrong));
        agree(m, n, oldHead, newHead, proof.toSpliced(at, 1));
        agree(m, n, oldHead, newHead, proof.toSpliced(at, 0, wrong));
      }
      agree(m, n, oldHead, newHead, [...proof, wrong]);
      agree(m, n, oldHead, newHead, []);
      agree(m, n, wrong, newHead, proof);
      agree(m, n, oldHead, wrong, proof);
      for (let other = 1; other < n; other++) agree(other, n, oldHead, newHead, proof);
      for (let other = m + 1; other <= leaves.length; other++) agree(m, other, oldHead, newHead, proof);
    }
  expect(refused).toBeGreaterThan(1_000);
});

test('an anchor proves that it extends an earlier one, to whoever has the two alone', async () => {
  const journal = new MemoryJournal();
  const none = await anchorOf(journal, NOW);
  await journal.append(numbered(5));
  const earlier = await anchorOf(journal, NOW);
  await journal.append(numbered(6));
  const later = readAnchor(JSON.stringify(await anchorOf(journal, NOW, earlier)), 'later.json');
  expect(later.consistency).toMatchObject({ entries: 5, root: earlier.root });
  expect(whyNotExtended(earlier, later)).toBeUndefined();
  expect(whyNotExtended(none, await anchorOf(journal, NOW, none))).toBeUndefined();
  expect(whyNotExtended(later, await anchorOf(journal, NOW, later))).toBeUndefined();
  expect(whyNotExtended(none, later)).toContain('has no proof for 0 entries');
  expect(whyNotExtended(later, earlier)).toContain('the later one has 5');
  const forged = {
    ...later.consistency,
    proof: later.consistency?.proof.toReversed(),
  } as Anchor['consistency'];
  expect(whyNotExtended(earlier, { ...later, consistency: forged })).toContain('does not hold');
  expect(whyNotExtended({ ...earlier, root: ROOTS[1] as string }, later)).toContain('does not hold');
  // Another history under the same identity.
  const other = new MemoryJournal();
  await other.append(numbered(11));
  const impostor = { ...(await anchorOf(other, NOW)), archive: earlier.archive };
  expect(whyNotExtended(earlier, { ...impostor, consistency: later.consistency })).toContain('does not hold');
  await expect(anchorOf(other, NOW, earlier)).rejects.toMatchObject({ code: 'CONFLICT' });
  expect(whyNotExtended(earlier, await anchorOf(other, NOW))).toContain('two archives');
  const { privateKey } = generateKeyPairSync('ed25519');
  const signed = signAnchor(later, privateKey.export({ type: 'pkcs8', format: 'pem' }).toString());
  expect(signatureOf(signed)).toBe('good by its own key');
  expect(signatureOf({ ...signed, consistency: forged })).toBe('bad');
});
