import { afterAll, beforeAll, expect, test } from 'vitest';
import { CATALOGUE, DOSSIERS } from './invented.ts';
import { archiveOf, type Served, serve } from './serving.ts';

// A device that is known before anybody opened one.

const KNOWN = {
  caseback: 'catalogue/1',
  devices: [
    {
      id: 'tarn-sennit-9',
      name: 'Tarn Sennit 9',
      maker: 'tarn',
      productLine: 'tarn-sennit',
      released: '2026',
      bodySite: 'wrist',
    },
  ],
};

let served: Served;
beforeAll(async () => {
  served = await serve({}, await archiveOf([CATALOGUE, ...DOSSIERS, KNOWN]));
});
afterAll(() => served.close());

test('is a device like others, of which nothing was seen', async () => {
  const { device, devices } = await served.ask(`{
    devices(first: 100) { edges { node { id } } }
    device(id: "tarn-sennit-9") {
      name year maker { id } productLine { id } specimen { id } specimens { id } boards { id } subsystems { id }
      components(first: 5) { totalCount } links(first: 5) { totalCount } kindCounts { kind }
    }
  }`);
  expect(devices.edges.map(({ node }: { node: { id: string } }) => node.id)).toContain('tarn-sennit-9');
  expect(device).toEqual({
    name: 'Tarn Sennit 9',
    year: 2026,
    maker: { id: 'tarn' },
    productLine: { id: 'tarn-sennit' },
    specimen: null,
    specimens: [],
    boards: [],
    subsystems: [],
    components: { totalCount: 0 },
    links: { totalCount: 0 },
    kindCounts: [],
  });
});

test('is found by its name, and says why it cannot be compared', async () => {
  const { search } = await served.ask('{ search(text: "sennit 9", kinds: [DEVICE]) { totalCount } }');
  expect(search.totalCount).toBe(1);
  const { errors } = await served.answer(
    '{ compareDevices(ids: ["tarn-sennit-9", "tarn-sennit-3"]) { columns { device { id } } } }',
  );
  expect(errors?.[0].message).toBe(
    'Nobody has opened Tarn Sennit 9 yet: no specimen of "tarn-sennit-9" is in the archive',
  );
});

test('is in no figure over what was opened', async () => {
  const query = '{ trend(of: { share: { category: "Sensor" } }) { total { periods { period devices n } } } }';
  const without = await serve({}, await archiveOf());
  expect(await served.ask(query)).toEqual(await without.ask(query));
  await without.close();
});
