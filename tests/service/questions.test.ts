import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type Served, serve } from './serving.ts';

let served: Served;
beforeAll(async () => {
  served = await serve();
});
afterAll(() => served.close());

describe('a device', () => {
  test('is listed with its specimens, boards, components and what they are identified as', async () => {
    const { device } = await served.ask(`{
      device(id: "tarn-sennit-1") {
        name year bodySite invented price { amount currency } ingress
        mass { value unit text in(unit: "kg") { value unit } }
        maker { name country } productLine { name }
        predecessors { id } successors { id }
        boards { id kind area outline { x y } sides layers stackedOn { id } components { nodes { designator } } }
        subsystems { kind components { totalCount } }
        components { totalCount nodes { designator } }
        subsystemCounts { kind components }
      }
    }`);
    expect(device).toMatchObject({
      name: 'Tarn Sennit 1',
      year: 2016,
      bodySite: 'WRIST',
      invented: true,
      price: { amount: 199, currency: 'EUR' },
      ingress: 'IP67',
      mass: { value: 31, unit: 'g', text: '31 g', in: { value: 0.031, unit: 'kg' } },
      maker: { name: 'Tarn', country: 'FI' },
      productLine: { name: 'Tarn Sennit' },
      predecessors: [],
      successors: [{ id: 'tarn-sennit-2' }],
    });
    // 30 mm × 20 mm, and half of 10 mm × 10 mm.
    expect(device.boards.map((board: { area: number }) => board.area)).toEqual([600, 50]);
    expect(device.boards[0]).toMatchObject({
      kind: 'RIGID_FLEX',
      layers: 8,
      sides: ['TOP', 'BOTTOM'],
      stackedOn: null,
    });
    expect(device.boards[1]).toMatchObject({ stackedOn: { id: 'tarn-sennit-1/a/main' }, sides: ['TOP'] });
    expect(device.boards[0].components.nodes).toEqual([{ designator: 'U1' }, { designator: 'U10' }]);
    expect(device.components.nodes.map((one: { designator: string }) => one.designator)).toEqual([
      'BT1',
      'D1',
      'J1',
      'U1',
      'U2',
      'U10',
    ]);
    expect(device.subsystemCounts).toEqual([
      { kind: null, components: 2 },
      { kind: 'PROCESSING', components: 1 },
      { kind: 'SENSING', components: 3 },
    ]);
  });

  test('has counts of each kind that carry the doubt of rival candidates', async () => {
    const { device } = await served.ask(
      `{ device(id: "tarn-sennit-1") { kindCounts { kind certain expected possible } } }`,
    );
    // U10 is an accelerometer with 0.6 + 0.25, a gyroscope with 0.25; D1 is plainly a photodiode.
    expect(device.kindCounts).toEqual([
      { kind: 'OpticalSensor', certain: 1, expected: 1, possible: 1 },
      { kind: 'Photodiode', certain: 1, expected: 1, possible: 1 },
      { kind: 'InertialSensor', certain: 0, expected: 0.85, possible: 1 },
      { kind: 'Accelerometer', certain: 0, expected: 0.85, possible: 1 },
      { kind: 'Gyroscope', certain: 0, expected: 0.25, possible: 1 },
    ]);
  });

  test('answers through the specimen that was not damaged in opening', async () => {
    const { device } = await served.ask(
      `{ device(id: "tarn-sennit-2") { specimen { id } specimens { id condition } } }`,
    );
    expect(device).toEqual({
      specimen: { id: 'tarn-sennit-2/a' },
      specimens: [
        { id: 'tarn-sennit-2/a', condition: 'INTACT' },
        { id: 'tarn-sennit-2/b', condition: 'DAMAGED_IN_OPENING' },
      ],
    });
  });

  test('warns about cells, edges, heat and solvents wherever it is opened, and at each destructive step', async () => {
    const { specimen, other } = await served.ask(`{
      specimen(id: "tarn-sennit-2/b") { teardown { cautions } }
      other: specimen(id: "tarn-sennit-1/a") { teardown { steps { number do isDestructive cautions } } }
    }`);
    const all = specimen.teardown.cautions.join(' ');
    for (const word of ['pouch cell', 'eye protection', 'never heat a cell', 'Ventilate']) {
      expect(all).toContain(word);
    }
    const [warm, cut] = other.teardown.steps;
    expect([warm.number, warm.isDestructive, cut.number, cut.isDestructive]).toEqual([1, false, 2, true]);
    expect(warm.cautions.join(' ')).toContain('Hot plates');
    expect(cut.cautions.join(' ')).toContain('pouch cell');
  });
});

test('a component has marking, place, labels, rival candidates, their evidence, and its connections', async () => {
  const { node } = await served.ask(`{
    node(id: "tarn-sennit-1/a/U10") {
      id
      ... on Component {
        designator side body { length width } package board { id } subsystem { kind } device { id }
        category { term probability isCertain }
        labels { term probability }
        identification {
          state isCurrent unknown basis { id value { text } }
          candidates { partId part { name number } maker { name } probability }
        }
        observations { nodes { id kind } }
        links { nodes { medium bus lines ends { id } basis { id leadsTo { id } } } }
      }
    }
  }`);
  expect(node).toMatchObject({
    designator: 'U10',
    side: 'BOTTOM',
    body: { length: 2, width: 2 },
    category: { term: 'Accelerometer', probability: 0.85, isCertain: false },
    identification: {
      state: 'FAVOURED',
      isCurrent: true,
      unknown: 0.15,
      basis: [{ id: 'tarn-sennit-1/a/o4', value: { text: '2 ± 0.1 mm' } }],
      candidates: [
        { partId: 'quistle/QWR4T10', maker: { name: 'Quistle' }, probability: 0.6 },
        { partId: 'quistle/QWR4T60', probability: 0.25 },
      ],
    },
    links: {
      nodes: [
        {
          medium: 'TRACE',
          bus: 'I2C',
          lines: 2,
          ends: [{ id: 'tarn-sennit-1/a/U1' }, { id: 'tarn-sennit-1/a/U10' }],
          basis: [{ id: 'tarn-sennit-1/a/o2', leadsTo: [{ id: 'tarn-sennit-1/a/U10' }] }],
        },
      ],
    },
  });
});

test('a corrected observation is linked to its correction from both ends', async () => {
  const { first, second } = await served.ask(`{
    first: node(id: "tarn-sennit-1/a/o1") { ... on Observation { marking correctedBy { id } photo { id regions { fragment of { id } } } } }
    second: node(id: "tarn-sennit-1/a/o3") { ... on Observation { marking corrects { id } } }
  }`);
  expect(first).toEqual({
    marking: 'A?1\n4[8B]',
    correctedBy: [{ id: 'tarn-sennit-1/a/o3' }],
    photo: {
      id: 'tarn-sennit-1/a/p1',
      regions: [{ fragment: 'xywh=percent:10,20,5,5', of: { id: 'tarn-sennit-1/a/U2' } }],
    },
  });
  expect(second).toEqual({ marking: 'AB1\n48', corrects: { id: 'tarn-sennit-1/a/o1' } });
});

describe('devices', () => {
  const ids = async (args: string) => {
    const { devices } = await served.ask(`{ devices${args} { totalCount nodes { id } } }`);
    expect(devices.totalCount).toBe(devices.nodes.length);
    return devices.nodes.map(({ id }: { id: string }) => id);
  };

  test('are ordered by release, then id', async () => {
    expect(await ids('')).toEqual(['tarn-sennit-1', 'tarn-sennit-2', 'tarn-lobe-1', 'tarn-sennit-3']);
  });
  test('are ordered by name in either direction', async () => {
    const up = await ids('(orderBy: { field: NAME })');
    expect(up).toEqual(['tarn-lobe-1', 'tarn-sennit-1', 'tarn-sennit-2', 'tarn-sennit-3']);
    expect(await ids('(orderBy: { field: NAME, direction: DESC })')).toEqual(up.toReversed());
  });
  test('are filtered by date, with a year meaning all of it', async () => {
    expect(await ids('(filter: { releasedFrom: "2018-06", releasedTo: "2020" })')).toEqual([
      'tarn-sennit-2',
      'tarn-lobe-1',
      'tarn-sennit-3',
    ]);
  });
  test('are filtered by line, body site, part held and category held, sub-terms included', async () => {
    expect(await ids('(filter: { productLines: ["tarn-lobe"] })')).toEqual(['tarn-lobe-1']);
    expect(await ids('(filter: { bodySites: [EAR] })')).toEqual([]);
    expect(await ids('(filter: { hasPart: "quistle/QWR2001" })')).toEqual(['tarn-sennit-2']);
    expect(await ids('(filter: { hasCategory: "PressureSensor" })')).toEqual(['tarn-sennit-2']);
    expect(await ids('(filter: { hasCategory: "Sensor" })')).toHaveLength(4);
  });
  test('say what is wrong with a filter', async () => {
    const { errors } = await served.answer(
      '{ devices(filter: { hasCategory: "PresureSensor" }) { totalCount } }',
    );
    expect(errors?.[0].message).toBe(
      'hasCategory: "PresureSensor" is not a term of the component taxonomy; did you mean "PressureSensor"?',
    );
    expect(errors?.[0].extensions.code).toBe('BAD_INPUT');
  });
  test('are paged by cursors that survive', async () => {
    const one = await served.ask(
      '{ devices(first: 2) { pageInfo { endCursor hasNextPage } edges { node { id } } } }',
    );
    const two = await served.ask(
      'query ($after: String) { devices(first: 2, after: $after) { pageInfo { hasNextPage } nodes { id } } }',
      { after: one.devices.pageInfo.endCursor },
    );
    expect(two.devices).toEqual({
      pageInfo: { hasNextPage: false },
      nodes: [{ id: 'tarn-lobe-1' }, { id: 'tarn-sennit-3' }],
    });
  });
});

test('components of all devices are filtered and paged by device and designator', async () => {
  const { components } = await served.ask(`{
    components(filter: { category: "Accelerometer", categoryProbabilityAtLeast: 0.8 }, first: 2) {
      totalCount nodes { id } pageInfo { hasNextPage endCursor }
    }
  }`);
  expect(components).toMatchObject({
    totalCount: 4,
    nodes: [{ id: 'tarn-lobe-1/a/U10' }, { id: 'tarn-sennit-1/a/U10' }],
    pageInfo: { hasNextPage: true },
  });
  const seen: string[] = [];
  let before: string | undefined;
  for (;;) {
    const { components: page } = await served.ask(
      'query ($b: String) { components(orderBy: { direction: DESC }, last: 7, before: $b) { nodes { id } pageInfo { startCursor hasPreviousPage } } }',
      { b: before },
    );
    seen.unshift(...page.nodes.map(({ id }: { id: string }) => id));
    if (!page.pageInfo.hasPreviousPage) break;
    before = page.pageInfo.startCursor;
  }
  expect(seen).toHaveLength(30);
  expect(seen.slice(0, 2)).toEqual(['tarn-sennit-3/a/U10', 'tarn-sennit-3/a/U2']);
});

test('a part has its parameters, labels of others, and where it may be', async () => {
  const { part } = await served.ask(`{
    part(id: "quistle/QWR4T10") {
      number categories markings relabelledAs { id } parameters { name meaning quantity { text } text flag count }
      specimens { totalCount nodes { specimen { id } probability } } components { totalCount }
    }
  }`);
  expect(part).toMatchObject({
    number: 'QWR4T10',
    markings: ['4T10\n{date:YWW}'],
    relabelledAs: [{ id: 'ostrel/OS7R' }],
    parameters: [{ name: 'supplyMin', quantity: { text: '1.7 V' }, text: null, flag: null, count: null }],
    specimens: {
      totalCount: 4,
      nodes: expect.arrayContaining([{ specimen: { id: 'tarn-lobe-1/a' }, probability: 0.6 }]),
    },
    components: { totalCount: 4 },
  });
});

test('parts are ordered by use, and filtered', async () => {
  const { parts, seen } = await served.ask(`{
    parts(orderBy: { field: USE }, first: 1) { totalCount nodes { id } }
    seen: parts(filter: { seen: false }) { nodes { id } }
  }`);
  expect(parts.totalCount).toBe(6);
  expect(seen.nodes).toEqual([{ id: 'ostrel/OS7R' }]);
});

test('search finds beginnings of words, best first, with the things themselves', async () => {
  const { search } = await served.ask(
    '{ search(text: "sennit 3", kinds: [DEVICE]) { totalCount isComplete nodes { id kind title node { __typename id } } } }',
  );
  expect(search).toEqual({
    totalCount: 1,
    isComplete: true,
    nodes: [
      {
        id: 'tarn-sennit-3',
        kind: 'DEVICE',
        title: 'Tarn Sennit 3',
        node: { __typename: 'Device', id: 'tarn-sennit-3' },
      },
    ],
  });
});

test('devices are compared in the order asked; a specimen may be given for its device', async () => {
  const { compareDevices } = await served.ask(`{
    compareDevices(ids: ["tarn-sennit-2/b", "tarn-sennit-1"]) {
      columns { device { id } specimen { id } otherSpecimens }
      sensors { kind counts { certain expected } }
    }
  }`);
  expect(compareDevices.columns).toEqual([
    { device: { id: 'tarn-sennit-2' }, specimen: { id: 'tarn-sennit-2/b' }, otherSpecimens: 1 },
    { device: { id: 'tarn-sennit-1' }, specimen: { id: 'tarn-sennit-1/a' }, otherSpecimens: 0 },
  ]);
  const gyroscopes = compareDevices.sensors.find(({ kind }: { kind: string }) => kind === 'Gyroscope');
  expect(gyroscopes.counts).toEqual([
    { certain: 0, expected: 0.25 },
    { certain: 0, expected: 0.25 },
  ]);
});

test('a product line is listed from its first device to its last', async () => {
  const { generations } = await served.ask(`{
    generations(productLine: "tarn-sennit") {
      productLine { name }
      generations { number device { id } predecessors { id } successors { id } }
      comparison { columns { device { id } } }
    }
  }`);
  expect(generations.generations).toEqual([
    { number: 1, device: { id: 'tarn-sennit-1' }, predecessors: [], successors: [{ id: 'tarn-sennit-2' }] },
    {
      number: 2,
      device: { id: 'tarn-sennit-2' },
      predecessors: [{ id: 'tarn-sennit-1' }],
      successors: [{ id: 'tarn-sennit-3' }],
    },
    { number: 3, device: { id: 'tarn-sennit-3' }, predecessors: [{ id: 'tarn-sennit-2' }], successors: [] },
  ]);
});

test('a pattern is found by text or by id, with what its variables stand for', async () => {
  const { findPattern, named } = await served.ask(`{
    findPattern(text: "MATCH (s:Sensor)~[:CONNECTS]~(a:AnalogueFrontEnd) RETURN s, a") {
      totalCount certainCount expectedCount variables isComplete
      nodes { device { id } isCertain probability method matchCount
        matches(first: 10) { nodes { specimen { id } probability bindings { variable ids nodes { __typename } } } } }
    }
    named: findPattern(id: "front-end-at-sensor", first: 1) { totalCount nodes { device { id } } }
  }`);
  expect(findPattern).toMatchObject({ totalCount: 4, certainCount: 0, expectedCount: 3.6, isComplete: true });
  expect(findPattern.nodes[0]).toEqual({
    device: { id: 'tarn-lobe-1' },
    isCertain: false,
    probability: 0.9,
    method: 'EXACT',
    matchCount: 1,
    matches: {
      nodes: [
        {
          specimen: { id: 'tarn-lobe-1/a' },
          probability: 0.9,
          bindings: [
            { variable: 's', ids: ['tarn-lobe-1/a/D1'], nodes: [{ __typename: 'Component' }] },
            { variable: 'a', ids: ['tarn-lobe-1/a/U2'], nodes: [{ __typename: 'Component' }] },
          ],
        },
      ],
    },
  });
  expect(named).toEqual({ totalCount: 4, nodes: [{ device: { id: 'tarn-lobe-1' } }] });
});

test('a mistake in a pattern is reported with its place', async () => {
  const { data, errors } = await served.answer('{ findPattern(text: "FIND ()") { totalCount } }');
  expect(data).toEqual({ findPattern: null });
  const { code, problems } = errors?.[0].extensions ?? {};
  expect(code).toBe('BAD_PATTERN');
  expect(problems[0]).toMatchObject({ line: 1, column: 1 });
});

test('a publication shows what supports its claims', async () => {
  const { publication } = await served.ask(
    '{ publication(id: "letter-one") { kind published claims { id sentence probability publication { id } supportedBy { __typename id } } } }',
  );
  expect(publication.claims[0].supportedBy).toEqual([
    { __typename: 'Component', id: 'tarn-sennit-2/a/U2' },
    { __typename: 'Source', id: 'note-1' },
  ]);
});

test('the taxonomy explains every term', async () => {
  const { taxonomy } = await served.ask(
    '{ taxonomy(under: "InertialSensor") { name meaning parent above below } }',
  );
  expect(taxonomy[0]).toMatchObject({
    name: 'InertialSensor',
    parent: 'Sensor',
    below: ['Accelerometer', 'Gyroscope'],
  });
  expect(taxonomy[1].above).toEqual(['InertialSensor', 'Sensor', 'Component']);
});

test('look-ups of unknown ids answer null; comparisons answer NOT_FOUND and leave the rest intact', async () => {
  const { data, errors } = await served.answer(`{
    device(id: "x") { id } part(id: "x/y") { id } maker(id: "x") { id } node(id: "a/b/c") { id } specimen(id: "x/y") { id }
    compareDevices(ids: ["tarn-sennit-1", "x"]) { sensors { kind } }
    generations(productLine: "x") { productLine { id } }
    archive { devices }
  }`);
  expect(data).toEqual({
    device: null,
    part: null,
    maker: null,
    node: null,
    specimen: null,
    compareDevices: null,
    generations: null,
    archive: { devices: 4 },
  });
  expect(errors?.map(({ extensions }) => extensions.code)).toEqual(['NOT_FOUND', 'NOT_FOUND']);
});

test('quantities do not convert into what they do not measure', async () => {
  const { errors } = await served.answer(
    '{ device(id: "tarn-sennit-1") { mass { in(unit: "V") { value } } } }',
  );
  expect(errors?.[0]).toMatchObject({
    message: '31 g cannot be given in V: they measure different things',
    extensions: { code: 'BAD_INPUT' },
  });
});
