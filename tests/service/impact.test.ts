import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type Served, serve } from './serving.ts';

// Decisions, claims, impact, what-if and corrections through GraphQL, over invented records.

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

const AUDIT = `{ auditClaims(includeFitting: true) { nodes { claim { id } probability proposal low high rangeBy findings { kind message }
  support { probability low high items { id kind description probability trouble } } } } }`;

describe('claims', () => {
  test('are compared with their evidence, with the range of their wording', async () => {
    const { auditClaims } = await desk.ask(AUDIT);
    const [claim] = auditClaims.nodes;
    expect(claim).toMatchObject({ claim: { id: 'letter-one/c1' }, low: 0.95, high: 1, rangeBy: 'FLAT' });
    expect(claim.support.items.map(({ id }: { id: string }) => id)).toEqual([
      'tarn-sennit-2/a/U2',
      'tarn-hidden/a',
      'note-1',
    ]);
    expect(claim.findings.map(({ kind }: { kind: string }) => kind)).toContain('OVERSTATED');
  });

  test('show a reader nothing of a hidden thing that supports a published sentence', async () => {
    const seen = JSON.stringify(await reader.ask(AUDIT));
    expect(seen).toContain('letter-one/c1');
    expect(seen).not.toContain('tarn-hidden');
  });

  test('the list and the claim have the same number', async () => {
    const { auditClaims } = await desk.ask(AUDIT);
    const { node } = await desk.ask(
      '{ node(id: "letter-one/c1") { ... on Claim { audit { probability } } } }',
    );
    expect(node.audit.probability).toBe(auditClaims.nodes[0].probability);
  });
});

describe('impact', () => {
  test('leads from a component to the sentence and its publication, each with its path', async () => {
    const { impactOf } = await desk.ask(
      '{ impactOf(id: "tarn-sennit-2/a/U2") { of { kind } impacted(kinds: [CLAIM, PUBLICATION]) { nodes { id generation path how } } } }',
    );
    expect(impactOf.of.kind).toBe('COMPONENT');
    expect(impactOf.impacted.nodes).toEqual([
      {
        id: 'letter-one/c1',
        generation: 1,
        path: ['tarn-sennit-2/a/U2', 'letter-one/c1'],
        how: ['is supported by it'],
      },
      {
        id: 'letter-one',
        generation: 2,
        path: ['tarn-sennit-2/a/U2', 'letter-one/c1', 'letter-one'],
        how: ['is supported by it', 'asserts it'],
      },
    ]);
  });

  test('of what is hidden is answered to a reader as of what there never was', async () => {
    const ask = (id: string) => reader.answer(`{ impactOf(id: "${id}") { impacted { totalCount } } }`);
    const [hidden, absent] = [await ask('tarn-hidden'), await ask('tarn-absent')];
    expect(hidden.errors?.[0].extensions.code).toBe('NOT_FOUND');
    expect(JSON.stringify(hidden.errors).replaceAll('tarn-hidden', 'tarn-absent')).toBe(
      JSON.stringify(absent.errors),
    );
  });
});

describe('a change', () => {
  const CHANGE = `change: { identify: { component: "tarn-sennit-2/a/U2",
    candidates: [{ category: "Microphone", probability: 0.9 }] } }`;
  const DIFFERENCE = `devices { nodes { id } } gained { nodes { id } } lost { nodes { id before } }
    moved { nodes { id before after standingBefore } }
    cells { nodes { specimen row unit before { certain expected } after { certain expected } } }
    trendPoints { nodes { subject year device before after } }
    claims { nodes { id before after newFindings { kind } proposal } }`;

  test('is tried out without a trace, then made, with the same result', async () => {
    const before = desk.archive.version;
    const { whatIf } = await desk.ask(`{ whatIf(${CHANGE}) { ${DIFFERENCE} } }`);
    expect(desk.archive.version).toBe(before);
    expect(whatIf.devices.nodes).toEqual([{ id: 'tarn-sennit-2' }]);
    expect(whatIf.claims.nodes.map(({ id }: { id: string }) => id)).toEqual(['letter-one/c1']);
    expect(whatIf.trendPoints.nodes.map(({ subject }: { subject: string }) => subject)).toContain(
      'category Microphone',
    );

    const { correct } = await desk.ask(
      `mutation { correct(input: { ${CHANGE}, reason: "looked again" }) {
        correction { id by reason publications { publication { id } notice claims { id before after findings } } }
        difference { ${DIFFERENCE} } entry { kind actor } } }`,
    );
    expect(correct.difference).toEqual(whatIf);
    expect(correct.entry).toEqual({ kind: 'CORRECTION_MADE', actor: 'bench' });
    const [{ publication, notice, claims }] = correct.correction.publications;
    expect(publication.id).toBe('letter-one');
    expect(notice).toContain('“The Sennit 2 senses pressure.”');
    expect(notice).toContain('looked again');
    expect(claims[0].id).toBe('letter-one/c1');
    const { corrections, publication: corrected } = await desk.ask(
      '{ corrections { nodes { id } } publication(id: "letter-one") { corrections { summary } } }',
    );
    expect(corrections.nodes).toEqual([{ id: correct.correction.id }]);
    expect(corrected.corrections[0].summary).toContain('Microphone (0.9)');
  });

  test('returns as many items as requested, with the total number', async () => {
    const ask = (first: number) =>
      desk.answer(`{ whatIf(change: { identify: { component: "tarn-sennit-2/a/U2", candidates: [{ category: "Gyroscope", probability: 0.9 }] } }) {
        devices { totalCount } cells(first: ${first}) { totalCount nodes { row } } } }`);
    const all = (await ask(500)).data.whatIf;
    expect(all.devices.totalCount).toBe(1);
    expect(all.cells.nodes.length).toBe(all.cells.totalCount);
    expect(all.cells.nodes.length).toBeGreaterThan(1);
    const one = (await ask(1)).data.whatIf;
    expect(one).toEqual({ ...all, cells: { ...all.cells, nodes: [all.cells.nodes[0]] } });
    for (const query of [
      '{ auditClaims(first: -1) { totalCount } }',
      '{ corrections(last: 501) { totalCount } }',
    ])
      expect((await desk.answer(query)).errors?.[0].extensions.code).toBe('BAD_INPUT');
    expect((await ask(501)).errors?.[0].message).toContain('first is 501; a page has at most 500 items');
    const { auditClaims } = await desk.ask(
      '{ auditClaims(first: 1, includeFitting: true) { nodes { low } } }',
    );
    expect(auditClaims.nodes).toHaveLength(1);
  });

  test.each([
    ['change: {}', 'nothing is given'],
    ['change: { withdraw: "a/b/c", value: { of: "x", field: "y" } }', 'give exactly one'],
    ['change: { value: { of: "tarn-sennit-2/a/U2", field: "pins", text: "many" } }', 'pins'],
    ['change: { withdraw: "tarn-sennit-2/a/nothing" }', 'nothing'],
  ])('that is not allowed is refused with its reason: %s', async (change, says) => {
    const before = desk.archive.version;
    const { errors } = await desk.answer(
      `mutation { correct(input: { ${change}, reason: "test" }) { entry { kind } } }`,
    );
    expect(JSON.stringify(errors)).toContain(says);
    expect(desk.archive.version).toBe(before);
  });
});
