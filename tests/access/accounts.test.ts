import { createHash } from 'node:crypto';
import { existsSync, mkdtempSync, readFileSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { crc32 } from 'node:zlib';
import { Client } from 'pg';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { Accounts, SESSION, TOKEN_DAYS } from '../../src/access/accounts.ts';
import { Attempts } from '../../src/access/attempts.ts';
import { postgresAccounts } from '../../src/access/postgres-accounts.ts';
import { isTokenShaped } from '../../src/access/secrets.ts';
import { accountsFile, sqliteAccounts } from '../../src/access/sqlite-accounts.ts';
import type { AccountStore } from '../../src/access/store.ts';
import type { CasebackError } from '../../src/model/problems.ts';
import { sharedSchema } from '../postgres/shared.ts';

/** Where accounts are kept, seen from outside the code under test. */
interface Kept {
  /** A store on it, as another process would have one. */
  open(): AccountStore;
  /** Whether anything was made there yet. */
  isMade(): Promise<boolean>;
  /** Everything that is there, as text. */
  text(): Promise<string>;
  /** The file, where it is one. */
  readonly file?: string;
  remove(): Promise<void>;
}

async function keptInFile(): Promise<Kept> {
  const folder = mkdtempSync(join(tmpdir(), 'caseback-test-'));
  const file = accountsFile(folder);
  return {
    open: () => sqliteAccounts(folder),
    isMade: async () => existsSync(file),
    text: async () => readFileSync(file).toString('latin1'),
    file,
    remove: async () => rmSync(folder, { recursive: true, force: true }),
  };
}

async function keptInDatabase(): Promise<Kept> {
  const schema = await sharedSchema();
  const rows = async (query: string): Promise<readonly string[][]> => {
    const client = new Client({ connectionString: schema.url });
    await client.connect();
    try {
      return (await client.query({ text: query, rowMode: 'array' })).rows;
    } finally {
      await client.end();
    }
  };
  const tables = async () =>
    (
      await rows('SELECT table_name FROM information_schema.tables WHERE table_schema = current_schema()')
    ).flat();
  return {
    open: () => postgresAccounts(schema.url),
    isMade: async () => (await tables()).length > 0,
    text: async () => {
      const all = await Promise.all(
        (await tables()).map((name) => rows(`SELECT row_to_json(t)::text FROM ${name} t`)),
      );
      return all.flat(2).join('\n');
    },
    remove: () => schema.drop(),
  };
}

let kept: Kept;
let now: number;
let accounts: Accounts;
const accountsIn = (make: () => Promise<Kept>) => {
  beforeEach(async () => {
    kept = await make();
    now = Date.parse('2026-05-01T10:20:30.000Z');
    accounts = another();
  });
  afterEach(async () => {
    await accounts.close();
    await kept.remove();
  });
};
/** Accounts in the same place, as another process has them. */
const another = () => new Accounts(kept.open(), () => new Date(now));

const HOUR = 3_600_000;
const DAY = 24 * HOUR;
const codeOf = (work: Promise<unknown>) =>
  work.then(
    () => undefined,
    (error: CasebackError) => error.code,
  );

describe.each([
  ['in a SQLite file', keptInFile],
  ['in a PostgreSQL database', keptInDatabase],
] as const)('accounts %s', (_, make) => {
  accountsIn(make);

  describe('a token', () => {
    beforeEach(() => accounts.add('Ada Bench', { role: 'editor' }));

    test('has 256 random bits, a prefix that scanners know, and a checksum that others can calculate', async () => {
      const secrets = new Set<string>();
      for (let i = 0; i < 50; i++) secrets.add((await accounts.makeToken('Ada Bench')).secret);
      expect(secrets.size).toBe(50);
      const DIGITS = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz';
      for (const secret of secrets) {
        expect(secret).toMatch(/^caseback_[0-9A-Za-z]{49}$/u);
        // Read back as a number to base 62, by multiplication instead of division.
        const number = (text: string) =>
          [...text].reduce((sum, digit) => sum * 62n + BigInt(DIGITS.indexOf(digit)), 0n);
        expect(number(secret.slice(9, 52)) < 2n ** 256n).toBe(true);
        expect(number(secret.slice(52))).toBe(BigInt(crc32(secret.slice(0, 52))));
        // RFC 6750, section 2.1: b64token.
        expect(secret).toMatch(/^[A-Za-z0-9\-._~+/]+=*$/u);
      }
      // Half of the bits are set, within what chance leaves of 50 × 256 (six standard deviations).
      const bits = [...secrets].flatMap((secret) => {
        const value = [...secret.slice(9, 52)].reduce((sum, d) => sum * 62n + BigInt(DIGITS.indexOf(d)), 0n);
        return [...value.toString(2)].filter((bit) => bit === '1');
      }).length;
      expect(Math.abs(bits - 6_400)).toBeLessThan(6 * Math.sqrt(50 * 256 * 0.25));
    });

    test('is told once: what is kept is its SHA-256, a file only for its owner', async () => {
      const { secret, token } = await accounts.makeToken('Ada Bench', { label: 'laptop' });
      const text = await kept.text();
      expect(text).not.toContain(secret);
      expect(text).not.toContain(secret.slice(9, 30));
      expect(text).toContain(createHash('sha256').update(secret).digest('hex'));
      if (kept.file) expect(statSync(kept.file).mode & 0o077).toBe(0);
      expect(JSON.stringify([token, await accounts.tokens(), await accounts.people()])).not.toContain(
        secret.slice(9),
      );
    });

    test('lets its person in until it expires, 90 days unless told otherwise and never over 366', async () => {
      const { secret, token } = await accounts.makeToken('Ada Bench');
      expect(await accounts.bearer(secret)).toEqual({
        name: 'Ada Bench',
        displayName: null,
        role: 'editor',
        by: 'token',
        expires: token.expires,
      });
      expect(Date.parse(token.expires) - now).toBe(TOKEN_DAYS.default * DAY);
      now = Date.parse(token.expires) - 1;
      expect(await accounts.bearer(secret)).toBeDefined();
      now += 1;
      expect(await accounts.bearer(secret)).toBeUndefined();
      const long = await accounts.makeToken('Ada Bench', { days: 366 });
      expect(Date.parse(long.token.expires) - now).toBe(366 * DAY);
      for (const days of [0, -1, 1.5, 367, Number.NaN])
        expect(await codeOf(accounts.makeToken('Ada Bench', { days }))).toBe('BAD_INPUT');
    });

    test('is not let in when any of its characters is another', async () => {
      const { secret } = await accounts.makeToken('Ada Bench');
      for (let at = 0; at < secret.length; at++) {
        const other = secret[at] === 'x' ? 'y' : 'x';
        const altered = secret.slice(0, at) + other + secret.slice(at + 1);
        expect(isTokenShaped(altered), altered).toBe(false);
        expect(await accounts.bearer(altered)).toBeUndefined();
      }
      for (const text of ['', 'caseback_', secret.slice(1), ` ${secret}`, secret.toLowerCase(), `${secret}0`])
        expect(await accounts.bearer(text)).toBeUndefined();
    });

    test('that is revoked, and the sessions begun with it, end at once, also in another process', async () => {
      const other = another();
      const remaining = await other.makeToken('Ada Bench');
      const { secret, token } = await accounts.makeToken('Ada Bench');
      const begun = await accounts.signIn(secret);
      expect(await other.bearer(secret)).toBeDefined();
      expect(await other.session(begun?.secret ?? '')).toBeDefined();
      expect(await accounts.session(begun?.secret ?? '')).toBeDefined();
      await other.revoke(token.id);
      expect(await accounts.bearer(secret)).toBeUndefined();
      expect(await accounts.session(begun?.secret ?? '')).toBeUndefined();
      expect(await accounts.bearer(remaining.secret)).toBeDefined();
      expect(await codeOf(accounts.revoke(token.id))).toBe('NOT_FOUND');
      await other.close();
    });

    test('says when it was last used, to the hour', async () => {
      const { secret } = await accounts.makeToken('Ada Bench');
      expect((await accounts.tokens('Ada Bench'))[0].lastUsed).toBeNull();
      await accounts.bearer(secret);
      expect((await accounts.tokens('Ada Bench'))[0].lastUsed).toBe('2026-05-01T10:00:00.000Z');
    });
  });

  describe('a session', () => {
    let secret: string;
    beforeEach(async () => {
      await accounts.add('Ada Bench', { role: 'editor' });
      ({ secret } = await accounts.makeToken('Ada Bench'));
    });
    const begin = async (before?: string) => (await accounts.signIn(secret, before))?.secret ?? '';

    test('has a secret that is new at every signing in; the one before ends', async () => {
      const first = await begin();
      const second = await begin(first);
      expect(second).not.toBe(first);
      expect([await accounts.session(first), (await accounts.session(second))?.name]).toEqual([
        undefined,
        'Ada Bench',
      ]);
      // Session fixation: what a browser brings never becomes a session.
      const planted = 'A'.repeat(43);
      expect(await begin(planted)).not.toBe(planted);
      expect(await accounts.session(planted)).toBeUndefined();
      expect(await kept.text()).not.toContain(second);
    });

    test('ends when it is not used, and after a day in any case', async () => {
      const idle = await begin();
      now += SESSION.idle;
      expect(await accounts.session(idle)).toBeUndefined();
      const used = await begin();
      const end = now + SESSION.absolute;
      while (now < end - HOUR) {
        now += HOUR;
        expect((await accounts.session(used))?.role).toBe('editor');
      }
      now = end;
      expect(await accounts.session(used)).toBeUndefined();
    });

    test('lasts no longer than its token', async () => {
      const short = await accounts.makeToken('Ada Bench', { days: 1 });
      now += DAY - HOUR;
      const begun = await accounts.signIn(short.secret);
      expect(begun?.who.expires).toBe(short.token.expires);
      now += HOUR;
      expect(await accounts.session(begun?.secret ?? '')).toBeUndefined();
    });

    test('ends with signing out, here or everywhere', async () => {
      const [one, two, three] = [await begin(), await begin(), await begin()];
      const other = another();
      expect(await other.session(one)).toBeDefined();
      await accounts.signOut(one);
      expect([await accounts.session(one), await other.session(one)]).toEqual([undefined, undefined]);
      await other.close();
      expect(await accounts.session(two)).toBeDefined();
      expect(await accounts.signOutEverywhere('Ada Bench')).toBe(2);
      for (const ended of [two, three]) expect(await accounts.session(ended)).toBeUndefined();
      expect(await accounts.bearer(secret)).toBeDefined();
    });

    test('and tokens follow the person: role, disabling and removal at once', async () => {
      const session = await begin();
      await accounts.change('Ada Bench', { role: 'reader' });
      expect([(await accounts.session(session))?.role, (await accounts.bearer(secret))?.role]).toEqual([
        'reader',
        'reader',
      ]);
      await accounts.disable('ada bench');
      expect([await accounts.session(session), await accounts.bearer(secret)]).toEqual([
        undefined,
        undefined,
      ]);
      await accounts.enable('Ada Bench');
      expect([await accounts.session(session), (await accounts.bearer(secret))?.name]).toEqual([
        undefined,
        'Ada Bench',
      ]);
      await accounts.remove('Ada Bench');
      expect(await accounts.bearer(secret)).toBeUndefined();
      expect(await accounts.tokens()).toEqual([]);
    });
  });

  describe('a name', () => {
    test('is of one person, however it is written', async () => {
      await accounts.add('Ada Bench', { role: 'editor' });
      for (const alike of ['Ada Bench', 'ADA BENCH', ' ada bench ', 'Ａda Bench'])
        expect(await codeOf(accounts.add(alike, { role: 'reader' })), alike).toBe('CONFLICT');
    });

    test('stays with whoever had it', async () => {
      await accounts.add('Ada Bench', { role: 'editor', displayName: 'Ada B.' });
      await accounts.remove('Ada Bench');
      expect(await accounts.people()).toMatchObject([{ state: 'removed', displayName: null }]);
      expect(await codeOf(accounts.add('ada bench', { role: 'reader' }))).toBe('CONFLICT');
      expect(await codeOf(accounts.makeToken('Ada Bench'))).toBe('NOT_FOUND');
      await accounts.add('Ada Bench', { role: 'contributor', isReturning: true });
      expect(await accounts.person('Ada Bench')).toMatchObject({ state: 'enabled', role: 'contributor' });
    });

    test('is seen as it is: nothing invisible, no turned writing, not that of the demo', async () => {
      for (const name of [
        '',
        '  ',
        'a\u202Eb',
        'a\u200Bb',
        'a\nb',
        'a\tb',
        'a  b',
        'x'.repeat(101),
        'Demo',
        'demo ',
      ])
        expect(await codeOf(accounts.add(name, { role: 'reader' })), JSON.stringify(name)).toBe('BAD_INPUT');
      await accounts.add('Zoë Ångström-Çelik', { role: 'reader' });
    });
  });

  test('before anybody is added nothing is made, and nobody gets in', async () => {
    expect([await accounts.hasPeople(), await accounts.people()]).toEqual([false, []]);
    expect(await accounts.bearer(`caseback_${'0'.repeat(49)}`)).toBeUndefined();
    expect(await kept.isMade()).toBe(false);
    const other = another();
    await other.add('Ada Bench', { role: 'editor' });
    expect(await accounts.hasPeople()).toBe(true);
    await other.close();
  });

  test('people are listed by name, whatever the language of the database', async () => {
    for (const name of ['b', 'Zoë', 'A c', 'a-b', 'Ada', 'ab', 'Ö'])
      await accounts.add(name, { role: 'reader' });
    // By code unit, after NFKC and lower case.
    expect((await accounts.people()).map(({ name }) => name)).toEqual([
      'A c',
      'a-b',
      'ab',
      'Ada',
      'b',
      'Zoë',
      'Ö',
    ]);
  });

  test('whoever is added by several at once is added once', async () => {
    const all = Array.from({ length: 4 }, another);
    const done = await Promise.all(all.map((one) => codeOf(one.add('Ada Bench', { role: 'editor' }))));
    expect(done.toSorted()).toEqual(['CONFLICT', 'CONFLICT', 'CONFLICT', undefined]);
    expect((await accounts.people()).length).toBe(1);
    for (const one of all) await one.close();
  });

  test('a name or id that no store can hold is one that nobody has', async () => {
    await accounts.add('Ada Bench', { role: 'editor' });
    for (const text of ['a\0b', '\ud800', "'; DROP TABLE access_people; --", '$1'])
      expect(
        [await codeOf(accounts.person(text)), await codeOf(accounts.revoke(text))],
        JSON.stringify(text),
      ).toEqual(['NOT_FOUND', 'NOT_FOUND']);
    expect((await accounts.people()).length).toBe(1);
  });
});

describe('failed attempts', () => {
  test('hold up their address after ten, and not whoever signed in from it lately', () => {
    let at = 0;
    const attempts = new Attempts(() => at);
    attempts.succeeded('right');
    for (let i = 0; i < 10; i++) {
      expect(attempts.wait('198.51.100.7', `wrong-${i}`)).toBe(0);
      attempts.failed('198.51.100.7');
    }
    expect(attempts.wait('198.51.100.7', 'wrong')).toBe(6);
    expect(attempts.wait('198.51.100.7', 'right')).toBe(0);
    expect(attempts.wait('198.51.100.8', 'wrong')).toBe(0);
    at += 6_000;
    expect(attempts.wait('198.51.100.7', 'wrong')).toBe(0);
    attempts.failed('198.51.100.7');
    expect(attempts.wait('198.51.100.7', 'wrong')).toBe(6);
    at += 60_000;
    expect(attempts.wait('198.51.100.7', 'wrong')).toBe(0);
  });
});
