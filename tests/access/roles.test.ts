import { isInputObjectType, isNonNullType } from 'graphql/index.js';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { ROLES, type Role } from '../../src/access/roles.ts';
import { readSchema } from '../../src/api-schema/read-schema.ts';
import { MUTATION_ROLES } from '../../src/service/graphql/permissions.ts';
import type { Answer } from '../service/serving.ts';
import { type ServedPeople, servePeople } from './people-served.ts';

let served: ServedPeople;
beforeAll(async () => {
  served = await servePeople();
});
afterAll(() => served.close());

async function ask(role: Role | undefined, query: string, variables?: object): Promise<Answer> {
  const response = await served.app.inject({
    method: 'POST',
    url: '/graphql',
    headers: {
      accept: 'application/graphql-response+json',
      ...(role ? { authorization: `Bearer ${served.tokens[role]}` } : {}),
    },
    payload: { query, variables },
  });
  return response.json() as Answer;
}

// Who may do what, as the guide has it, written down apart from the code; each with an input that is about nothing there is,
// so that whoever may gets as far as another refusal. A mutation that is missing here fails the first test.
const WHY = 'reason: "why"';
const MUTATIONS: Readonly<Record<string, readonly [role: Role, input: string]>> = {
  importDossier: ['contributor', `files: [], ${WHY}`],
  importTradeFiles: [
    'contributor',
    `files: [{ name: "x.csv", text: "none" }], device: "no-such", specimen: "a", ${WHY}`,
  ],
  recordObservation: [
    'contributor',
    `specimen: "no-such/a", observation: { id: "n", about: ["U1"], kind: APPEARANCE, text: "Matt." }, ${WHY}`,
  ],
  addPhoto: [
    'contributor',
    `specimen: "no-such/a", id: "n", sha256: "${'ab12'.repeat(16)}", credit: "A. Example", licence: "CC0-1.0", ${WHY}`,
  ],
  changePhoto: ['contributor', `photo: "no-such/a/n", caption: "Another.", ${WHY}`],
  recordMeasurement: [
    'contributor',
    `photo: "no-such/a/n", component: "U1", kind: BODY_SIZE, id: "n", ${WHY}`,
  ],
  withdrawObservation: ['contributor', `specimen: "no-such/a", observation: "n", ${WHY}`],
  setIdentification: [
    'contributor',
    `specimen: "no-such/a", identification: { component: "U1", candidates: [{ category: "Sensor", probability: 1 }] }, ${WHY}`,
  ],
  judgeIdentification: [
    'contributor',
    `component: "no-such/a/U1", part: "quistle/QWR4T10", decibans: 3, ${WHY}`,
  ],
  judgeDecision: ['contributor', `decision: "no-such:pattern", verdict: DOUBTED, ${WHY}`],
  savePattern: [
    'editor',
    `id: "front-end-at-sensor", name: "n", idea: "i", text: "MATCH (x:Sensor) RETURN x", reasons: ["r"], ${WHY}`,
  ],
  saveFeed: ['editor', `id: "no-such", title: "t", question: "{ unknown }", ${WHY}`],
  saveListMapping: ['editor', `id: "no-such", title: "t", columns: [], ${WHY}`],
  registerWebhook: ['editor', 'feed: "no-such", address: "https://desk.example.org/"'],
  rotateWebhookSecret: ['editor', 'id: "no-such"'],
  resumeWebhook: ['editor', 'id: "no-such"'],
  testWebhook: ['editor', 'id: "no-such"'],
  removeWebhook: ['editor', 'id: "no-such"'],
  correctClock: ['administrator', `first: 1, last: 1, at: "9999-01-01T00:00:00Z", ${WHY}`],
  disablePerson: ['administrator', 'name: "Nobody Here"'],
  revokeToken: ['administrator', 'id: "no-such"'],
  recall: ['editor', `id: "no-such", ${WHY}`],
  correct: ['editor', `change: { withdraw: "no-such/a/n" }, ${WHY}`],
};

const mutations = Object.values(readSchema().getMutationType()?.getFields() ?? {});

test('every mutation of the schema has a role here and in the service, and they agree', () => {
  const names = mutations.map(({ name }) => name).toSorted();
  expect(Object.keys(MUTATIONS).toSorted()).toEqual(names);
  expect(MUTATION_ROLES).toEqual(
    Object.fromEntries(Object.entries(MUTATIONS).map(([name, [role]]) => [name, role])),
  );
});

describe.each(Object.entries(MUTATIONS))('%s', (name, [needed, input]) => {
  const field = mutations.find((one) => one.name === name);
  const payload = field && readSchema().getType(String(field.type));
  const query = `mutation { ${name}(input: { ${input} }) { __typename } }`;

  test.each(ROLES)(`takes ${needed}, asked by a %s`, async (role) => {
    expect(payload).toBeDefined();
    const before = served.archive.version;
    const { errors } = await ask(role, query);
    const code = errors?.[0].extensions.code;
    const may = ROLES.indexOf(role) >= ROLES.indexOf(needed);
    if (may) expect([undefined, 'NOT_FOUND', 'BAD_INPUT', 'BAD_FILE', 'CONFLICT']).toContain(code);
    else expect(code).toBe('NOT_ALLOWED');
    expect(served.archive.version).toBe(before);
  });

  test('asked by a visitor', async () => {
    expect((await ask(undefined, query)).errors?.[0].extensions.code).toBe('SIGNED_OUT');
  });
});

test('no input demands an actor, and every one that takes an actor refuses all but the signed-in name', async () => {
  let count = 0;
  for (const { name, args } of mutations) {
    const type = isNonNullType(args[0].type) ? args[0].type.ofType : args[0].type;
    const actor = isInputObjectType(type) ? type.getFields().actor : undefined;
    if (!actor) continue;
    count++;
    expect(String(actor.type), name).toBe('String');
    const [, input] = MUTATIONS[name];
    for (const other of ['editor', 'Administrator', '']) {
      const { errors } = await ask(
        'administrator',
        `mutation { ${name}(input: { ${input}, actor: "${other}" }) { __typename } }`,
      );
      // What cannot be read is refused before it is anybody's.
      expect(['NOT_ALLOWED', 'BAD_FILE', 'BAD_INPUT'], `${name} ${other}`).toContain(
        errors?.[0].extensions.code,
      );
      expect(errors?.[0].extensions.code === 'NOT_ALLOWED' || name.startsWith('import'), name).toBe(true);
    }
  }
  expect(count).toBe(16);
});

describe('a contributor', () => {
  const importing = (role: Role, record: object) =>
    ask(
      role,
      `mutation ($text: String!) { importDossier(input: { files: [{ name: "x.json", text: $text }], ${WHY} }) { entries entry { actor } } }`,
      { text: JSON.stringify(record) },
    );
  const publication = (visibility: string | undefined, title = 'Inside') => ({
    caseback: 'catalogue/1',
    publications: [
      {
        id: 'bench-notes',
        kind: 'article',
        title,
        ...(visibility ? { visibility } : {}),
        claims: [{ id: 'c1', sentence: 'It senses.', supportedBy: ['tarn-sennit-1/a/U1'] }],
      },
    ],
  });

  test('imports drafts, publishes nothing, and changes nothing that is published', async () => {
    const refused = await importing('contributor', publication(undefined));
    expect(refused.errors?.[0].extensions).toMatchObject({
      code: 'NOT_ALLOWED',
      problems: [{ path: 'bench-notes', what: 'would be published' }],
    });
    expect((await importing('contributor', publication('draft'))).data.importDossier.entry.actor).toBe(
      'contributor',
    );
    expect(
      (await importing('contributor', publication('draft', 'Inside it'))).data.importDossier.entries,
    ).toBe(1);
    expect((await importing('editor', publication('published'))).data.importDossier.entries).toBe(1);
    // Neither withdrawn from readers nor written over.
    for (const visibility of ['draft', 'published', undefined]) {
      const { errors } = await importing('contributor', publication(visibility, 'Otherwise'));
      expect(errors?.[0].extensions).toMatchObject({
        code: 'NOT_ALLOWED',
        problems: [
          {
            path: 'bench-notes',
            what: 'is not a draft in the archive',
            fix: expect.stringContaining('file a draft beside it'),
          },
        ],
      });
    }
  });

  test('works on a draft that an editor opened beside what is published, which stays', async () => {
    const title = async (role?: Role) =>
      (await ask(role, '{ publication(id: "bench-notes") { title } }')).data.publication.title;
    const before = await title();
    expect((await importing('editor', publication('draft', 'Opened'))).data.importDossier.entries).toBe(1);
    const { data } = await importing('contributor', publication('draft', 'Worked on'));
    expect(data.importDossier).toMatchObject({ entries: 1, entry: { actor: 'contributor' } });
    expect(await title('contributor')).toBe('Worked on');
    expect(await title()).toBe(before);
    expect(
      (await importing('contributor', publication('published', 'Out'))).errors?.[0].extensions,
    ).toMatchObject({
      code: 'NOT_ALLOWED',
      problems: [{ what: 'would be published' }],
    });
  });

  describe('publishes nothing by a part of a draft', () => {
    const draft = (claims: readonly object[]) => ({
      caseback: 'catalogue/1',
      publications: [{ id: 'held-notes', kind: 'article', title: 'Held', visibility: 'draft', claims }],
    });
    const claim = (id: string, more: object = {}, sentence = `It senses (${id}).`) => ({
      id,
      sentence,
      supportedBy: ['tarn-sennit-1/a/U1'],
      ...more,
    });
    const dossier = (identifications: readonly object[]) => ({
      caseback: 'dossier/1',
      device: 'tarn-sennit-1',
      specimen: { id: 'held' },
      teardown: { on: '2024-01-05', by: 'I. Example', steps: [{ do: 'Cut the seal.' }] },
      visibility: 'draft',
      boards: [{ id: 'main', kind: 'rigid' }],
      components: [{ id: 'U1', board: 'main', side: 'top' }],
      identifications,
    });
    const conclusion = (more: object = {}, probability = 0.5) => ({
      component: 'U1',
      candidates: [{ category: 'Accelerometer', probability }],
      ...more,
    });
    const DRAFT = { visibility: 'draft' };
    const UNTIL = { visibility: 'embargoed', embargoUntil: '2099-01-01T00:00:00Z' };
    const SOONER = { visibility: 'embargoed', embargoUntil: '2098-01-01T00:00:00Z' };
    const PUBLISHED = { visibility: 'published' };
    /** What the archive says of a part, what a contributor writes, and whether that may be. */
    const CASES: readonly (readonly [before: object | undefined, now: object, may: boolean])[] = [
      [undefined, {}, true],
      [undefined, DRAFT, true],
      [undefined, UNTIL, false],
      [undefined, PUBLISHED, false],
      [{}, DRAFT, true],
      [{}, UNTIL, false],
      [DRAFT, DRAFT, true],
      [DRAFT, {}, false],
      [DRAFT, PUBLISHED, false],
      [DRAFT, UNTIL, false],
      [UNTIL, UNTIL, true],
      [UNTIL, DRAFT, true],
      [UNTIL, SOONER, false],
      [UNTIL, {}, false],
    ];

    test.each(
      CASES.flatMap(([before, now, may]) =>
        (['claim', 'identification'] as const).map((kind) => [kind, before, now, may] as const),
      ),
    )('%s: %j, then %j', async (kind, before, now, may) => {
      const record = (mark: object | undefined) => {
        const given = mark === undefined ? [] : [mark];
        return kind === 'claim'
          ? draft([claim('kept'), ...given.map((one) => claim('c1', one))])
          : dossier(given.map((one) => conclusion(one)));
      };
      expect((await importing('editor', record(before))).errors).toBeUndefined();
      const { errors } = await importing('contributor', record(now));
      const path = kind === 'claim' ? 'held-notes/c1' : 'tarn-sennit-1/held/U1';
      if (may) expect(errors).toBeUndefined();
      else expect(errors?.[0].extensions).toMatchObject({ code: 'NOT_ALLOWED', problems: [{ path }] });
    });

    test('also not by writing anew what an editor hid', async () => {
      await importing('editor', draft([claim('c1', DRAFT, 'It is hidden.')]));
      expect(
        (await importing('contributor', draft([claim('c2', {}, 'It is hidden.')]))).errors?.[0].extensions
          .code,
      ).toBe('NOT_ALLOWED');
      await importing('editor', dossier([conclusion(DRAFT)]));
      expect(
        (await importing('contributor', dossier([conclusion({}, 0.6)]))).errors?.[0].extensions.code,
      ).toBe('NOT_ALLOWED');
    });
  });

  test('withdraws what they recorded, and leaves to editors what others did', async () => {
    const record = (role: Role, id: string) =>
      ask(
        role,
        `mutation { recordObservation(input: { specimen: "tarn-sennit-1/a", observation: { id: "${id}", about: ["U1"], kind: APPEARANCE, text: "Matt." }, ${WHY} }) { entry { actor } } }`,
      );
    const withdraw = async (role: Role, id: string) =>
      (
        await ask(
          role,
          `mutation { withdrawObservation(input: { specimen: "tarn-sennit-1/a", observation: "${id}", ${WHY} }) { entry { actor } } }`,
        )
      ).errors?.[0].extensions.code;
    expect((await record('contributor', 'mine')).data.recordObservation.entry.actor).toBe('contributor');
    await record('editor', 'theirs');
    expect(await withdraw('contributor', 'mine')).toBeUndefined();
    expect(await withdraw('contributor', 'theirs')).toBe('NOT_ALLOWED');
    // Filed with the dossier.
    expect(await withdraw('contributor', 'o1')).toBe('NOT_ALLOWED');
    expect(await withdraw('editor', 'theirs')).toBeUndefined();
  });
});

test('readers with an account see what visitors see; contributors and above see everything', async () => {
  const query = '{ archive { devices sequence } devices(first: 500) { nodes { id } } }';
  const seen = async (role?: Role) => JSON.stringify(await ask(role, query));
  const visitor = await seen();
  expect(await seen('reader')).toBe(visitor);
  const desk = await seen('contributor');
  expect(desk).not.toBe(visitor);
  expect([await seen('editor'), await seen('administrator')]).toEqual([desk, desk]);
});
