import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { Archive } from '../../src/archive.ts';
import type { Journal } from '../../src/journal/journal.ts';
import { StateTokens } from '../../src/service/server/state-token.ts';
import { type SharedStore, STORES } from '../archive/stores.ts';
import { dossier } from './invented.ts';
import { type Answer, archiveOf, BY, documentOf, type Served, serve } from './serving.ts';

const RECORD = `mutation Record($id: String!) {
  recordObservation(input: {
    specimen: "tarn-sennit-2/a", reason: "again",
    observation: { id: $id, about: ["U2"], kind: APPEARANCE, text: "Matt lid." }
  }) { entry { sequence id } observation { id text } }
}`;
const COUNT = '{ specimen(id: "tarn-sennit-2/a") { observations { totalCount } } }';

describe.each(Object.entries(STORES))('two services on %s', (_, newStore) => {
  let store: SharedStore;
  let journals: Journal[];
  let served: Served[];
  beforeAll(async () => {
    store = await newStore();
    journals = [store.open(), store.open()];
    const first = await archiveOf(undefined, journals[0]);
    const second = await Archive.open(journals[1]);
    served = [await serve({ audience: 'desk' }, first), await serve({ audience: 'desk' }, second)];
  });
  afterAll(async () => {
    for (const one of served) await one.close();
    await store.remove();
  });

  /** Asks one of the services, which follow nothing by themselves here. */
  async function ask(on: number, query: string, variables?: object, headers: object = {}, state?: string) {
    const response = await served[on].app.inject({
      method: 'POST',
      url: '/graphql',
      headers: { accept: 'application/graphql-response+json', ...headers },
      payload: { query, variables, ...(state && { extensions: { state } }) },
    });
    const body = response.json() as Answer & { extensions?: { state?: string } };
    return { status: response.statusCode, body, state: response.headers['caseback-state'] as string };
  }
  const observed = async (...of: Parameters<typeof ask>) =>
    (await ask(...of)).body.data.specimen.observations.totalCount as number;

  test('whoever wrote at one sees it at the other, by the token of the answer', async () => {
    const before = await observed(1, COUNT);
    const written = await ask(0, RECORD, { id: 'by-header' });
    expect(written.body.extensions?.state).toBe(written.state);
    // Without a token the other need not know yet; with one it must, by header or in the request.
    expect(await observed(1, COUNT, undefined, { 'caseback-state': written.state })).toBe(before + 1);
    const next = await ask(1, RECORD, { id: 'by-extension' });
    expect(await observed(0, COUNT, undefined, {}, next.state)).toBe(before + 2);
    expect((await ask(0, COUNT, undefined, {}, next.state)).body.extensions?.state).toMatch(/^[\w-]{54}$/u);
    // Who asks without one gets nothing but the answer.
    expect(Object.keys((await ask(0, COUNT)).body)).toEqual(['data']);
  });

  test('a token of another archive, or one that was changed, is refused', async () => {
    const { state } = await ask(0, COUNT);
    const other = new StateTokens(Buffer.alloc(32, 7)).seal(1);
    const changed = Array.from(state, (letter, i) => [...state].with(i, letter === 'A' ? 'B' : 'A').join(''));
    for (const wrong of [other, '', `${state}A`, state.slice(1), ...changed]) {
      const { status, body } = await ask(0, COUNT, undefined, { 'caseback-state': wrong });
      expect([status, body.errors?.[0].extensions.code], wrong).toEqual([400, 'BAD_INPUT']);
    }
  });

  test('a change asked of both under one key is made once, with one answer', async () => {
    const key = { 'idempotency-key': '"8e03978e-40d5-43dd-bc93-6894a57f9324"' };
    const answers = await Promise.all([0, 1, 0].map((on) => ask(on, RECORD, { id: 'once' }, key)));
    for (const { status, body } of answers) {
      expect(status).toBe(200);
      expect(body.data).toEqual(answers[0].body.data);
    }
    await ask(1, RECORD, { id: 'later' });
    expect((await ask(1, RECORD, { id: 'once' }, key)).body.data).toEqual(answers[0].body.data);
    // Bare, as many clients send it, it is the same key.
    const bare = { 'idempotency-key': '8e03978e-40d5-43dd-bc93-6894a57f9324' };
    expect((await ask(0, RECORD, { id: 'once' }, bare)).body.data).toEqual(answers[0].body.data);
    const other = await ask(0, RECORD, { id: 'another' }, key);
    expect([other.status, other.body.errors?.[0].extensions.code]).toEqual([409, 'CONFLICT']);
    // A question under the key is just a question.
    expect((await ask(0, COUNT, undefined, key)).status).toBe(200);
  });

  test('a key is for one change, and has a form', async () => {
    const two = RECORD.replace('recordObservation(', 'a: recordObservation(').replace(
      /\}\s*$/u,
      '...More } fragment More on Mutation { b: recordObservation(input: { specimen: "x/a", reason: "b", observation: { id: "q", about: [], kind: APPEARANCE } }) { entry { id } } }',
    );
    const { status, body } = await ask(0, two, { id: 'two' }, { 'idempotency-key': '"k"' });
    expect([status, body.errors?.[0].extensions.code]).toEqual([400, 'BAD_INPUT']);
    expect(body.errors?.[0].message).toContain('2 changes');
    for (const wrong of ['""', '"a', 'a b', `"${'x'.repeat(201)}"`, 'ä']) {
      const refused = await ask(0, RECORD, { id: 'formless' }, { 'idempotency-key': wrong });
      expect([refused.status, refused.body.errors?.[0].message], wrong).toEqual([
        400,
        expect.stringContaining('Idempotency-Key'),
      ]);
    }
  });

  test('tokens of readers are alike in length, never repeat, and know nothing of what is hidden', async () => {
    const tokens = new StateTokens((await journals[0].secret()) as Uint8Array);
    const reading = await serve({ audience: 'reader' }, served[0].archive);
    const take = async () =>
      (await reading.app.inject({ method: 'POST', url: '/graphql', payload: { query: COUNT } })).headers[
        'caseback-state'
      ] as string;
    await served[0].archive.follow();
    const before = [await take(), await take()];
    const hidden = dossier({
      id: 'tarn-veiled',
      name: 'Veiled',
      released: '2024',
      more: { visibility: 'draft' },
    });
    await served[0].archive.importDocuments([documentOf(hidden)], BY);
    const after = [await take(), await take()];
    const all = [...before, ...after];
    expect(new Set(all).size).toBe(4);
    expect(new Set(all.map(({ length }) => length))).toEqual(new Set([54]));
    // What only those who have the store can read is the same, although the journal went on.
    expect(new Set(all.map((token) => tokens.open(token))).size).toBe(1);
    expect(tokens.open(all[3])).toBeLessThan(served[0].archive.version);
    await ask(0, RECORD, { id: 'for-readers' });
    expect(tokens.open(await take())).toBe(served[0].archive.version);
    await reading.app.close();
  });
});

test('tokens hide the sequence: every bit of one changes with each token of the same sequence', () => {
  const tokens = new StateTokens(Buffer.alloc(32, 1));
  const bytes = Array.from({ length: 400 }, () => Buffer.from(tokens.seal(5), 'base64url'));
  for (let bit = 0; bit < 320; bit++) {
    const ones = bytes.filter((one) => (one[bit >> 3] >> (7 - (bit & 7))) & 1).length;
    // Binomial(400, 1/2) leaves 100 to 300 about once in 10^23.
    expect(ones, `bit ${bit}`).toBeGreaterThan(100);
    expect(ones, `bit ${bit}`).toBeLessThan(300);
  }
  for (const sequence of [0, 1, 2 ** 32 + 5, Number.MAX_SAFE_INTEGER])
    expect(tokens.open(tokens.seal(sequence))).toBe(sequence);
});
