import { afterAll, beforeAll, expect, test } from 'vitest';
import { Archive } from '../../src/archive.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { caseback } from '../cli/running.ts';
import { referenceDeviceId, referenceDocuments } from '../reference-boards.ts';
import { type Served, serve } from './serving.ts';

// What follows from nets, as the query service tells it, on a published device: see tests/reference/boards/.

const id = `${referenceDeviceId('wrist-band')}/a`;
let served: Served;
beforeAll(async () => {
  const archive = await Archive.open(new MemoryJournal());
  await archive.importDocuments(referenceDocuments(['wrist-band']), { actor: 'bench', reason: 'test' });
  served = await serve({}, archive);
});
afterAll(() => served.close());

test('who feeds whom: from the plug through fuse and diode to the charger, from the charger to the regulator', async () => {
  const { specimen } = await served.ask(`{
    specimen(id: "${id}") {
      feeds { totalCount nodes { source { designator } load { designator } voltage { text } supply isSwitched through { designator } } }
      charger: feeds(component: "${id}/U4") { nodes { source { designator } load { designator } } }
    }
  }`);
  const feeds = specimen.feeds.nodes as { source: { designator: string }; load: { designator: string } }[];
  const between = (source: string, load: string) =>
    feeds.find((one) => one.source.designator === source && one.load.designator === load);
  expect(between('J1', 'U4')).toMatchObject({
    voltage: { text: '5 V' },
    supply: 'CONNECTOR',
    isSwitched: false,
    through: [{ designator: 'F1' }, { designator: 'D1' }],
  });
  expect(between('U4', 'U5')).toMatchObject({ supply: 'CHARGER' });
  expect(between('U5', 'U7')).toMatchObject({ supply: 'LINEAR', voltage: { text: '3.3 V' } });
  expect(specimen.charger.nodes.length).toBeLessThan(feeds.length);
  expect(
    specimen.charger.nodes.every(
      (one: (typeof feeds)[number]) => one.source.designator === 'U4' || one.load.designator === 'U4',
    ),
  ).toBe(true);
});

test('signal paths and shared buses, of one bus or one component', async () => {
  const { specimen } = await served.ask(`{
    specimen(id: "${id}") {
      signalPaths(bus: I2C) { nodes { ends { designator } lines isBoardToBoard through { designator } } }
      sharedBuses(component: "${id}/U6") { nodes { bus lines ends { designator } } }
    }
  }`);
  const ends = [{ designator: 'U6' }, { designator: 'U7' }];
  expect(specimen.signalPaths.nodes).toEqual([{ ends, lines: 2, isBoardToBoard: false, through: [] }]);
  expect(specimen.sharedBuses.nodes).toEqual([{ bus: 'I2C', lines: 2, ends }]);
});

test('a component that the specimen does not have is named', async () => {
  const { errors } = await served.answer(
    `{ specimen(id: "${id}") { feeds(component: "U99") { totalCount } } }`,
  );
  expect(errors).toMatchObject([
    { message: expect.stringContaining('no component of'), extensions: { code: 'NOT_FOUND' } },
  ]);
});

test('the command asks the same', async () => {
  const { code, out } = await caseback(['wiring', '--help'], { cwd: '.' });
  expect([code, out]).toEqual([0, expect.stringContaining('who feeds whom')]);
});
