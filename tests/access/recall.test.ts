import { afterAll, beforeAll, expect, test } from 'vitest';
import { type ServedPeople, servePeople } from './people-served.ts';

// What an editor recalls by GraphQL, as visitors see it.

let served: ServedPeople;
beforeAll(async () => {
  served = await servePeople();
});
afterAll(() => served.close());

async function ask(
  query: string,
  { by, ...variables }: { by?: 'contributor' | 'editor'; [name: string]: unknown } = {},
) {
  const response = await served.app.inject({
    method: 'POST',
    url: '/graphql',
    headers: {
      accept: 'application/graphql-response+json',
      ...(by ? { authorization: `Bearer ${served.tokens[by]}` } : {}),
    },
    payload: { query, variables },
  });
  return response.json();
}

const ID = 'tarn-lobe-2';
const record = (more: object = {}) => ({
  caseback: 'catalogue/1',
  devices: [{ id: ID, name: 'Tarn Lobe 2', maker: 'tarn', released: '2022', bodySite: 'ear', ...more }],
});
const READERS = 'readers { addedCount added changedCount changed goneCount gone }';
const NO_DIFFERENCE = { addedCount: 0, added: [], changedCount: 0, changed: [], goneCount: 0, gone: [] };

async function file(more: object = {}) {
  const { data, errors } = await ask(
    `mutation ($text: String!) { importDossier(input: { files: [{ name: "x.json", text: $text }], reason: "filed" }) { entry { instant } ${READERS} } }`,
    { by: 'editor', text: JSON.stringify(record(more)) },
  );
  expect(errors).toBeUndefined();
  return data.importDossier;
}
const recall = (by?: 'contributor' | 'editor') =>
  ask(
    `mutation { recall(input: { id: "${ID}", reason: "disputed" }) { ids entry { instant actor } ${READERS} } }`,
    by ? { by } : {},
  );
const seen = async (by?: 'editor') =>
  (await ask(`{ device(id: "${ID}") { name } }`, by ? { by } : {})).data.device?.name;
const seenAsOf = async (instant: string, by?: 'editor') =>
  (
    await ask(`query ($instant: DateTime!) { asOf(instant: $instant) { device(id: "${ID}") { name } } }`, {
      ...(by ? { by } : {}),
      instant,
    })
  ).data.asOf.device?.name;

test('a published device that is recalled is gone for readers now and before, and comes back when filed again', async () => {
  const filed = await file();
  expect(filed.readers).toEqual({ ...NO_DIFFERENCE, addedCount: 1, added: [ID] });
  expect([await seen(), await seenAsOf(filed.entry.instant)]).toEqual(['Tarn Lobe 2', 'Tarn Lobe 2']);

  for (const by of ['contributor', undefined] as const) {
    const { errors } = await recall(by);
    expect(errors[0].extensions.code).toBe(by ? 'NOT_ALLOWED' : 'SIGNED_OUT');
  }
  expect(await seen()).toBe('Tarn Lobe 2');

  const { recall: recalled } = (await recall('editor')).data;
  expect([recalled.ids, recalled.entry.actor]).toEqual([[ID], 'editor']);
  expect(recalled.readers).toEqual({ ...NO_DIFFERENCE, goneCount: 1, gone: [ID] });
  expect([await seen(), await seenAsOf(filed.entry.instant)]).toEqual([undefined, undefined]);
  expect([await seen('editor'), await seenAsOf(filed.entry.instant, 'editor')]).toEqual([
    'Tarn Lobe 2',
    'Tarn Lobe 2',
  ]);

  // A draft does not bring it back.
  expect((await file({ name: 'Tarn Lobe 2 B', visibility: 'draft' })).readers).toEqual(NO_DIFFERENCE);
  expect([await seen(), await seen('editor')]).toEqual([undefined, 'Tarn Lobe 2 B']);

  const again = await file({ name: 'Tarn Lobe 2 C' });
  expect(again.readers).toEqual({ ...NO_DIFFERENCE, addedCount: 1, added: [ID] });
  expect([await seen(), await seenAsOf(again.entry.instant)]).toEqual(['Tarn Lobe 2 C', 'Tarn Lobe 2 C']);
  expect(await seenAsOf(filed.entry.instant)).toBeUndefined();
});

test('a change of what readers see is reported as such, and a draft beside it as no difference', async () => {
  expect((await file({ name: 'Renamed' })).readers).toEqual({
    ...NO_DIFFERENCE,
    changedCount: 1,
    changed: [ID],
  });
  expect((await file({ name: 'Not yet', visibility: 'draft' })).readers).toEqual(NO_DIFFERENCE);
  expect(await seen()).toBe('Renamed');
});

test('a sentence that rested on it alone stays, and its audit tells readers that its support was withdrawn, of nothing by name', async () => {
  await file();
  const publication = {
    id: 'ear-notes',
    kind: 'article',
    title: 'Ear notes',
    claims: [{ id: 'c1', sentence: 'It is worn at the ear.', supportedBy: [ID] }],
  };
  const { errors } = await ask(
    'mutation ($text: String!) { importDossier(input: { files: [{ name: "x.json", text: $text }], reason: "filed" }) { entry { instant } } }',
    { by: 'editor', text: JSON.stringify({ caseback: 'catalogue/1', publications: [publication] }) },
  );
  expect(errors).toBeUndefined();
  const audited = async (by?: 'editor') =>
    (
      await ask(
        '{ auditClaims(publication: "ear-notes") { nodes { claim { sentence supportedBy { id } } support { items { id } } findings { kind message } } } }',
        by ? { by } : {},
      )
    ).data.auditClaims.nodes;
  const desk = await audited('editor');
  expect(JSON.stringify(await audited())).toContain(ID);
  await recall('editor');

  const [told] = await audited();
  expect(told).toMatchObject({
    claim: { sentence: 'It is worn at the ear.', supportedBy: [] },
    findings: [{ kind: 'WITHDRAWN', message: expect.stringContaining('was withdrawn') }],
  });
  expect(JSON.stringify(told)).not.toMatch(/tarn|lobe/iu);
  expect(JSON.stringify(await audited('editor'))).toContain(ID);
  expect(await audited('editor')).toEqual(desk);
});
