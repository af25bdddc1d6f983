import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { circuitDistance } from '../../src/compare/circuit-distance.ts';
import { clusterDevices } from '../../src/compare/clusters.ts';
import { similarDevices, whySimilar } from '../../src/compare/similarity.ts';
import { Holder } from '../../src/state/holder.ts';
import { dossierChange, entriesOf } from '../state/archive-of.ts';
import { CATALOGUE, seeds, viewOf, type Written, writtenDevice } from './dossiers.ts';

/** A device of one of two clearly unlike designs. */
function designed(id: string, design: 'pulse' | 'sound', more: Partial<Written> = {}): Written {
  const looks =
    design === 'pulse'
      ? ['Photodiode', 'GreenEmitter', 'GreenEmitter', 'AnalogueFrontEnd', 'OpticalBarrier']
      : ['Microphone', 'Speaker', 'AudioCodec', 'Button'];
  const components = looks.map((appears, at) => ({ id: `U${at + 1}`, appears }));
  return writtenDevice(id, 1, {
    components,
    identifications: [],
    connections: components
      .slice(1)
      .map((one) => ({ between: ['U1', one.id] as [string, string], medium: 'trace' as const })),
    ...more,
  });
}
const six = [0, 1, 2, 3, 4, 5].map((n) => designed(`d-${n}`, n % 2 === 0 ? 'pulse' : 'sound'));

describe('nearest devices', () => {
  test('those of the same design come first, with 1 for equal graphs', async () => {
    const { devices, comparedWith } = await similarDevices(viewOf(six), 'd-0');
    expect(comparedWith).toBe(5);
    expect(devices.slice(0, 2)).toMatchObject([
      { device: { id: 'd-2' }, similarity: expect.closeTo(1, 12) },
      { device: { id: 'd-4' }, similarity: expect.closeTo(1, 12) },
    ]);
    expect(devices[2].similarity).toBe(0);
  });

  test('similarity is symmetric and from 0 to 1', () =>
    fc.assert(
      fc.asyncProperty(seeds(3), async (numbers) => {
        const view = viewOf(numbers.map((seed, at) => writtenDevice(`d-${at}`, seed)));
        const [from0, from1] = [await similarDevices(view, 'd-0'), await similarDevices(view, 'd-1')];
        const there = from0.devices.find(({ device }) => device.id === 'd-1')?.similarity;
        const back = from1.devices.find(({ device }) => device.id === 'd-0')?.similarity;
        expect(there).toBeCloseTo(back as number, 12);
        expect(there).toBeGreaterThanOrEqual(0);
        expect(there).toBeLessThanOrEqual(1);
      }),
      { numRuns: 50 },
    ));

  test('why two are near, in words', () => {
    const view = viewOf(six);
    const opened = (id: string) => {
      const specimen = view.specimen(`${id}/a`);
      if (!specimen) throw new Error(id);
      return specimen;
    };
    const shared = whySimilar(view, opened('d-0'), opened('d-2'));
    expect(shared[0]).toEqual({
      steps: 0,
      words: 'GreenEmitter',
      inFirst: 2,
      inSecond: 2,
      share: expect.any(Number),
    });
    expect(shared.map(({ words }) => words)).toContain(
      'Photodiode beside AnalogueFrontEnd, 2 GreenEmitter and OpticalBarrier',
    );
    expect(whySimilar(view, opened('d-0'), opened('d-1'))).toEqual([]);
  });

  test('a hidden device is in no answer, and changes are taken into account', async () => {
    const written = [...six, designed('d-9', 'pulse', { visibility: 'draft' })];
    const seen = await similarDevices(viewOf(written), 'd-0');
    expect(seen.devices.map(({ device }) => device.id)).not.toContain('d-9');
    expect(seen.comparedWith).toBe(5);
    expect((await similarDevices(viewOf(written, 'desk'), 'd-0')).comparedWith).toBe(6);

    const live = new Holder();
    const changes = [...CATALOGUE, ...six.map(dossierChange)];
    live.apply(entriesOf(changes));
    const similarityOf1 = async () =>
      (await similarDevices(live.state('reader', '2026-01-01T00:00:00Z'), 'd-0')).devices.find(
        ({ device }) => device.id === 'd-1',
      )?.similarity;
    expect(await similarityOf1()).toBe(0);
    live.apply(entriesOf([dossierChange(designed('d-1', 'pulse'))], changes.length + 1));
    expect(await similarityOf1()).toBeCloseTo(1, 12);
  });

  test('heights out of range are refused', async () => {
    await expect(similarDevices(viewOf(six), 'd-0', { iterations: 9 })).rejects.toThrow('from 0 to 5');
  });
});

describe('clusters', () => {
  test('similar designs are grouped, unlike designs separated, and the marks describe them', async () => {
    const { clusters, devices, modularity } = await clusterDevices(viewOf(six));
    expect(devices).toBe(6);
    // Two components of equal weight and no tie between them: Newman's modularity is 1/2.
    expect(modularity).toBeCloseTo(0.5, 9);
    expect(clusters.map(({ members }) => members.map(({ device }) => device.id).sort())).toEqual([
      ['d-0', 'd-2', 'd-4'],
      ['d-1', 'd-3', 'd-5'],
    ]);
    expect(clusters[0].members[0].similarity).toBeCloseTo(1, 6);
    expect(clusters[0].marks[0]).toMatchObject({ inside: 3, outside: 0 });
  });

  test('the same seed gives the same clusters, whatever the order of filing', () =>
    fc.assert(
      fc.asyncProperty(
        seeds(6, 9).chain((numbers) =>
          fc.tuple(
            fc.constant(numbers),
            fc.shuffledSubarray([...numbers.keys()], { minLength: numbers.length }),
          ),
        ),
        async ([numbers, order]) => {
          const written = numbers.map((seed, at) => writtenDevice(`d-${at}`, seed));
          const straight = await clusterDevices(viewOf(written), { seed: 7 });
          const mixed = await clusterDevices(viewOf(order.map((at) => written[at])), { seed: 7 });
          expect(mixed).toEqual(straight);
          expect(straight.clusters.flatMap(({ members }) => members)).toHaveLength(numbers.length);
        },
      ),
      { numRuns: 30 },
    ));

  test('a filter and nothing left', async () => {
    expect((await clusterDevices(viewOf(six), { filter: { bodySites: ['ear'] } })).clusters).toEqual([]);
    await expect(clusterDevices(viewOf(six), { resolution: 0 })).rejects.toThrow('resolution is 0');
  });
});

describe('edit distance of circuits', () => {
  test('a chip removed with its connection costs two', async () => {
    const [first] = six;
    const less: Written = {
      ...designed('d-8', 'pulse'),
      components: first.components?.slice(0, 4),
      connections: first.connections?.slice(0, 3),
    };
    const answer = await circuitDistance(viewOf([first, less]), ['d-0', 'd-8']);
    expect(answer).toMatchObject({ distance: 2, nodesRemoved: 1, edgesRemoved: 1, sizes: [5, 4] });
    expect(answer.nodes.find(({ to }) => to === undefined)).toMatchObject({
      kinds: ['OpticalBarrier', undefined],
    });
  });
  test('a single kind of subsystem, and an unknown kind', async () => {
    const answer = await circuitDistance(viewOf(six), ['d-0', 'd-1'], { subsystem: 'radio' });
    expect(answer).toMatchObject({ distance: 0, sizes: [0, 0] });
    await expect(circuitDistance(viewOf(six), ['d-0', 'd-1'], { subsystem: 'x' })).rejects.toThrow(
      'not a kind',
    );
  });
});
