import { expect, test } from 'vitest';
import { listComponents } from '../../src/state/lists/component-list.ts';
import { listDevices } from '../../src/state/lists/device-list.ts';
import { catalogueChanges, DEVICE, dossierChange, liveOf, SMALL_CATALOGUE } from './archive-of.ts';

const COMPONENT = { id: 'U1', marking: 'ZZHIDDEN' } as const;
const identifications = [{ component: 'U1', candidates: [{ part: 'ostrel/OS7', probability: 0.9 }] }];
const live = liveOf([
  ...SMALL_CATALOGUE,
  ...catalogueChanges({
    makers: [{ id: 'veil', name: 'Veil', makes: ['devices'] }],
    productLines: [{ id: 'veil-one', name: 'Veil One', maker: 'veil' }],
    publications: [{ id: 'secret', kind: 'article', title: 'Secret', visibility: 'draft' }],
  }),
  dossierChange({ device: DEVICE, specimen: { id: 'a' }, components: [{ id: 'U1' }] }),
  dossierChange({
    device: DEVICE.id,
    specimen: { id: 'b' },
    visibility: 'draft',
    components: [COMPONENT],
    identifications,
  }),
  dossierChange({
    device: {
      ...DEVICE,
      id: 'veil-1',
      name: 'Veil 1',
      maker: 'veil',
      productLine: 'veil-one',
      released: '2026-11',
    },
    specimen: { id: 'a' },
    visibility: 'embargoed',
    embargoUntil: '2027-02-01T09:00:00+01:00',
    components: [COMPONENT],
    identifications,
  }),
]);
const reader = live.state('reader', '2027-02-01T07:59:59.999Z');
const desk = live.state('desk', '2027-02-01T07:59:59.999Z');
const after = live.state('reader', '2027-02-01T08:00:00.000Z');

test('a reader sees nothing of drafts and embargoes: no record, list, count, holder, line, maker or hit', () => {
  expect(reader.device('veil-1')).toBeUndefined();
  expect(reader.specimen('veil-1/a')).toBeUndefined();
  expect(reader.specimen('tarn-sennit-1/b')).toBeUndefined();
  expect(listDevices(reader, {}, 'ID').map(({ id }) => id)).toEqual(['tarn-sennit-1']);
  expect(listComponents(reader, {}, 'DEVICE')).toHaveLength(1);
  expect(reader.holdersOf('ostrel/OS7')).toEqual([]);
  expect(reader.maker('veil')).toBeUndefined();
  expect(reader.productLines().map(({ id }) => id)).toEqual(['tarn-sennit']);
  expect(reader.publications()).toEqual([]);
  for (const question of ['veil', 'zzhidden', 'secret']) expect([...reader.search(question)]).toEqual([]);
});

test('the desk sees everything, and so does a reader once the embargo has passed', () => {
  expect(desk.device('veil-1')?.name).toBe('Veil 1');
  expect(listComponents(desk, {}, 'DEVICE')).toHaveLength(3);
  expect([...desk.search('zzhidden')]).toHaveLength(2);
  expect(after.device('veil-1')?.name).toBe('Veil 1');
  expect(after.maker('veil')?.name).toBe('Veil');
  // The draft stays hidden: it has no day on which it opens.
  expect(after.specimen('tarn-sennit-1/b')).toBeUndefined();
});
