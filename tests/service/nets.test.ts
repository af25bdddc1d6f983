import { afterAll, beforeAll, expect, test } from 'vitest';
import { Archive } from '../../src/archive.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { CATALOGUE_WITH_PINOUT, DOSSIER_WITH_NETS, documentOf } from '../dossier/files.ts';
import { type Served, serve } from './serving.ts';

// Nets, pins, values and outlines of the sound dossier, all invented.

let served: Served;
beforeAll(async () => {
  const archive = await Archive.open(new MemoryJournal());
  await archive.importDocuments([documentOf(CATALOGUE_WITH_PINOUT), documentOf(DOSSIER_WITH_NETS)], {
    actor: 'bench',
    reason: 'test',
  });
  served = await serve({}, archive);
});
afterAll(() => served.close());

test('a specimen tells its nets with what they join, numbers and names from the pinout', async () => {
  const { specimen } = await served.ask(`{
    specimen(id: "tarn-sennit-3/a") {
      nets { totalCount nodes { id label kind bus medium isComplete note voltage { text } basis { id } observations { nodes { text } }
        pins { nodes { number name direction function component { designator fitted } } } } }
      power: nets(kind: POWER) { nodes { id } }
      wires: nets(bus: I2C, first: 1) { nodes { id } pageInfo { hasNextPage } }
    }
    device(id: "tarn-sennit-3") { nets(kind: GROUND) { nodes { id } } }
  }`);
  expect(specimen.power.nodes).toEqual([{ id: 'tarn-sennit-3/a/vdd' }]);
  expect(specimen.wires).toEqual({
    nodes: [{ id: 'tarn-sennit-3/a/sda' }],
    pageInfo: { hasNextPage: false },
  });
  const [vdd, gnd, sda] = specimen.nets.nodes;
  expect(vdd).toMatchObject({
    label: 'VDD',
    kind: 'POWER',
    voltage: { text: '1.8 V' },
    isComplete: true,
    basis: [{ id: 'tarn-sennit-3/a/seen-1' }],
  });
  const pin = (designator: string, number: string | null, name: string | null, more: object = {}) => ({
    number,
    name,
    direction: null,
    function: null,
    component: { designator, fitted: designator !== 'R2' },
    ...more,
  });
  expect(vdd.pins.nodes).toEqual([
    pin('U1', '1', 'VDD', { direction: 'POWER_INPUT' }),
    pin('R1', '1', null),
    pin('R2', '1', null),
  ]);
  // Two pins of U1 are called GND; of U2 it is not known which pin.
  expect(gnd.pins.nodes).toEqual([pin('U1', null, 'GND'), pin('U2', null, null)]);
  // U2 most likely is OS7, whose pin 2 is SDA.
  expect(sda.pins.nodes).toEqual([
    pin('U1', '4', 'SDA'),
    pin('R1', '2', null),
    pin('R2', '2', null),
    pin('U2', '2', 'SDA', { function: 'DATA' }),
  ]);
  expect(sda).toMatchObject({
    bus: 'I2C',
    medium: 'FLEX',
    isComplete: false,
    note: 'pulled up',
    observations: { nodes: [{ text: '400 kHz' }] },
  });
});

test('a component tells its value and its pins with their nets, a part its pinout, mated pins their pairs', async () => {
  const { specimen, part } = await served.ask(`{
    specimen(id: "tarn-sennit-3/a") {
      components { nodes { designator value fitted pinout { number name net { id } } } }
      links { nodes { pins { first second } } }
    }
    part(id: "ostrel/OS7") { pinout { number name function net { id } } }
  }`);
  const net = (id: string | null) => ({ net: id && { id: `tarn-sennit-3/a/${id}` } });
  expect(specimen.components.nodes).toEqual([
    {
      designator: 'R1',
      value: '4.7 kOhm',
      fitted: true,
      pinout: [
        { number: '1', name: null, ...net('vdd') },
        { number: '2', name: null, ...net('sda') },
      ],
    },
    {
      designator: 'R2',
      value: '10 kOhm',
      fitted: false,
      pinout: [
        { number: '1', name: null, ...net('vdd') },
        { number: '2', name: null, ...net('sda') },
      ],
    },
    {
      designator: 'U1',
      value: null,
      fitted: true,
      pinout: [
        { number: '1', name: 'VDD', ...net('vdd') },
        { number: '4', name: 'SDA', ...net('sda') },
        { number: '7', name: 'GND', ...net('gnd') },
        { number: '8', name: 'GND', ...net('gnd') },
      ],
    },
    {
      designator: 'U2',
      value: null,
      fitted: true,
      pinout: [
        { number: '2', name: 'SDA', ...net('sda') },
        { number: null, name: null, ...net('gnd') },
      ],
    },
  ]);
  expect(specimen.links.nodes).toEqual([{ pins: [{ first: 'SDA', second: '2' }] }]);
  expect(part.pinout).toEqual([{ number: '2', name: 'SDA', function: 'DATA', net: null }]);
});

test('a net has an id like anything else', async () => {
  const { node, seen } = await served.ask(`{
    node(id: "tarn-sennit-3/a/gnd") { ... on Net { kind specimen { id } } }
    seen: node(id: "tarn-sennit-3/a/seen-2") { ... on Observation { about { id ... on Net { bus } } } }
  }`);
  expect(node).toEqual({ kind: 'GROUND', specimen: { id: 'tarn-sennit-3/a' } });
  expect(seen.about).toEqual([{ id: 'tarn-sennit-3/a/sda', bus: 'I2C' }]);
});

test('a board has its extent, its area without cut-outs, and these', async () => {
  const { specimen } = await served.ask(
    '{ specimen(id: "tarn-sennit-3/a") { boards { length width area holes { outline { x y } } } } }',
  );
  expect(specimen.boards).toEqual([
    {
      length: 30,
      width: 20,
      area: 598,
      holes: [
        {
          outline: [
            { x: 10, y: 10 },
            { x: 12, y: 10 },
            { x: 12, y: 11 },
            { x: 10, y: 11 },
          ],
        },
      ],
    },
    { length: 10, width: 10, area: 50, holes: [] },
  ]);
});

test('nothing is a candidate for an empty place; values are found by search', async () => {
  const { specimen, search } = await served.ask(`{
    specimen(id: "tarn-sennit-3/a") { components { nodes { designator labels { term } identification { state } candidates { none } } } }
    search(text: "kOhm", first: 5) { nodes { title } }
  }`);
  expect(specimen.components.nodes[1]).toEqual({
    designator: 'R2',
    labels: [],
    identification: null,
    candidates: null,
  });
  expect(specimen.components.nodes[0].candidates.none).toBeGreaterThan(0);
  expect(search.nodes.map(({ title }: { title: string }) => title).sort()).toEqual([
    'R1 in Tarn Sennit 3',
    'R2, not fitted, in Tarn Sennit 3',
  ]);
});
