import { expect, test } from 'vitest';
import { canonicalJson } from '../../src/journal/canonical.ts';
import { chain, instantAfter, prepare } from '../../src/journal/chain.ts';
import { NO_HASH } from '../../src/journal/journal.ts';
import { entryOf, hashOf, type StoredEntry } from '../../src/journal/stored.ts';
import { numbered } from './changes.ts';

// The covered text was written by hand and hashed with `sha256sum` of GNU coreutils 9:
// 64 zeros, then {"actor":"A. Example","id":"017f22e2-79b0-7cc3-98c4-dc0c0c07398f",
// "instant":"2022-02-22T19:22:22.000Z","kind":"record-put","payload":{"collection":"makers",
// "record":{"id":"maker-é","name":"Maker \"1\""}},"reason":"opened\ntoday","sequence":1} on one line.
const STORED: StoredEntry = {
  sequence: 1,
  id: '017f22e2-79b0-7cc3-98c4-dc0c0c07398f',
  instant: '2022-02-22T19:22:22.000Z',
  actor: 'A. Example',
  reason: 'opened\ntoday',
  kind: 'record-put',
  version: 1,
  payload: canonicalJson({ record: { name: 'Maker "1"', id: 'maker-é' }, collection: 'makers' }),
  previousHash: NO_HASH,
  hash: '',
};

test('the hash of an entry is SHA-256 over the previous hash and the canonical text', () => {
  expect(hashOf(STORED)).toBe('3b73e58ce8a955ab3a79d0de8de4cf379d33964ec671f134368b1f2fd506322b');
});

// The same text with ,"version":2 behind the sequence.
test('the version of the payload is hashed too, from version 2 on', () => {
  const hash = 'd0a6e19acb26ceda2427c6fd60aeb3910f3e6133276502ee3b936967627622b9';
  expect(hashOf({ ...STORED, version: 2 })).toBe(hash);
});

test('an entry of a version that this program does not know is refused, with the versions that it knows', () => {
  for (const version of [0, 1.5, 5])
    expect(() => entryOf({ ...STORED, version })).toThrow(
      `of version ${version}, and this program reads versions 1 to 4`,
    );
});

test('appending gives the same hash as recomputing does, and stores the canonical payload', () => {
  const head = { sequence: 7, hash: 'a'.repeat(64) };
  const links = chain(prepare(numbered(3)), head, '2026-03-01T10:00:00.000Z');
  for (const { entry, stored } of links) {
    expect(hashOf(stored)).toBe(entry.hash);
    expect(stored).toMatchObject({ hash: entry.hash, previousHash: entry.previousHash, version: 4 });
    expect(stored.payload).toBe(canonicalJson(entry.payload));
    expect(entryOf(stored)).toEqual(entry);
  }
  expect(links.map(({ entry }) => entry.sequence)).toEqual([8, 9, 10]);
  expect(links[0].entry.previousHash).toBe(head.hash);
});

test('only the fields of a change get into an entry', () => {
  const change = { ...numbered(1)[0], sequence: 99, extra: 'x' };
  const [{ entry }] = chain(prepare([change]), { sequence: 0, hash: NO_HASH }, '2026-03-01T10:00:00.000Z');
  expect(entry.sequence).toBe(1);
  expect(Object.keys(entry).sort()).toEqual(
    ['actor', 'hash', 'id', 'instant', 'kind', 'payload', 'previousHash', 'reason', 'sequence'].sort(),
  );
});

test('an instant is what the clock says, unless it is more than a year past the last one', () => {
  const last = '2026-03-01T10:00:00.000Z';
  expect(instantAfter(last, new Date('2026-03-01T10:00:00.001Z'))).toBe('2026-03-01T10:00:00.001Z');
  expect(instantAfter(last, new Date('2026-03-01T09:00:00.000Z'))).toBe('2026-03-01T09:00:00.000Z');
  expect(instantAfter(last, new Date('2027-03-02T10:00:00.000Z'))).toBe('2027-03-02T10:00:00.000Z');
  expect(() => instantAfter(last, new Date('2027-03-02T10:00:00.001Z'))).toThrow('over a year past');
  expect(instantAfter(last, new Date('2036-01-01T00:00:00.000Z'), true)).toBe('2036-01-01T00:00:00.000Z');
  expect(instantAfter('', new Date(last))).toBe(last);
});
