import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { CATALOGUE, HIDDEN } from './invented.ts';
import { type Answer, archiveOf, type Served, serve } from './serving.ts';

let reader: Served;
let desk: Served;
beforeAll(async () => {
  const archive = await archiveOf();
  reader = await serve({ audience: 'reader' }, archive);
  desk = await serve({ audience: 'desk' }, archive);
});
afterAll(async () => {
  await reader.app.close();
  await desk.close();
});

/** The same answer with one id written as another, so that two answers can be held against each other. */
const renamed = (answer: Answer, id: string, as: string) =>
  JSON.parse(JSON.stringify(answer).replaceAll(id, as)) as Answer;

const COMPONENTS = ['tarn-hidden/a/U1'];
const OBSERVATIONS = ['veil-ring-1/a/o1'];
const DECISIONS = HIDDEN.devices.map((id) => `${id}:front-end-at-sensor`);

describe('to a reader, a hidden id and an unknown id are the same', () => {
  const LOOK_UPS: readonly (readonly [readonly string[], string])[] = [
    [HIDDEN.devices, 'query ($id: ID!) { device(id: $id) { id } node(id: $id) { id } }'],
    [HIDDEN.devices, 'query ($id: ID!) { compareDevices(ids: ["tarn-sennit-1", $id]) { sensors { kind } } }'],
    [HIDDEN.specimens, 'query ($id: ID!) { specimen(id: $id) { id } node(id: $id) { id } }'],
    [HIDDEN.specimens, 'query ($id: ID!) { compareDevices(ids: [$id]) { sensors { kind } } }'],
    [HIDDEN.inside, 'query ($id: ID!) { node(id: $id) { id } }'],
    [
      HIDDEN.makers,
      'query ($id: ID!) { maker(id: $id) { id } node(id: $id) { id } devices(filter: { makers: [$id] }) { totalCount } productLines(maker: $id) { totalCount } }',
    ],
    [
      HIDDEN.productLines,
      'query ($id: ID!) { productLine(id: $id) { id } generations(productLine: $id) { productLine { id } } devices(filter: { productLines: [$id] }) { totalCount } }',
    ],
    [HIDDEN.publications, 'query ($id: ID!) { publication(id: $id) { id } node(id: $id) { id } }'],
    [
      HIDDEN.devices,
      'query ($id: ID!) { similarDevices(id: $id) { comparedWith } decisions(device: $id) { totalCount } deviceChecks(device: $id) { probability } }',
    ],
    [
      HIDDEN.devices,
      'query ($id: ID!) { nextObservations(of: $id) { bits } impactOf(id: $id) { impacted { totalCount } } circuitDistance(from: "tarn-sennit-1", to: $id) { __typename } }',
    ],
    [DECISIONS, 'query ($id: ID!) { decision(id: $id) { probability } nextObservations(of: $id) { bits } }'],
    [DECISIONS, 'query ($id: ID!) { impactOf(id: $id) { impacted { totalCount } } node(id: $id) { id } }'],
    [
      COMPONENTS,
      'query ($id: ID!) { candidates(component: $id) { none } impactOf(id: $id) { impacted { totalCount } } }',
    ],
    [OBSERVATIONS, 'query ($id: ID!) { whatIf(change: { withdraw: $id }) { devices { totalCount } } }'],
    [
      COMPONENTS,
      'query ($id: ID!) { whatIf(change: { identify: { component: $id, candidates: [{ category: "Microphone", probability: 0.9 }] } }) { devices { totalCount } } }',
    ],
    [
      HIDDEN.makers,
      'query ($id: ID!) { trend(of: { share: { category: "Sensor" } }, filter: { makers: [$id] }) { __typename } }',
    ],
    [
      HIDDEN.publications,
      'query ($id: ID!) { auditClaims(publication: $id) { totalCount } impactOf(id: $id) { impacted { totalCount } } }',
    ],
  ];
  for (const [ids, query] of LOOK_UPS) {
    for (const id of ids) {
      test(`${id} in ${query.slice(query.indexOf('{'), 60)}`, async () => {
        const [device] = /^[^/:]+/u.exec(id) as RegExpExecArray;
        const never = id.replace(device, 'never-was');
        const hidden = await reader.answer(query, { id });
        const absent = await reader.answer(query, { id: never });
        expect(renamed(hidden, device, 'never-was')).toEqual(absent);
        // The desk does see it, so the look-up is a real one.
        expect(await desk.answer(query, { id })).not.toEqual(absent);
      });
    }
  }
});

test('no list, count, search, pattern or page shows a reader hidden records', async () => {
  const query = `{
    archive { devices specimens components makers productLines publications sequence treeHead changedAt firstYear lastYear }
    devices { totalCount nodes { id successors { id } maker { id } productLine { id devices { totalCount } } } }
    components { totalCount nodes { id } }
    makers { totalCount nodes { id devices { totalCount } productLines { nodes { id } } } }
    productLines { totalCount nodes { id } }
    publications { totalCount nodes { id claims { supportedBy { id } } } }
    parts { nodes { id specimens { totalCount nodes { specimen { id } } } components { totalCount } } }
    byWord: search(text: "${HIDDEN.word}") { totalCount }
    byName: search(text: "tarn") { totalCount nodes { id } }
    generations(productLine: "tarn-sennit") { generations { device { id } successors { id } } }
    findPattern(id: "front-end-at-sensor") { totalCount certainCount expectedCount nodes { device { id } } }
  }`;
  const seen = await reader.ask(query);
  const all = await desk.ask(query);
  const text = JSON.stringify(seen);
  for (const id of [...HIDDEN.devices, ...HIDDEN.makers, ...HIDDEN.productLines, ...HIDDEN.publications]) {
    expect(text).not.toContain(`"${id}`);
    expect(JSON.stringify(all)).toContain(`"${id}`);
  }
  expect(seen.archive).toMatchObject({
    devices: 4,
    specimens: 5,
    sequence: null,
    treeHead: null,
    changedAt: null,
    lastYear: 2020,
  });
  expect(all.archive).toMatchObject({
    devices: 6,
    specimens: 7,
    sequence: expect.any(Number),
    treeHead: expect.stringMatching(/^[0-9a-f]{64}$/u),
    lastYear: 2023,
  });
  expect([seen.byWord.totalCount, all.byWord.totalCount > 0]).toEqual([0, true]);
  expect([seen.findPattern.totalCount, all.findPattern.totalCount]).toEqual([4, 6]);
  const start = await reader.app.inject('/');
  expect(start.statusCode).toBe(200);
  for (const word of [HIDDEN.word, ...HIDDEN.devices, ...HIDDEN.productLines])
    expect(start.body).not.toContain(word);
  expect((await desk.app.inject('/')).body).toContain(HIDDEN.word);
});

test('no decision, audit, trend, cluster, likeness or structure tells a reader of hidden records', async () => {
  const query = `{
    decisions(pattern: "front-end-at-sensor") { nodes { id observations { id } supportedBy { id } } }
    auditClaims(includeFitting: true) { nodes { claim { id } support { items { id description } } findings { message } } }
    trend(of: { share: { category: "Sensor" } }, by: BODY_SITE) { cautions total { verdict { sentence } } firstAdopters { device { id } } }
    deviceClusters { clusters { members { nodes { device { id } } } } }
    similarDevices(id: "tarn-sennit-1", first: 50) { comparedWith devices { device { id } } }
    compareDevices(ids: ["tarn-sennit-1", "tarn-sennit-2"]) { sections { rows { label cells { note } } } }
    structures(minSupport: 2, minSize: 2, without: []) { devices structures { support } }
    impactOf(id: "ostrel/OS7") { impacted { totalCount nodes { id description path } } }
    corrections { nodes { id } }
  }`;
  const [seen, all] = [await reader.ask(query), await desk.ask(query)];
  const text = JSON.stringify(seen);
  for (const id of [...HIDDEN.devices, ...HIDDEN.makers, ...HIDDEN.productLines, ...HIDDEN.publications])
    expect(text).not.toMatch(new RegExp(`"${id}\\b`, 'u'));
  expect(text).not.toContain(HIDDEN.word);
  expect([seen.similarDevices.comparedWith, all.similarDevices.comparedWith]).toEqual([3, 5]);
  expect([seen.decisions.nodes.length, all.decisions.nodes.length]).toEqual([4, 6]);
  expect(seen.structures.devices).toBeLessThan(all.structures.devices);
  expect(seen.impactOf.impacted.totalCount).toBeLessThan(all.impactOf.impacted.totalCount);
  for (const id of HIDDEN.devices) expect(JSON.stringify(all)).toContain(`"${id}`);
});

test('an earlier instant hides the same, and a future instant cannot lift an embargo', async () => {
  const query =
    'query ($t: DateTime!) { asOf(instant: $t) { devices { totalCount } device(id: "tarn-hidden") { id } } }';
  const past = await reader.ask(query, { t: new Date().toISOString() });
  expect(past.asOf).toEqual({ devices: { totalCount: 4 }, device: null });
  const early = await reader.answer(query, { t: '2001-01-01T00:00:00Z' });
  expect(early.errors?.[0].message).toContain('the archive held nothing to see');
  const { data, errors } = await reader.answer(query, { t: '3000-01-01T00:00:00Z' });
  expect(data).toEqual({ asOf: null });
  expect(errors?.[0].message).toContain('lies in the future');
});

test('a service for readers accepts no change of any kind, and writes nothing', async () => {
  const letter = {
    ...CATALOGUE,
    publications: [{ ...CATALOGUE.publications?.[1], visibility: 'published' }],
  };
  const CHANGES: readonly (readonly [string, object])[] = [
    [
      'mutation ($files: [FileInput!]!) { importDossier(input: { files: $files, actor: "x", reason: "y" }) { entries } }',
      { files: [{ name: 'letter.json', text: JSON.stringify(letter) }] },
    ],
    [
      'mutation ($files: [TradeFileInput!]!) { importTradeFiles(input: { files: $files, device: "tarn-sennit-1", specimen: "a", actor: "x", reason: "y" }) { entries } }',
      { files: [{ name: 'bom.csv', text: 'Ref,Value\nR1,4k7\n' }] },
    ],
    [
      'mutation ($id: ID!) { recordObservation(input: { specimen: $id, observation: { id: "n1", about: ["U1"], kind: MARKING }, actor: "x", reason: "y" }) { entry { id } } }',
      { id: 'tarn-sennit-1/a' },
    ],
    [
      `mutation ($id: ID!) { addPhoto(input: { specimen: $id, id: "n1", sha256: "${'ab12'.repeat(16)}", credit: "A", licence: "CC0-1.0", actor: "x", reason: "y" }) { entry { id } } }`,
      { id: 'tarn-sennit-1/a' },
    ],
    [
      'mutation ($id: ID!) { changePhoto(input: { photo: $id, caption: "n", actor: "x", reason: "y" }) { entry { id } } }',
      { id: 'tarn-sennit-1/a/p1' },
    ],
    [
      'mutation ($id: ID!) { recordMeasurement(input: { photo: $id, component: "U1", kind: POSITION, id: "n1", actor: "x", reason: "y" }) { entry { id } } }',
      { id: 'tarn-sennit-1/a/p1' },
    ],
    [
      'mutation ($id: ID!) { setIdentification(input: { specimen: $id, identification: { component: "U1", candidates: [{ part: "ostrel/OS7", probability: 1 }] }, actor: "x", reason: "y" }) { entry { id } } }',
      { id: 'tarn-sennit-1/a' },
    ],
    [
      'mutation ($id: ID!) { judgeIdentification(input: { component: $id, part: "ostrel/OS7", decibans: 3, actor: "x", reason: "y" }) { entry { id } } }',
      { id: 'tarn-sennit-1/a/U1' },
    ],
    [
      'mutation ($id: ID!) { withdrawObservation(input: { specimen: $id, observation: "o1", actor: "x", reason: "y" }) { entry { id } } }',
      { id: 'tarn-sennit-1/a' },
    ],
    [
      'mutation ($id: ID!) { judgeDecision(input: { decision: $id, verdict: DOUBTED, actor: "x", reason: "y" }) { entry { id } } }',
      { id: 'tarn-sennit-2:front-end-at-sensor' },
    ],
    [
      'mutation ($id: ID!) { recall(input: { id: $id, actor: "x", reason: "y" }) { ids } }',
      { id: 'tarn-sennit-1' },
    ],
    [
      'mutation ($id: ID!) { correct(input: { change: { withdraw: $id }, actor: "x", reason: "y" }) { entry { id } } }',
      { id: 'tarn-sennit-1/a/o1' },
    ],
    [
      'mutation { correctClock(input: { first: 1, last: 1, at: "2026-01-01T00:00:00Z", actor: "x", reason: "y" }) { entry { id } } }',
      {},
    ],
    ['mutation { disablePerson(input: { name: "x" }) { person { name } } }', {}],
    [
      'mutation { saveFeed(input: { id: "new-feed", title: "t", question: "{ archive { devices } }", actor: "x", reason: "y" }) { entry { id } } }',
      {},
    ],
    [
      'mutation { saveListMapping(input: { id: "new-mapping", title: "t", columns: [{ heading: "Kind", field: "value" }], actor: "x", reason: "y" }) { entry { id } } }',
      {},
    ],
    [
      'mutation { registerWebhook(input: { feed: "x", address: "https://desk.example.org/" }) { secret } }',
      {},
    ],
    ['mutation { rotateWebhookSecret(input: { id: "x" }) { secret } }', {}],
    ['mutation { resumeWebhook(input: { id: "x" }) { webhook { id } } }', {}],
    ['mutation { testWebhook(input: { id: "x" }) { message { id } } }', {}],
    ['mutation { removeWebhook(input: { id: "x" }) { id } }', {}],
    ['mutation { revokeToken(input: { id: "x" }) { id } }', {}],
    [
      'mutation { savePattern(input: { id: "new-one", name: "n", idea: "i", text: "MATCH (x:Sensor) RETURN x", reasons: ["r"], actor: "x", reason: "y" }) { entry { id } } }',
      {},
    ],
  ];
  const fields = await desk.ask('{ __schema { mutationType { fields { name } } } }');
  const named = CHANGES.map(([text]) => /\{ (\w+)\(/u.exec(text)?.[1]);
  expect(named.toSorted()).toEqual(
    fields.__schema.mutationType.fields.map(({ name }: { name: string }) => name).toSorted(),
  );
  const before = desk.archive.version;
  for (const [query, variables] of CHANGES) {
    // As written, and compiled.
    for (let i = 0; i < 4; i++) {
      const { data, errors } = await reader.answer(query, variables);
      expect([data, errors?.[0].extensions.code, errors?.[0].message]).toEqual([
        undefined,
        'NOT_ALLOWED',
        'This service answers readers and takes no changes; ask one for the desk',
      ]);
    }
  }
  expect(desk.archive.version).toBe(before);
  const tried = 'query ($id: ID!) { whatIf(change: { withdraw: $id }) { devices { totalCount } } }';
  expect((await reader.answer(tried, { id: 'tarn-sennit-1/a/o1' })).errors).toBeUndefined();
});
