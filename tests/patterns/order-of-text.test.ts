import { beforeAll, expect, test } from 'vitest';
import { findPattern } from '../../src/questions/patterns.ts';
import type { State } from '../../src/state/state.ts';
import { seededRandom } from '../../src/statistics/random.ts';
import { demo } from '../presence/archives.ts';
import { testSeed } from '../random.ts';

// The parts of a graph pattern are joined and a path may be written from either end (ISO/IEC 39075): the order in which a text is
// written has no meaning. Random texts over the demo archive, each in several orders.

let state: State;
beforeAll(async () => {
  state = (await demo()).state('desk');
});

/** Links of the archive, with what they lead from and to. */
const LINKS = [
  ['Specimen', 'SPECIMEN_OF', 'Device'],
  ['Specimen', 'HAS_BOARD', 'Board'],
  ['Component', 'ON', 'Board'],
  ['Component', 'IDENTIFIED_AS', 'Part'],
  ['Part', 'MADE_BY', 'Maker'],
  ['Device', 'MADE_BY', 'Maker'],
] as const;
const KINDS = ['Sensor', 'Accelerometer', 'Microcontroller', 'Charger', 'Radio', 'PressureSensor'];

/** A walk along links: nodes as they are written, and the links between them with their directions. */
interface Walk {
  readonly nodes: readonly string[];
  readonly links: readonly { readonly label: string; readonly forward: boolean }[];
}

function textOf({ nodes, links }: Walk, fromEnd: boolean): string {
  const ordered = fromEnd ? nodes.toReversed() : nodes;
  const steps = (fromEnd ? links.toReversed() : links).map(({ label, forward }) =>
    forward !== fromEnd ? `-[:${label}]->` : `<-[:${label}]-`,
  );
  return ordered.map((node, at) => node + (steps[at] ?? '')).join('');
}

function drawn(random: ReturnType<typeof seededRandom>): { readonly walks: readonly Walk[] } {
  const pick = <T>(of: readonly T[]): T => of[Math.floor(random.uniform() * of.length)];
  let count = 0;
  const named = (kind: string): string => {
    const name = `v${++count}`;
    const bare = random.uniform() < 0.4;
    if (kind === 'Component') return `(${name}:${pick(KINDS)})`;
    return bare ? `(${name})` : `(${name}:${kind})`;
  };
  const walk = (length: number): Walk => {
    let at: string = 'Component';
    const nodes = [named(at)];
    const links: { label: string; forward: boolean }[] = [];
    while (links.length < length) {
      const [from, label, to] = pick(LINKS.filter((link) => link[0] === at || link[2] === at));
      const forward = from === at;
      at = forward ? to : from;
      nodes.push(named(at));
      links.push({ label, forward });
    }
    return { nodes, links };
  };
  const walks = [walk(1 + Math.floor(random.uniform() * 4))];
  if (random.uniform() < 0.4)
    walks.push({ nodes: [random.uniform() < 0.5 ? '(m:Maker)' : '(m:Part)'], links: [] });
  return { walks };
}

async function answerOf(text: string) {
  const { devices, unlikely } = await findPattern(state, { text });
  return {
    devices: devices.map(({ deviceId, probability, matches }) => [
      deviceId,
      probability.toFixed(9),
      matches.length < 200 ? matches.length : 'many',
    ]),
    unlikely: [...unlikely.keys()].sort(),
  };
}

test('a text finds the same in whatever order it is written', { timeout: 120_000 }, async () => {
  const random = seededRandom(testSeed());
  for (let round = 0; round < 16; round++) {
    const { walks } = drawn(random);
    const written = [false, true].flatMap((fromEnd) => {
      const paths = walks.map((walk) => textOf(walk, fromEnd));
      return [paths, paths.toReversed()].flatMap((ordered) => [
        `MATCH ${ordered.join(', ')} RETURN 1 AS one`,
        `MATCH ${ordered.join(' MATCH ')} RETURN 1 AS one`,
      ]);
    });
    const [first, ...others] = [...new Set(written)];
    const answer = await answerOf(first);
    for (const other of others) expect([first, other, await answerOf(other)]).toEqual([first, other, answer]);
  }
});

test('a device whose second specimen alone shows it is found from either end', async () => {
  const links = "(x:Accelerometer)-[:IDENTIFIED_AS]->(:Part {number: 'VKR20'})";
  const forth = `MATCH (d:Device)<-[:SPECIMEN_OF]-(s:Specimen)-[:HAS_BOARD]->(:Board)<-[:ON]-${links} RETURN s`;
  expect((await answerOf(forth)).devices.map(([id]) => id)).toContain('tarn-sennit-3');
});

test('bindings stand in the order of the text', async () => {
  const text = 'MATCH q = (x:Component)-[:ON]->(b) MATCH (m:Maker) RETURN x';
  const { devices, variables } = await findPattern(state, { text });
  expect(variables).toEqual(['q', 'x', 'b', 'm']);
  expect(devices[0].matches[0].bindings.map(({ variable }) => variable)).toEqual(variables);
});

test('matches of two specimens count apart, whether what they name is named or not', async () => {
  const counts = async (text: string) => {
    const { devices } = await findPattern(state, { text });
    return devices.map(({ deviceId, matches }) => [deviceId, matches.length]);
  };
  const named = await counts('MATCH (x:Accelerometer) RETURN x');
  expect(named.some(([, count]) => Number(count) > 1)).toBe(true);
  expect(await counts('MATCH (:Accelerometer) RETURN 1 AS one')).toEqual(named);
});

test('a match of devices and specimens alone counts once', async () => {
  const { devices } = await findPattern(state, { text: 'MATCH (d:Device)<-[:SPECIMEN_OF]-(s) RETURN d, s' });
  for (const { deviceId, matches } of devices)
    expect([deviceId, matches.length]).toEqual([deviceId, state.specimensOf(deviceId).length]);
});
