import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { HIDDEN } from './invented.ts';
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

const COMPONENTS = ['tarn-secret/a/U1'];
const OBSERVATIONS = ['veil-ring-1/a/o1'];
const DECISIONS = HIDDEN.devices.map((id) => `${id}:front-end-at-sensor`);

describe('to a reader, a hidden id and one that never was are the same', () => {
  const LOOK_UPS: readonly (readonly [readonly string[], string])[] = [
    [HIDDEN.devices, 'query ($id: ID!) { device(id: $id) { id } node(id: $id) { id } }'],
    [HIDDEN.devices, 'query ($id: ID!) { compareDevices(ids: ["tarn-loop-1", $id]) { sensors { kind } } }'],
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
      HIDDEN.specimens,
      'mutation ($id: ID!) { recordObservation(specimen: $id, observation: { id: "n1", about: ["U1"], kind: MARKING }, actor: "x", reason: "y") { entry { id } } }',
    ],
    [
      HIDDEN.specimens,
      'mutation ($id: ID!) { setIdentification(specimen: $id, identification: { component: "U1", candidates: [{ part: "ostrel/OS7", probability: 1 }] }, actor: "x", reason: "y") { entry { id } } }',
    ],
    [
      HIDDEN.devices,
      'query ($id: ID!) { similarDevices(id: $id) { comparedWith } decisions(device: $id) { id } deviceChecks(device: $id) { probability } }',
    ],
    [
      HIDDEN.devices,
      'query ($id: ID!) { nextObservations(of: $id) { bits } impactOf(id: $id) { totalCount } circuitDistance(from: "tarn-loop-1", to: $id) { __typename } }',
    ],
    [DECISIONS, 'query ($id: ID!) { decision(id: $id) { probability } nextObservations(of: $id) { bits } }'],
    [DECISIONS, 'query ($id: ID!) { impactOf(id: $id) { totalCount } node(id: $id) { id } }'],
    [COMPONENTS, 'query ($id: ID!) { candidates(component: $id) { none } impactOf(id: $id) { totalCount } }'],
    [OBSERVATIONS, 'query ($id: ID!) { whatIf(change: { withdraw: $id }) { counts { devices } } }'],
    [
      COMPONENTS,
      'query ($id: ID!) { whatIf(change: { identify: { component: $id, candidates: [{ category: "Microphone", probability: 0.9 }] } }) { counts { devices } } }',
    ],
    [
      HIDDEN.makers,
      'query ($id: ID!) { trend(of: { share: { category: "Sensor" } }, where: { maker: $id }) { __typename } }',
    ],
    [
      HIDDEN.publications,
      'query ($id: ID!) { auditClaims(publication: $id) { probability } impactOf(id: $id) { totalCount } }',
    ],
    [
      DECISIONS,
      'mutation ($id: ID!) { judgeDecision(decision: $id, verdict: DOUBTED, actor: "x", reason: "y") { entry { id } } }',
    ],
    [
      OBSERVATIONS,
      'mutation ($id: ID!) { correct(change: { withdraw: $id }, actor: "x", reason: "y") { entry { id } } }',
    ],
    [
      COMPONENTS,
      'mutation ($id: ID!) { judgeIdentification(component: $id, part: "ostrel/OS7", decibans: 3, actor: "x", reason: "y") { entry { id } } }',
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
        if (!query.startsWith('mutation')) expect(await desk.answer(query, { id })).not.toEqual(absent);
      });
    }
  }
});

test('no list, count, search, pattern or page tells a reader of hidden records', async () => {
  const query = `{
    archive { devices specimens components makers productLines publications sequence changedAt firstYear lastYear }
    devices { totalCount nodes { id successors { id } maker { id } productLine { id devices { totalCount } } } }
    components { totalCount nodes { id } }
    makers { totalCount nodes { id devices { totalCount } productLines { id } } }
    productLines { totalCount nodes { id } }
    publications { totalCount nodes { id claims { supportedBy { id } } } }
    parts { nodes { id specimens { totalCount nodes { specimen { id } } } components { totalCount } } }
    byWord: search(text: "${HIDDEN.word}") { totalCount }
    byName: search(text: "tarn") { totalCount nodes { id } }
    generations(productLine: "tarn-loop") { generations { device { id } successors { id } } }
    findPattern(name: "front-end-at-sensor") { totalCount certainCount expectedCount nodes { device { id } } }
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
    changedAt: null,
    lastYear: 2020,
  });
  expect(all.archive).toMatchObject({
    devices: 6,
    specimens: 7,
    sequence: expect.any(Number),
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

test('no decision, audit, trend, cluster, likeness or recurring structure tells a reader of hidden records', async () => {
  const query = `{
    decisions(pattern: "front-end-at-sensor") { id observations { id } supportedBy { id } }
    auditClaims(fitting: true) { claim { id } support { items { id description } } findings { message } }
    trend(of: { share: { category: "Sensor" } }, by: BODY_SITE) { cautions whole { verdict { sentence } } firstAdopters { device { id } } }
    deviceClusters { clusters { members { device { id } } } }
    similarDevices(id: "tarn-loop-1", first: 50) { comparedWith devices { device { id } } }
    compareDevices(ids: ["tarn-loop-1", "tarn-loop-2"]) { sections { rows { label cells { note } } } }
    recurringStructures(minSupport: 2, minSize: 2, without: []) { devices structures { support } }
    impactOf(id: "ostrel/OS7") { totalCount impacted { id description path } }
    corrections { id }
  }`;
  const [seen, all] = [await reader.ask(query), await desk.ask(query)];
  const text = JSON.stringify(seen);
  for (const id of [...HIDDEN.devices, ...HIDDEN.makers, ...HIDDEN.productLines, ...HIDDEN.publications])
    expect(text).not.toMatch(new RegExp(`"${id}\\b`, 'u'));
  expect(text).not.toContain(HIDDEN.word);
  expect([seen.similarDevices.comparedWith, all.similarDevices.comparedWith]).toEqual([3, 5]);
  expect([seen.decisions.length, all.decisions.length]).toEqual([4, 6]);
  expect(seen.recurringStructures.devices).toBeLessThan(all.recurringStructures.devices);
  expect(seen.impactOf.totalCount).toBeLessThan(all.impactOf.totalCount);
  for (const id of HIDDEN.devices) expect(JSON.stringify(all)).toContain(`"${id}`);
});

test('an earlier instant hides the same, and a future one cannot lift an embargo', async () => {
  const query =
    'query ($t: DateTime!) { asOf(instant: $t) { devices { totalCount } device(id: "tarn-secret") { id } } }';
  const past = await reader.ask(query, { t: new Date().toISOString() });
  expect(past.asOf).toEqual({ devices: { totalCount: 4 }, device: null });
  expect((await reader.ask(query, { t: '2001-01-01T00:00:00Z' })).asOf.devices.totalCount).toBe(0);
  const { data, errors } = await reader.answer(query, { t: '3000-01-01T00:00:00Z' });
  expect(data).toEqual({ asOf: null });
  expect(errors?.[0].message).toContain('lies in the future');
});
