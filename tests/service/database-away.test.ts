import { setTimeout as pause } from 'node:timers/promises';
import { Client } from 'pg';
import { afterEach, expect, test } from 'vitest';
import { Accounts } from '../../src/access/accounts.ts';
import { postgresAccounts } from '../../src/access/postgres-accounts.ts';
import { Archive } from '../../src/archive.ts';
import { PostgresJournal } from '../../src/journal/postgres/journal.ts';
import { Network } from '../postgres/network.ts';
import { PostgresServer } from '../postgres/server.ts';
import { sharedSchema } from '../postgres/shared.ts';
import { type Answer, archiveOf, BY, type Served, serve } from './serving.ts';

// Two services on one PostgreSQL database that one or both of them cannot reach for a while: the network is cut, an answer is
// lost, the server is restarted. What was written is counted by plain SQL.

/** Short, so that whoever waits is told soon. */
const PATIENCE = { reach: 300, statement: 2_000 };
const RECORD = `mutation Record($id: String!) {
  recordObservation(input: {
    specimen: "tarn-sennit-2/a", reason: "while the database is away",
    observation: { id: $id, about: ["U2"], kind: APPEARANCE, text: "Matt lid." }
  }) { entry { sequence id } observation { id text } }
}`;
const LIST =
  '{ specimen(id: "tarn-sennit-2/a") { observations(first: 100) { totalCount nodes { id text } } } }';

const toClose: (() => Promise<void>)[] = [];
afterEach(async () => {
  for (const close of toClose.splice(0).reverse()) await close();
});

interface Told {
  readonly status: number;
  readonly body: Answer;
  readonly state: string;
  readonly retryAfter: unknown;
}

/** Two services, the first with the address that is to fail, and what was asked of them. */
class Newsroom {
  readonly #served: readonly Served[];
  readonly #url: string;
  /** By key: the first answer that said it was done. */
  readonly #done = new Map<string, Answer>();

  private constructor(served: readonly Served[], url: string) {
    this.#served = served;
    this.#url = url;
  }

  /** @param urls of the two services; @param direct that of the database */
  static async open(urls: readonly string[], direct: string): Promise<Newsroom> {
    await (await archiveOf(undefined, new PostgresJournal(direct))).close();
    const served: Served[] = [];
    for (const url of urls) {
      const archive = await Archive.open(new PostgresJournal(url, { patience: PATIENCE }));
      // As `caseback serve` has it: whoever asks at a desk is held against the accounts, which are in the database, too.
      const accounts = new Accounts(postgresAccounts(url));
      const access = { accounts, local: { name: BY.actor, role: 'editor' } } as const;
      const one = await serve({ audience: 'desk', logger: false, access }, archive);
      served.push(one);
      toClose.push(
        () => accounts.close(),
        () => one.close(),
      );
    }
    return new Newsroom(served, direct);
  }

  async ask(on: number, query: string, variables?: object, headers: object = {}): Promise<Told> {
    const response = await this.#served[on].app.inject({
      method: 'POST',
      url: '/graphql',
      headers: { accept: 'application/graphql-response+json', ...headers },
      payload: { query, variables },
    });
    const state = response.headers['caseback-state'] as string;
    return {
      status: response.statusCode,
      body: response.json() as Answer,
      state,
      retryAfter: response.headers['retry-after'],
    };
  }

  /** Asks once for a change under a key that is named like its observation. Either it is done, or UNAVAILABLE. */
  async write(on: number, key: string): Promise<Told & { readonly isDone: boolean }> {
    const told = await this.ask(on, RECORD, { id: key }, { 'idempotency-key': `"${key}"` });
    const { data, errors } = told.body;
    if (errors) {
      expect(errors.map(({ extensions }) => extensions.code)).toEqual(['UNAVAILABLE']);
      // 503 where it never ran; a field that failed is told in a well-formed answer, 200 (GraphQL over HTTP, 6.4, from memory).
      expect(told.status).toBe(data === undefined ? 503 : 200);
      expect([data?.recordObservation ?? null, told.retryAfter]).toEqual([null, '1']);
    } else {
      expect(data.recordObservation.observation.id).toContain(key);
      // Whoever is told twice is told the same.
      expect(data).toEqual((this.#done.get(key) ?? told.body).data);
      this.#done.set(key, told.body);
    }
    return { ...told, isDone: errors === undefined };
  }

  /** Asks until it is done, as clients do, of one service and the other. */
  async writeAtLast(key: string, on = 0): Promise<Told> {
    for (let tries = on; ; tries++) {
      const told = await this.write(tries % 2, key);
      if (told.isDone) return told;
      await pause(100);
    }
  }

  /** The list, from a service that knows at least what a token says. */
  askWith(state: string, on: number): Promise<Told> {
    return this.ask(on, LIST, undefined, { 'caseback-state': state });
  }

  async count(on: number): Promise<number> {
    const { status, body } = await this.ask(on, LIST);
    expect([status, body.errors]).toEqual([200, undefined]);
    return body.data.specimen.observations.totalCount;
  }

  /** Both have the same entries, all that were acknowledged, and each once. */
  async expectConverged(keys: readonly string[], before: number): Promise<void> {
    expect([...this.#done.keys()].sort()).toEqual([...keys].sort());
    // Whoever writes last knows all before; its token brings the other there.
    const last = await this.writeAtLast('last');
    const lists: unknown[] = [];
    for (const on of [0, 1]) {
      let { status, body } = await this.askWith(last.state, on);
      // A service that was away a moment ago goes on saying so for a second.
      while (status === 503) {
        await pause(100);
        ({ status, body } = await this.askWith(last.state, on));
      }
      expect(body.errors).toBeUndefined();
      expect(body.data.specimen.observations.totalCount).toBe(before + keys.length + 1);
      lists.push(body.data);
    }
    expect(lists[1]).toEqual(lists[0]);
    const client = new Client({ connectionString: this.#url });
    await client.connect();
    try {
      const { rows } = await client.query(
        "SELECT sequence, id, payload FROM caseback_entries WHERE kind = 'observation-recorded' ORDER BY sequence",
      );
      const stored = rows.map(({ sequence, id, payload }) => ({
        key: JSON.parse(payload).observation.id as string,
        entry: { sequence: Number(sequence), id },
      }));
      expect(stored.map(({ key }) => key).sort()).toEqual([...keys, 'last'].sort());
      for (const { key, entry } of stored)
        expect(this.#done.get(key)?.data.recordObservation.entry).toEqual(entry);
      // Numbered without a gap: none was lost with what failed.
      const { rows: all } = await client.query(
        'SELECT count(*)::int AS n, max(sequence)::int AS last FROM caseback_entries',
      );
      expect(all[0].n).toBe(all[0].last);
    } finally {
      await client.end();
    }
  }
}

async function behindNetwork() {
  const schema = await sharedSchema();
  const network = await Network.before(schema.url);
  toClose.push(
    () => schema.drop(),
    () => network.close(),
  );
  return { network, newsroom: await Newsroom.open([network.url(schema.url), schema.url], schema.url) };
}

test('one service is cut off: it answers questions, refuses changes, and knows all afterwards', async () => {
  const { network, newsroom } = await behindNetwork();
  const before = await newsroom.count(0);
  await newsroom.writeAtLast('before-0');
  const keys = ['before-0'];
  for (const phase of ['silent', 'dropped']) {
    const known = await newsroom.count(0);
    // Some are on their way when it happens.
    const moving = [0, 1, 2].map((i) => `${phase}-moving-${i}`);
    const inHand = moving.map((key) => newsroom.write(0, key));
    if (phase === 'silent') network.stopForwarding();
    else network.drop();
    await Promise.all(inHand);
    const cut = [0, 1, 2].map((i) => `${phase}-cut-${i}`);
    for (const { isDone } of await Promise.all(cut.map((key) => newsroom.write(0, key))))
      expect(isDone).toBe(false);
    expect(await newsroom.count(0)).toBeGreaterThanOrEqual(known);
    // The other goes on, also with what the first one refused.
    if (phase === 'dropped') {
      await newsroom.writeAtLast('elsewhere', 1);
      const { state } = await newsroom.ask(1, LIST);
      const { status, body } = await newsroom.askWith(state, 0);
      expect([status, body.errors?.[0].extensions.code]).toEqual([503, 'UNAVAILABLE']);
      await newsroom.writeAtLast(cut[0], 1);
      keys.push('elsewhere');
    }
    keys.push(...moving, ...cut);
  }
  network.heal();
  for (const key of keys) await newsroom.writeAtLast(key);
  await newsroom.expectConverged(keys, before);
});

test('an answer that is lost after the change was committed: the key finds it, and nothing is done twice', async () => {
  const { network, newsroom } = await behindNetwork();
  const before = await newsroom.count(0);
  network.stopAnswersAfter('COMMIT');
  const { isDone, body } = await newsroom.write(0, 'lost-answer');
  expect([isDone, network.hasStoppedAnswers]).toEqual([false, true]);
  expect(body.errors?.[0].message).toContain('Whether the change was written is not known');
  // It was; whoever asks the other service under the key is told so.
  const { state } = await newsroom.writeAtLast('lost-answer', 1);
  const told = await newsroom.askWith(state, 1);
  expect(told.body.data.specimen.observations.totalCount).toBe(before + 1);
  network.heal();
  await newsroom.writeAtLast('lost-answer', 0);
  await newsroom.expectConverged(['lost-answer'], before);
});

test('a restart of the server under changes: both services go on answering, and no change is lost or double', async () => {
  const server = await PostgresServer.start();
  toClose.push(() => server.remove());
  const newsroom = await Newsroom.open([server.url(), server.url()], server.url());
  const before = await newsroom.count(0);
  const moving = Array.from({ length: 8 }, (_, i) => `moving-${i}`);
  const inHand = moving.map((key, i) => newsroom.write(i % 2, key));
  await Promise.race(inHand);
  await server.stop();
  await Promise.all(inHand);
  const away = ['away-0', 'away-1', 'away-2', 'away-3'];
  for (const { isDone } of await Promise.all(away.map((key, i) => newsroom.write(i % 2, key))))
    expect(isDone).toBe(false);
  for (const on of [0, 1]) expect(await newsroom.count(on)).toBeGreaterThanOrEqual(before);
  await server.start();
  for (const key of [...moving, ...away]) await newsroom.writeAtLast(key);
  await newsroom.expectConverged([...moving, ...away], before);
});
