import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { HIDDEN } from './invented.ts';
import { archiveOf, type Served, serve } from './serving.ts';

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

describe('compareDevices', () => {
  test('gives sections of figures with units, and the two kinds of missing', async () => {
    const { compareDevices } = await reader.ask(`{
      compareDevices(ids: ["tarn-sennit-1", "tarn-sennit-2/b"]) {
        sections(keys: [DEVICE, SENSORS, BOARDS, BATTERY]) {
          key label rows { key label unit meaning presentIn cells { certain expected possible missing note } } } } }`);
    const rows = new Map<string, { cells: object[] }>(
      compareDevices.sections.flatMap((section: { rows: { key: string }[] }) =>
        section.rows.map((row) => [row.key, row]),
      ),
    );
    expect(compareDevices.sections.map(({ key }: { key: string }) => key)).toEqual([
      'DEVICE',
      'SENSORS',
      'BATTERY',
      'BOARDS',
    ]);
    expect(rows.get('sensors.Accelerometer')).toMatchObject({
      unit: '1',
      presentIn: 2,
      cells: [
        { certain: 0, expected: 0.85, possible: 1, missing: null },
        { certain: 0, expected: 0.85 },
      ],
    });
    // 30 mm by 20 mm and a triangle of legs 10 mm: 6 cm² and half a square centimetre.
    expect(rows.get('boards.area')).toMatchObject({
      unit: 'cm2',
      cells: [{ certain: 6.5 }, { certain: 6.5 }],
    });
    expect(rows.get('battery.capacity')).toMatchObject({
      cells: [{ certain: null, missing: 'NOT_OBSERVED' }, { missing: 'NOT_OBSERVED' }],
    });
  });

  test('aligns components and says what became of each, and why', async () => {
    const { compareDevices } = await reader.ask(`{
      compareDevices(ids: ["tarn-sennit-1", "tarn-sennit-2"]) {
        alignment(weights: { margin: 0.05, labels: null }) {
          rows { role cells { component { designator specimen { id } } part { id } probability }
            changes { change certainty pairing samePart isElsewhere reason } }
          steps { from to tallies { change rows certain expected } }
          weights { name value meaning } } } }`);
    const { rows, steps, weights } = compareDevices.alignment;
    const kept = rows.find(({ role }: { role: string }) => role === 'Photodiode');
    expect(kept).toMatchObject({
      cells: [
        {
          component: { designator: 'D1', specimen: { id: 'tarn-sennit-1/a' } },
          part: null,
          probability: null,
        },
        { component: { designator: 'D1', specimen: { id: 'tarn-sennit-2/a' } } },
      ],
      changes: [{ change: 'KEPT', isElsewhere: false }],
    });
    expect(steps).toHaveLength(1);
    expect(steps[0].tallies.map(({ change }: { change: string }) => change)).toEqual([
      'KEPT',
      'REPLACED',
      'MOVED',
      'ADDED',
      'REMOVED',
      'NOT_OBSERVED',
    ]);
    const value = (name: string) => weights.find((one: { name: string }) => one.name === name).value;
    expect([value('margin'), value('labels')]).toEqual([0.05, 0.36]);
  });

  test('refuses what it cannot do, with the fix', async () => {
    const { data, errors } = await reader.answer(`{
      compareDevices(ids: ["tarn-sennit-1"]) { alignment { rows { role } } } }`);
    expect(data).toEqual({ compareDevices: { alignment: null } });
    expect(errors?.[0]).toMatchObject({
      message: expect.stringContaining('2 to 20'),
      extensions: { code: 'BAD_INPUT' },
    });
  });
});

test('a line: steps, what came and went, integration and hardware revisions', async () => {
  const { generations } = await reader.ask(`{
    generations(productLine: "tarn-sennit") {
      generations { number device { id }
        keptParts { part { id } since { id } probability }
        integration { certainChips expectedChips certainFunctions expectedFunctions expectedFunctionsAChip unnamed }
        revisions { from { id } to { id } isChanged alignment { steps { tallies { change rows } } } } }
      steps { from { id } to { id } alignment { steps { tallies { change rows expected } } }
        decisions { pattern { id } adopted before after probability isCertain } }
      parts { part { id } first { id } last { id } isCurrent certain expected possible maybeUntil { id } }
      makers { maker { id } first { id } last { id } } } }`);
  expect(
    generations.steps.map(({ from, to }: { from: { id: string }; to: { id: string } }) => [from.id, to.id]),
  ).toEqual([
    ['tarn-sennit-1', 'tarn-sennit-2'],
    ['tarn-sennit-2', 'tarn-sennit-3'],
  ]);
  // One specimen of the second Sennit lacks the front end at the sensor, the other has it: nothing was dropped.
  expect(generations.steps.map(({ decisions }: { decisions: object[] }) => decisions)).toMatchObject([
    [],
    [],
  ]);
  // What only one of them has on record may be in the other: not every board was inventoried.
  expect(generations.generations[1].revisions).toMatchObject([
    { from: { id: 'tarn-sennit-2/a' }, to: { id: 'tarn-sennit-2/b' }, isChanged: false },
  ]);
  expect(
    generations.parts.find(({ part }: { part: { id: string } }) => part.id === 'ostrel/OS7'),
  ).toMatchObject({
    first: { id: 'tarn-sennit-1' },
    last: { id: 'tarn-sennit-3' },
    isCurrent: true,
  });
});

test('similar devices, clusters and the distance of circuits', async () => {
  const { similarDevices, deviceClusters, circuitDistance } = await reader.ask(`{
    similarDevices(id: "tarn-sennit-1", first: 2) { comparedWith of { device { id } }
      devices { device { id } specimen { id } similarity shared(first: 1) { steps words inFirst inSecond share } } }
    deviceClusters { devices modularity clusters { typical { id } members { nodes { device { id } similarity } } marks { words inside outside } } }
    circuitDistance(from: "tarn-sennit-1", to: "tarn-sennit-2", subsystem: SENSING) {
      distance atLeast atMost method relabelled nodesRemoved nodesAdded edgesRemoved edgesAdded
      nodes(first: 2) { totalCount nodes { from to kindBefore kindAfter } } } }`);
  expect(similarDevices).toMatchObject({ comparedWith: 3, of: { device: { id: 'tarn-sennit-1' } } });
  expect(similarDevices.devices).toHaveLength(2);
  expect(similarDevices.devices[0].similarity).toBeCloseTo(1, 9);
  expect(similarDevices.devices[0].shared[0]).toMatchObject({ steps: 0, inFirst: expect.any(Number) });
  expect(deviceClusters.devices).toBe(4);
  expect(circuitDistance.nodes.nodes).toHaveLength(2);
  expect(circuitDistance.nodes.totalCount).toBeGreaterThan(2);
  expect(['SEARCH', 'BOUNDS_MEET']).toContain(circuitDistance.method);
  expect([circuitDistance.atLeast, circuitDistance.atMost]).toEqual([
    circuitDistance.distance,
    circuitDistance.distance,
  ]);
  const { distance, relabelled, nodesRemoved, nodesAdded, edgesRemoved, edgesAdded } = circuitDistance;
  expect(relabelled + nodesRemoved + nodesAdded + edgesRemoved + edgesAdded).toBe(distance);
});

test('hidden devices show in no comparison, line, likeness or cluster', async () => {
  const query = `{
    generations(productLine: "tarn-sennit") {
      generations { device { id } }
      steps { from { id } to { id } }
      parts { part { id } first { id } last { id } certain expected possible isCurrent }
      makers { maker { id } last { id } possible } }
    similarDevices(id: "tarn-sennit-1", first: 100) { comparedWith devices { device { id } } }
    deviceClusters { devices clusters { typical { id } members { nodes { device { id } } } marks { words inside outside } } } }`;
  const seen = await reader.ask(query);
  const all = await desk.ask(query);
  for (const id of HIDDEN.devices) {
    expect(JSON.stringify(seen)).not.toContain(id);
    expect(JSON.stringify(all)).toContain(id);
  }
  expect([seen.deviceClusters.devices, all.deviceClusters.devices]).toEqual([4, 6]);

  for (const question of [
    'query ($id: ID!) { similarDevices(id: $id) { comparedWith } }',
    'query ($id: ID!) { circuitDistance(from: "tarn-sennit-1", to: $id) { distance } }',
    'query ($id: ID!) { compareDevices(ids: ["tarn-sennit-1", $id]) { alignment { rows { role } } } }',
  ]) {
    const answers = await Promise.all(
      ['tarn-hidden', 'never-was'].map(async (id) =>
        JSON.stringify(await reader.answer(question, { id })).replaceAll(id, 'ID'),
      ),
    );
    expect(answers[0]).toBe(answers[1]);
    expect(answers[0]).toContain('NOT_FOUND');
  }
});
