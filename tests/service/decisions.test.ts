import { afterAll, beforeAll, expect, test } from 'vitest';
import { type Served, serve } from './serving.ts';

// Design decisions through GraphQL, over invented records.

const ID = 'tarn-sennit-2:front-end-at-sensor';
let desk: Served;
let reader: Served;
beforeAll(async () => {
  desk = await serve({ audience: 'desk' });
  reader = await serve({ audience: 'reader' });
});
afterAll(async () => {
  await desk.close();
  await reader.close();
});

test('a decision has its components, evidence and probability', async () => {
  const { decision } = await desk.ask(
    `{ decision(id: "${ID}") { id name probability shape strength likelihood standing method reasons against matchCount
      matches { nodes { bindings { variable ids } } } supportedBy { id } observations { id } check { problem } device { id } pattern { id } } }`,
  );
  expect(decision).toMatchObject({
    id: ID,
    name: 'Front end at the sensor',
    standing: 'PROPOSED',
    reasons: ['Less noise on the way.'],
    check: null,
    device: { id: 'tarn-sennit-2' },
    pattern: { id: 'front-end-at-sensor' },
  });
  expect(decision.probability).toBeCloseTo(decision.shape * decision.strength, 9);
  const bound = decision.matches.nodes.flatMap(({ bindings }: { bindings: { ids: string[] }[] }) =>
    bindings.flatMap(({ ids }) => ids),
  );
  expect(decision.supportedBy.map(({ id }: { id: string }) => id).sort()).toEqual([...new Set(bound)].sort());
});

test('the device, the pattern and the id lead to the same decision', async () => {
  const { device, decisions, node } = await desk.ask(
    `{ device(id: "tarn-sennit-2") { decisions { nodes { id probability } } }
       decisions(pattern: "front-end-at-sensor") { nodes { id probability } }
       node(id: "${ID}") { ... on Decision { id probability } } }`,
  );
  expect(device.decisions.nodes).toContainEqual(node);
  expect(decisions.nodes).toContainEqual(node);
});

test('a rejected decision is left out of lists unless asked for, and keeps who and why', async () => {
  const served = await serve({ audience: 'desk' });
  const { judgeDecision } = await served.ask(
    `mutation { judgeDecision(input: { decision: "${ID}", verdict: REJECTED, reason: "a bought module" }) {
      decision { standing probability judgements { verdict by reason } } entry { kind } } }`,
  );
  expect(judgeDecision).toMatchObject({
    decision: {
      standing: 'REJECTED',
      judgements: [{ verdict: 'REJECTED', by: 'bench', reason: 'a bought module' }],
    },
    entry: { kind: 'DECISION_JUDGED' },
  });
  const { device } = await served.ask(
    '{ device(id: "tarn-sennit-2") { kept: decisions { nodes { id } } all: decisions(includeRejected: true) { nodes { id } } } }',
  );
  expect(device.kept.nodes).not.toContainEqual({ id: ID });
  expect(device.all.nodes).toContainEqual({ id: ID });
  await served.close();
});

test('what does not fit or is hidden is answered alike', async () => {
  const { decision, node } = await reader.ask(
    '{ decision(id: "tarn-hidden:front-end-at-sensor") { id } node(id: "tarn-sennit-2:no-such-pattern") { id } }',
  );
  expect([decision, node]).toEqual([null, null]);
});

test('a question that names neither or both of device and pattern is refused', async () => {
  for (const given of ['', '(device: "tarn-sennit-2", pattern: "front-end-at-sensor")']) {
    const { errors } = await desk.answer(`{ decisions${given} { totalCount } }`);
    expect(errors?.[0].message).toContain('give exactly one of device and pattern');
  }
});
