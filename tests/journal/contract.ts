import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { type Journal, NO_HASH, type ReadOptions } from '../../src/journal/journal.ts';
import { verify } from '../../src/journal/verify.ts';
import type { Change, Entry } from '../../src/model/entry.ts';
import { anyChanges, numbered } from './changes.ts';

/** A place for one journal, such as a file; opened as often as wanted, by several at once. */
export interface Store {
  open(options?: { readonly clock?: () => Date }): Promise<Journal>;
  remove(): Promise<void>;
}

/** What every journal must do, whatever it is stored in. */
export function journalContract(name: string, newStore: () => Promise<Store>): void {
  describe(`a journal ${name}`, () => {
    let store: Store;
    beforeEach(async () => {
      store = await newStore();
    });
    afterEach(() => store.remove());

    test('is empty at first', async () => {
      const journal = await store.open();
      expect(await journal.head()).toEqual({ sequence: 0, hash: NO_HASH });
      expect(await entriesOf(journal)).toEqual([]);
      expect(await verify(journal)).toEqual({ intact: true, entries: 0 });
      await journal.close();
    });

    test('has an identity of its own, the same for all who open it', async () => {
      const [one, other] = [await store.open(), await store.open()];
      await one.append(numbered(1));
      const identity = await one.identity();
      expect(identity).toMatch(/^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/u);
      expect(await other.identity()).toBe(identity);
      await one.close();
      await other.close();
      const elsewhere = await newStore();
      const another = await elsewhere.open();
      await another.append(numbered(1));
      expect(await another.identity()).not.toBe(identity);
      await another.close();
      await elsewhere.remove();
    });

    test('gives back after reopening what was appended, and its chain holds', async () => {
      await fc.assert(
        fc.asyncProperty(fc.array(anyChanges, { maxLength: 4 }), async (batches) => {
          const fresh = await newStore();
          try {
            const writer = await fresh.open();
            const written: Entry[] = [];
            for (const changes of batches) written.push(...(await writer.append(changes)));
            await writer.close();
            const reader = await fresh.open();
            const read = await entriesOf(reader);
            expect(read).toEqual(asJson(written));
            // Members in the same order too: nothing that lists them is to tell an entry just written from one read.
            const payloads = (entries: readonly Entry[]) =>
              JSON.stringify(entries.map(({ payload }) => payload));
            expect(payloads(written)).toBe(payloads(read));
            expect(
              read.map(({ actor, reason, kind, payload }) => ({ actor, reason, kind, payload })),
            ).toEqual(asJson(batches.flat()));
            const { sequence, hash } = read.at(-1) ?? { sequence: 0, hash: NO_HASH };
            expect(await reader.head()).toEqual({ sequence, hash });
            expect(await verify(reader)).toEqual({ intact: true, entries: read.length });
            await reader.close();
          } finally {
            await fresh.remove();
          }
        }),
        { numRuns: 40 },
      );
    });

    test('numbers, dates and chains entries', async () => {
      const journal = await store.open({ clock: () => new Date('2026-03-01T10:00:00.123Z') });
      const entries = [...(await journal.append(numbered(3))), ...(await journal.append(numbered(2)))];
      expect(entries.map(({ sequence }) => sequence)).toEqual([1, 2, 3, 4, 5]);
      expect(new Set(entries.map(({ instant }) => instant))).toEqual(new Set(['2026-03-01T10:00:00.123Z']));
      expect(entries.map(({ previousHash }) => previousHash)).toEqual([
        NO_HASH,
        ...entries.slice(0, -1).map(({ hash }) => hash),
      ]);
      expect(new Set(entries.map(({ id }) => id)).size).toBe(5);
      await journal.close();
    });

    test('dates entries as the clock says, also when it steps back: order is the sequence', async () => {
      const times = ['2026-03-01T10:00:00.000Z', '2026-02-01T10:00:00.000Z', '2026-03-01T10:00:00.001Z'];
      const journal = await store.open({ clock: () => new Date(times.shift() as string) });
      for (let i = 0; i < 3; i++) await journal.append(numbered(1));
      expect((await entriesOf(journal)).map(({ sequence, instant }) => [sequence, instant])).toEqual([
        [1, '2026-03-01T10:00:00.000Z'],
        [2, '2026-02-01T10:00:00.000Z'],
        [3, '2026-03-01T10:00:00.001Z'],
      ]);
      expect(await verify(journal)).toEqual({ intact: true, entries: 3 });
      await journal.close();
    });

    test('refuses a clock that leaps more than a year ahead, unless that is allowed', async () => {
      let now = '2026-03-01T10:00:00.000Z';
      const journal = await store.open({ clock: () => new Date(now) });
      await journal.append(numbered(1));
      now = '2036-03-01T10:00:00.000Z';
      await expect(journal.append(numbered(1))).rejects.toMatchObject({
        code: 'UNAVAILABLE',
        message: expect.stringContaining('over a year past the last entry (2026-03-01T10:00:00.000Z)'),
      });
      expect((await journal.head()).sequence).toBe(1);
      process.env.CASEBACK_ALLOW_CLOCK_LEAP = '1';
      try {
        await journal.append(numbered(1));
      } finally {
        delete process.env.CASEBACK_ALLOW_CLOCK_LEAP;
      }
      // Put right again: what comes next is dated now, and a year from the last entry is not a leap.
      for (now of ['2026-03-02T10:00:00.000Z', '2027-03-02T10:00:00.000Z']) await journal.append(numbered(1));
      expect((await entriesOf(journal)).map(({ instant }) => instant.slice(0, 10))).toEqual([
        '2026-03-01',
        '2036-03-01',
        '2026-03-02',
        '2027-03-02',
      ]);
      await journal.close();
    });

    test('reads any stretch, in batches of any size', async () => {
      const journal = await store.open({ clock: ticking() });
      for (const size of [1, 4, 2, 5, 1]) await journal.append(numbered(size));
      const all = await entriesOf(journal);
      const range = fc.record({
        after: fc.integer({ min: 0, max: 15 }),
        upTo: fc.option(fc.integer({ min: 0, max: 15 }), { nil: undefined }),
        batchSize: fc.integer({ min: 1, max: 15 }),
      });
      await fc.assert(
        fc.asyncProperty(range, async (options) => {
          const { after, upTo = 99, batchSize } = options;
          const batches: (readonly Entry[])[] = [];
          for await (const batch of journal.read(options)) batches.push(batch);
          expect(batches.flat()).toEqual(all.filter(({ sequence }) => sequence > after && sequence <= upTo));
          expect(batches.every(({ length }) => length >= 1 && length <= batchSize)).toBe(true);
        }),
        { numRuns: 200 },
      );
      await journal.close();
    });

    test('refuses invalid bounds, by name', async () => {
      const journal = await store.open();
      const wrong: [ReadOptions, string][] = [
        [{ after: -1 }, 'after is -1'],
        [{ after: 0.5 }, 'after is 0.5'],
        [{ upTo: -1 }, 'upTo is -1'],
        [{ batchSize: 0 }, 'batchSize is 0'],
      ];
      for (const [options, message] of wrong) {
        await expect(entriesOf(journal, options)).rejects.toMatchObject({
          code: 'BAD_INPUT',
          message: expect.stringContaining(message),
        });
      }
      await journal.close();
    });

    test('shows a reader what another process appends', async () => {
      const [writer, follower] = [await store.open(), await store.open()];
      await writer.append(numbered(3));
      const seen = await entriesOf(follower);
      await writer.append(numbered(2));
      const more = await entriesOf(follower, { after: seen.length });
      expect(more.map(({ sequence }) => sequence)).toEqual([4, 5]);
      expect(await follower.head()).toEqual(await writer.head());
      await writer.close();
      await follower.close();
    });

    test('reads on into what is appended meanwhile', async () => {
      const journal = await store.open();
      await journal.append(numbered(4));
      const seen: number[] = [];
      for await (const entries of journal.read({ batchSize: 2 })) {
        if (seen.length === 0) await journal.append(numbered(3));
        seen.push(...entries.map(({ sequence }) => sequence));
      }
      expect(seen).toEqual([1, 2, 3, 4, 5, 6, 7]);
      await journal.close();
    });

    test('refuses an append on a head that has moved on, and writes nothing', async () => {
      const [one, other] = [await store.open(), await store.open()];
      await one.append(numbered(2), { expectedHead: 0 });
      const head = await one.head();
      await expect(other.append(numbered(1), { expectedHead: 0 })).rejects.toMatchObject({
        code: 'CONFLICT',
        message: expect.stringContaining('from entry 0 to 2'),
      });
      expect(await other.head()).toEqual(head);
      await other.append(numbered(1), { expectedHead: 2 });
      expect((await one.head()).sequence).toBe(3);
      await one.close();
      await other.close();
    });

    test('keeps every append complete when two write at once', async () => {
      const [one, other] = [await store.open(), await store.open()];
      const appends = Array.from({ length: 40 }, (_, i) =>
        (i % 2 ? one : other).append(numbered(1 + (i % 5))),
      );
      const results = await Promise.all(appends);
      const all = await entriesOf(one);
      expect(all).toHaveLength(results.flat().length);
      for (const entries of results) {
        const { sequence } = entries[0];
        expect(all.slice(sequence - 1, sequence - 1 + entries.length)).toEqual(asJson(entries));
      }
      expect(await verify(other)).toEqual({ intact: true, entries: all.length });
      await one.close();
      await other.close();
    });

    test('accepts exactly one of several appends to the same head', async () => {
      const [one, other] = [await store.open(), await store.open()];
      for (let round = 0; round < 5; round++) {
        const { sequence: expectedHead } = await one.head();
        const tries = [one, other, one, other].map((journal) =>
          journal.append(numbered(2), { expectedHead }),
        );
        const settled = await Promise.allSettled(tries);
        const lost = settled.filter((result) => result.status === 'rejected');
        expect(lost.map(({ reason }) => reason.code)).toEqual(['CONFLICT', 'CONFLICT', 'CONFLICT']);
        expect((await other.head()).sequence).toBe(expectedHead + 2);
      }
      await one.close();
      await other.close();
    });

    test('does once what is asked again under its key, by whomever, and gives the same entries', async () => {
      const [one, other] = [await store.open(), await store.open()];
      const first = await one.append(numbered(3), { key: 'k1' });
      await other.append(numbered(2));
      expect(await other.append(numbered(3), { key: 'k1', expectedHead: 0 })).toEqual(asJson(first));
      expect(await one.append(numbered(3), { key: 'k1' })).toEqual(asJson(first));
      expect((await one.head()).sequence).toBe(5);
      expect(await other.appended('k1')).toMatchObject({ after: 0, entries: asJson(first) });
      expect(await other.appended('k2')).toBeUndefined();
      // The changes make the difference, or what the caller says must be equal.
      await expect(other.append(numbered(2), { key: 'k1' })).rejects.toMatchObject({
        code: 'CONFLICT',
        message: expect.stringContaining('idempotency key'),
      });
      const second = await one.append(numbered(1), { key: 'k2', fingerprint: 'asked' });
      expect(await other.append(numbered(4), { key: 'k2', fingerprint: 'asked' })).toEqual(asJson(second));
      await expect(other.append(numbered(1), { key: 'k2', fingerprint: 'asked else' })).rejects.toMatchObject(
        { code: 'CONFLICT' },
      );
      expect((await one.head()).sequence).toBe(6);
      await one.close();
      await other.close();
    });

    test('remembers a key under which there was nothing to write, and none that was refused', async () => {
      const journal = await store.open();
      await journal.append(numbered(2));
      expect(await journal.append([], { key: 'nothing', fingerprint: 'f' })).toEqual([]);
      expect(await journal.append(numbered(1), { key: 'nothing', fingerprint: 'f' })).toEqual([]);
      expect(await journal.appended('nothing')).toEqual({ fingerprint: 'f', after: 2, entries: [] });
      await expect(journal.append(numbered(1), { key: 'late', expectedHead: 1 })).rejects.toMatchObject({
        code: 'CONFLICT',
      });
      expect(await journal.appended('late')).toBeUndefined();
      expect(await journal.append(numbered(1), { key: 'late', expectedHead: 2 })).toHaveLength(1);
      const byKey = (await journal.keys()).toSorted((a, b) => (a.key < b.key ? -1 : 1));
      expect(byKey).toEqual([
        { key: 'late', fingerprint: expect.stringMatching(/^[0-9a-f]{64}$/u), first: 3, last: 3 },
        { key: 'nothing', fingerprint: 'f', first: 3, last: 2 },
      ]);
      for (const key of ['', 'x'.repeat(201), 'a\0b', '\ud800'])
        await expect(journal.append(numbered(1), { key })).rejects.toMatchObject({ code: 'BAD_INPUT' });
      expect((await journal.head()).sequence).toBe(3);
      await journal.close();
    });

    test('accepts exactly one of several appends under one key at once', async () => {
      const journals = [await store.open(), await store.open()];
      for (let round = 0; round < 5; round++) {
        const tries = Array.from({ length: 6 }, (_, i) =>
          journals[i % 2].append(numbered(2), { key: `round ${round}` }),
        );
        const results = (await Promise.all(tries)).map(asJson);
        for (const entries of results) expect(entries).toEqual(results[0]);
        expect((await journals[1].head()).sequence).toBe(2 * round + 2);
      }
      for (const journal of journals) await journal.close();
    });

    test('tells whoever watches that others have appended', async () => {
      const [writer, follower] = [await store.open(), await store.open()];
      await writer.append(numbered(1));
      const seen = Promise.withResolvers<void>();
      const end = follower.watch(() => {
        void follower.head().then(({ sequence }) => sequence === 2 && seen.resolve());
      });
      await writer.append(numbered(1));
      await seen.promise;
      end();
      await writer.close();
      await follower.close();
    });

    test('has a secret of its own, the same for all who open it', async () => {
      const [one, other] = [await store.open(), await store.open()];
      await one.append(numbered(1));
      const secret = Buffer.from((await one.secret()) ?? []);
      expect(secret).toHaveLength(32);
      expect(Buffer.from((await other.secret()) ?? [])).toEqual(secret);
      const fresh = await newStore();
      const third = await fresh.open();
      await third.append(numbered(1));
      expect(Buffer.from((await third.secret()) ?? [])).not.toEqual(secret);
      for (const journal of [one, other, third]) await journal.close();
      await fresh.remove();
    });

    test('appends nothing for nothing', async () => {
      const journal = await store.open();
      expect(await journal.append([])).toEqual([]);
      expect((await journal.head()).sequence).toBe(0);
      await journal.close();
    });

    test('appends nothing when a change cannot be stored, and names the place', async () => {
      const journal = await store.open();
      await journal.append(numbered(2));
      const head = await journal.head();
      for (const wrong of [{ a: [{ marking: 'A\ud800' }] }, { a: [{ marking: Number.NaN }] }]) {
        const changes = [...numbered(2), changeWith(wrong), ...numbered(1)];
        await expect(journal.append(changes)).rejects.toMatchObject({
          code: 'BAD_INPUT',
          problems: [{ path: 'a[0].marking', what: expect.stringContaining('change 3') }],
        });
      }
      expect(await journal.head()).toEqual(head);
      expect(await entriesOf(journal)).toHaveLength(2);
      await journal.close();
    });

    test('keeps what was appended, whatever the caller does to its objects later', async () => {
      const journal = await store.open();
      const payload = { marking: 'A1' };
      await journal.append([changeWith(payload)]);
      payload.marking = 'B2';
      expect((await entriesOf(journal))[0].payload).toEqual({ marking: 'A1' });
      expect((await verify(journal)).intact).toBe(true);
      await journal.close();
    });

    test('says how far a check of the chain has come', async () => {
      const journal = await store.open();
      await journal.append(numbered(1_200));
      const progress: number[] = [];
      expect(await verify(journal, (checked) => progress.push(checked))).toEqual({
        intact: true,
        entries: 1_200,
      });
      expect(progress).toEqual([500, 1_000, 1_200]);
      await journal.close();
    });

    test('what another appends while the chain is checked is not missing; what was there before must be', async () => {
      const [journal, other] = [await store.open(), await store.open()];
      await journal.append(numbered(3));
      expect(await verify(withBehind(journal, () => other.append(numbered(2))))).toEqual({
        intact: true,
        entries: 3,
      });
      const cut = withBehind(journal, () => other.append(numbered(1)), 4);
      expect(await verify(cut)).toEqual({ intact: false, sequence: 5, why: 'is missing' });
      await journal.close();
      await other.close();
    });
  });
}

export async function entriesOf(journal: Journal, options?: ReadOptions): Promise<Entry[]> {
  const all: Entry[] = [];
  for await (const entries of journal.read(options)) all.push(...entries);
  return all;
}

/** The same journal, but that something happens once its entries have been read, which end after so many. */
function withBehind(journal: Journal, happens: () => Promise<unknown>, entries = Infinity): Journal {
  return new Proxy(journal, {
    get(_, name) {
      if (name !== 'readStored') return Reflect.get(journal, name).bind(journal);
      return async function* (options?: ReadOptions) {
        for await (const batch of journal.readStored(options))
          yield batch.filter(({ sequence }) => sequence <= entries);
        await happens();
      };
    },
  });
}

function changeWith(payload: unknown): Change {
  return { actor: 'bench', reason: 'test', kind: 'record-put', payload } as Change;
}

/** What a value is after a way through JSON: no members that are undefined, no minus zero. */
function asJson<T>(value: T): T {
  return JSON.parse(JSON.stringify(value)) as T;
}

/** A clock that goes on by a second each time it is looked at. */
function ticking(): () => Date {
  let time = Date.parse('2026-01-01T00:00:00.000Z');
  return () => {
    time += 1_000;
    return new Date(time);
  };
}
