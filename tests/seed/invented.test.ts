import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { specimenIdOf } from '../../src/model/dossier.ts';
import { catalogue, devices, dossiers, parts } from './seed.ts';

test('every maker and every device is marked as invented', () => {
  expect(catalogue.makers.filter(({ invented }) => !invented)).toEqual([]);
  expect([...devices.values()].filter(({ invented }) => !invented)).toEqual([]);
});

test('every part, product line and device belongs to an invented maker', () => {
  const invented = new Set(catalogue.makers.map(({ id }) => id));
  const owners = [...parts.values(), ...catalogue.productLines, ...devices.values()].map(
    ({ maker }) => maker,
  );
  expect(owners.filter((maker) => !invented.has(maker))).toEqual([]);
});

test('every source but a published standard says that it is invented', () => {
  const silent = catalogue.sources.filter(
    ({ kind, note }) => kind !== 'standard' && !note?.startsWith('Invented.'),
  );
  expect(silent).toEqual([]);
});

test('files of parts, publications and makers say so at their top', () => {
  const folder = fileURLToPath(new URL('../../seed-data/', import.meta.url));
  const files = [
    'makers.yaml',
    'publications.yaml',
    'sources.yaml',
    ...readdirSync(`${folder}parts`).map((name) => `parts/${name}`),
  ];
  const silent = files.filter((name) => {
    const top = readFileSync(folder + name, 'utf8').split('caseback:')[0];
    return !/invented/iu.test(top);
  });
  expect(silent).toEqual([]);
});

test('FCC grantee codes begin with 9X and trade item numbers with 29, which identify nothing on sale', () => {
  // GS1 keeps prefixes 20 to 29 for numbers inside one company (GS1 General Specifications, prefixes; from memory).
  const ids = [...devices.values()].flatMap(({ regulatoryIds }) => regulatoryIds);
  expect(ids.filter(({ scheme, id }) => scheme === 'fcc' && !id.startsWith('9X'))).toEqual([]);
  expect(ids.filter(({ scheme, id }) => scheme === 'gtin' && !id.startsWith('29'))).toEqual([]);
});

test('a dossier is found under the name of its specimen', () => {
  const folder = fileURLToPath(new URL('../../seed-data/dossiers/', import.meta.url));
  const expected = dossiers.map((one) => `${specimenIdOf(one).replace('/', '-')}.yaml`).sort();
  expect(readdirSync(folder).sort()).toEqual(expected);
});
