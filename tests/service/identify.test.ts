import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { dossierSchema, identificationSchema } from '../../src/model/dossier.ts';
import { archiveOf, type Served, serve } from './serving.ts';

let desk: Served;
beforeAll(async () => {
  desk = await serve({ audience: 'desk' });
});
afterAll(() => desk.close());

const ODDS = `{
  candidates(component: "tarn-sennit-1/a/U10") {
    state none component { designator }
    parts(first: 100) { probability priorDecibans part { number } evidence { kind description decibans } }
    categories { term probability } makers { maker { id } probability }
  }
}`;

describe('candidates', () => {
  test('sum to 1 with "none"; prior and evidence add up to the stated odds against "none"', async () => {
    const { candidates } = await desk.ask(ODDS);
    const { none, parts } = candidates;
    const sum = parts.reduce((total: number, one: { probability: number }) => total + one.probability, none);
    expect(sum).toBeCloseTo(1, 5);
    for (const { probability, priorDecibans, evidence } of parts) {
      const weight = evidence.reduce(
        (total: number, one: { decibans: number }) => total + one.decibans,
        priorDecibans,
      );
      expect(weight).toBeCloseTo(10 * Math.log10(probability / none), 6);
    }
  });

  test('are on the component too, and are named when there is none', async () => {
    const { candidates } = await desk.ask(ODDS);
    const { node } = await desk.ask(
      '{ node(id: "tarn-sennit-1/a/U10") { ... on Component { candidates { none } } } }',
    );
    expect(node.candidates.none).toBe(candidates.none);
    const { data, errors } = await desk.answer('{ candidates(component: "tarn-sennit-1/a/U99") { none } }');
    expect(data.candidates).toBeNull();
    expect(errors?.[0].extensions.code).toBe('NOT_FOUND');
  });

  test('show a reader nothing of hidden devices: numbers are those of an archive without them', async () => {
    const { CATALOGUE, DOSSIERS } = await import('./invented.ts');
    const published = DOSSIERS.filter(({ visibility = 'published' }) => visibility === 'published');
    expect(published.length).toBeLessThan(DOSSIERS.length);
    const reader = await serve({ audience: 'reader' });
    const without = await serve(
      { audience: 'reader' },
      await archiveOf([{ ...CATALOGUE, publications: [] }, ...published]),
    );
    expect(await reader.ask(ODDS)).toEqual(await without.ask(ODDS));
    await Promise.all([reader.close(), without.close()]);
  });
});

test('a chip without marking or part gets kinds from its nets, with the reason and its weight in decibans', async () => {
  const archive = await archiveOf();
  const { CATALOGUE } = await import('./invented.ts');
  const dossier = {
    caseback: 'dossier/1',
    device: {
      id: 'pin-probe',
      name: 'Probe',
      maker: CATALOGUE.makers?.[0].id,
      released: '2024',
      bodySite: 'wrist',
    },
    specimen: { id: 'a' },
    teardown: { on: '2024-05', by: 'A' },
    components: [
      { id: 'U1', appears: 'IntegratedCircuit', package: 'SOT-23-5', pins: 5 },
      { id: 'C1', appears: 'Capacitor' },
      { id: 'J1', appears: 'CableConnector' },
    ],
    nets: [
      { id: 'in', kind: 'power', voltage: '5 V', pins: ['U1.1', 'J1.1'], complete: true },
      { id: 'ground', kind: 'ground', pins: ['U1.2', 'C1.2', 'J1.2'] },
      { id: 'bypass', kind: 'signal', pins: ['U1.4', 'C1.1'], complete: true },
      { id: 'out', kind: 'power', voltage: '3 V', pins: ['U1.5'] },
    ],
  };
  const place = { file: 'made up', locate: () => ({ line: 1, column: 1 }) };
  await archive.importDocuments([{ ...place, kind: 'dossier', dossier: dossierSchema.parse(dossier) }], {
    actor: 'A',
    reason: 'b',
  });
  const served = await serve({ audience: 'desk' }, archive);
  const { candidates, nextObservations } = await served.ask(`{
    candidates(component: "pin-probe/a/U1") {
      kinds { term prior probability evidence { kind description decibans } }
      parts(first: 100) { evidence { kind description decibans } }
    }
    nextObservations(of: "pin-probe/a/U1") { action pin bits }
  }`);
  const [likeliest] = candidates.kinds;
  expect(likeliest.term).toBe('LinearRegulator');
  expect(likeliest.probability).toBeGreaterThan(5 * likeliest.prior);
  const pins = likeliest.evidence.find(({ kind }: { kind: string }) => kind === 'PINOUT');
  expect(pins.description).toBe(
    'pins 1, 2, 4 and 5 fit a linear regulator: input supply, ground, bypass capacitor or open, output supply',
  );
  // Three pins of four stand out: more than three to one beside what hangs on them, and less than a hundred to one.
  expect(pins.decibans).toBeGreaterThan(5);
  expect(pins.decibans).toBeLessThan(20);
  for (const { evidence } of candidates.parts)
    expect(evidence.filter(({ kind }: { kind: string }) => kind === 'PINOUT')).toHaveLength(1);
  // Pin 5 may be a cell's, since its net is not said to be complete; pin 3 was never traced.
  for (const { pin } of nextObservations) expect([null, '3', '5']).toContain(pin);
  await served.close();
});

describe('nextObservations', () => {
  test('are ranked by bits a minute, each with the standing caution; destructive ones can be left out', async () => {
    const { nextObservations: all } = await desk.ask(
      '{ nextObservations(of: "tarn-sennit-1", first: 200) { bits bitsPerMinute minutes isDestructive cautions action component { id } } }',
    );
    const rates = all.map((one: { bitsPerMinute: number }) => one.bitsPerMinute);
    expect(rates.length).toBeGreaterThan(3);
    expect(rates).toEqual(rates.toSorted((a: number, b: number) => b - a));
    for (const { bits, minutes, bitsPerMinute, cautions } of all) {
      expect(bits / minutes).toBeCloseTo(bitsPerMinute, 12);
      expect(cautions.length).toBeGreaterThan(0);
    }
    const kept = all.filter((one: { isDestructive: boolean }) => !one.isDestructive);
    expect(kept.length).toBeLessThan(all.length);
    const { nextObservations: safe } = await desk.ask(
      '{ nextObservations(of: "tarn-sennit-1", first: 200, includeDestructive: false) { isDestructive } }',
    );
    expect(safe).toHaveLength(kept.length);
  });

  test('of a claim are those of the components that support it', async () => {
    const { nextObservations } = await desk.ask(
      '{ nextObservations(of: "letter-one/c1", first: 50) { component { id } } }',
    );
    expect(new Set(nextObservations.map((one: { component: { id: string } }) => one.component.id))).toEqual(
      new Set(['tarn-sennit-2/a/U2']),
    );
  });
});

test('readMarking keeps rival readings, doubts dates after the release, and finds parts', async () => {
  const { readMarking } = await desk.ask(
    '{ readMarking(text: "(three waves)\\n4T10\\n[38]52", released: "2015") { text logos lines { text doubtful readings { as rule description doubt } } matches { part { number } } } }',
  );
  expect(readMarking.logos).toEqual(['three waves']);
  expect(readMarking.text).toBe('4T10\n[38]52');
  expect(readMarking.matches[0].part.number).toBe('QWR4T10');
  const rules = readMarking.lines[1].readings.map((one: { rule: string }) => one.rule);
  expect(new Set(rules).size).toBeGreaterThan(1);
  const dates = readMarking.lines[1].readings.filter((one: { rule: string }) => one.rule === 'date-yww');
  expect(new Set(dates.map((one: { as: string }) => one.as))).toEqual(new Set(['352', '852']));
  const { errors } = await desk.answer('{ readMarking(text: "A[") { text } }');
  expect(errors?.[0].extensions.code).toBe('BAD_INPUT');
});

test('a judgement and a withdrawal are journaled with who and why, and move the numbers as they say', async () => {
  const served = await serve({ audience: 'desk' });
  const oddsOf = async () => {
    const { candidates } = await served.ask(ODDS);
    const part = candidates.parts.find((one: { part: { number: string } }) => one.part.number === 'QWR4T10');
    return part.probability / candidates.none;
  };
  const before = await oddsOf();
  const { judgeIdentification } = await served.ask(`mutation {
    judgeIdentification(input: { component: "tarn-sennit-1/a/U10", part: "quistle/QWR4T10", decibans: 10, reason: "same lot" }) {
      component { designator } entry { kind actor reason }
    }
  }`);
  expect(judgeIdentification).toEqual({
    component: { designator: 'U10' },
    entry: { kind: 'IDENTIFICATION_JUDGED', actor: 'bench', reason: 'same lot' },
  });
  expect((await oddsOf()) / before).toBeCloseTo(10, 8);
  const { withdrawObservation } = await served.ask(`mutation {
    withdrawObservation(input: { specimen: "tarn-sennit-1/a", observation: "o4", reason: "wrong chip" }) {
      observation { withdrawn { by reason } } entry { kind }
    }
  }`);
  expect(withdrawObservation).toEqual({
    observation: { withdrawn: { by: 'bench', reason: 'wrong chip' } },
    entry: { kind: 'OBSERVATION_WITHDRAWN' },
  });
  await served.close();
});

test('calibration scores the settled components', async () => {
  const { calibration } = await desk.ask(
    '{ calibration { components brier logLoss first firstThree reliability { from to count stated observed low high isCalibrated } } }',
  );
  expect(calibration.components).toBeGreaterThan(0);
  expect(calibration.reliability).toHaveLength(10);
  expect(calibration.firstThree).toBeGreaterThanOrEqual(calibration.first);
});

test('calibration with parts held out counts none in the catalogue as the truth of their chips', async () => {
  const { calibration } = await desk.ask(
    '{ calibration { components devices withoutParts { components devices absent parts brier reliability { count } nearlyCertain { from count } } } }',
  );
  const { withoutParts } = calibration;
  expect(withoutParts.components).toBe(calibration.components);
  expect(withoutParts.devices).toBe(calibration.devices);
  expect(withoutParts.absent).toBeLessThan(withoutParts.components);
  expect(withoutParts.nearlyCertain.map(({ from }: { from: number }) => from)).toEqual([0.99, 0.999]);
});

test('a candidate set says on how many devices it rests, and here why there are too few', async () => {
  const ask = (coverage: number) =>
    desk.answer(
      `{ candidates(component: "tarn-sennit-1/a/U10") { set(coverage: ${coverage}) { coverage size devices hasNone among void parts { number } } } }`,
    );
  const { data } = await ask(0.95);
  expect(data.candidates.set).toMatchObject({ coverage: 0.95, size: 0, hasNone: false, parts: [] });
  expect(data.candidates.set.void).toMatch(/other device/u);
  const { errors } = await ask(1);
  expect(errors?.[0]).toMatchObject({ extensions: { code: 'BAD_INPUT' } });
  expect(errors?.[0].message).toContain('coverage is 1');
});

test('a sample is drawn as requested, the same with the same seed; invalid input is refused', async () => {
  const ask = (args: string) => desk.ask(`{ calibration(${args}) { components settled brier } }`);
  const { calibration: all } = await desk.ask('{ calibration { components settled } }');
  expect(all.settled).toBe(all.components);
  const { calibration: one } = await ask('sample: 2, seed: 5');
  expect(one).toMatchObject({ components: 2, settled: all.components });
  expect((await ask('sample: 2, seed: 5')).calibration).toEqual(one);
  for (const wrong of ['sample: 0', 'seed: -1']) {
    const { errors } = await desk.answer(`{ calibration(${wrong}) { components } }`);
    expect(errors?.[0].extensions.code).toBe('BAD_INPUT');
  }
});

test('a recorded identification that the evidence contradicts is said with the candidates and listed, with the heaviest clues', async () => {
  const archive = await archiveOf();
  const served = await serve({ audience: 'desk' }, archive);
  const LIST = `{ disagreements(first: 10) { totalCount nodes {
    component { id } recorded recordedProbability probability instead { id } insteadProbability against { kind decibans }
  } } }`;
  const before = await served.ask(LIST);
  const ids = ({ disagreements }: typeof before) =>
    disagreements.nodes.map((one: { component: { id: string } }) => one.component.id);
  const component = 'tarn-sennit-1/a/U1';
  const ASK = `{ candidates(component: "${component}") {
    none parts(first: 100) { part { id } probability } disagreement { recorded probability }
  } }`;
  const agreed = (await served.ask(ASK)).candidates;
  expect(agreed.disagreement).toBeNull();
  const [likeliest] = agreed.parts;
  expect(likeliest.probability).toBeGreaterThan(0.5);
  const other = agreed.parts.at(-1);
  expect(other.probability).toBeLessThan(0.05);
  await archive.setIdentification(
    'tarn-sennit-1/a',
    identificationSchema.parse({
      component: 'U1',
      candidates: [{ part: other.part.id, probability: 1 }],
      state: 'settled',
    }),
    { actor: 'A', reason: 'by its looks' },
    'desk',
  );
  const after = await served.ask(LIST);
  // What is settled teaches other devices, so that other contradictions may come and go.
  expect(ids(before)).not.toContain(component);
  expect(ids(after)).toContain(component);
  const found = after.disagreements.nodes.find(
    (one: { component: { id: string } }) => one.component.id === component,
  );
  const told = (await served.ask(ASK)).candidates;
  expect(found).toMatchObject({
    recorded: other.part.id,
    recordedProbability: 1,
    instead: { id: likeliest.part.id },
  });
  expect(told.disagreement).toEqual({ recorded: other.part.id, probability: found.probability });
  // The same numbers as those of the candidates, and what speaks against the record does.
  const numberOf = (id: string) =>
    told.parts.find(({ part }: { part: { id: string } }) => part.id === id)?.probability ?? 0;
  expect(found.probability).toBe(numberOf(other.part.id));
  expect(found.insteadProbability).toBe(numberOf(likeliest.part.id));
  expect(found.against.length).toBeGreaterThan(0);
  for (const { decibans } of found.against) expect(decibans).toBeLessThan(0);
  await served.close();
});
