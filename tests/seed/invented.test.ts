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

test('no chip is marked with three figures or more and nothing else, as many parts on sale are', () => {
  // Inductors bear the code of their value (IEC 60062) and crystals that of their frequency.
  const chips = catalogue.parts.filter(
    ({ categories }) => !categories.some((term) => ['Inductor', 'Crystal'].includes(term)),
  );
  const bare = chips.flatMap(({ number, markings }) =>
    markings
      .map((template) => template.split('\n')[0].replaceAll(/\{[^}]*\}/gu, ''))
      .filter((line) => /^\d{3,}$/u.test(line))
      .map((line) => `${number}: ${line}`),
  );
  expect(bare).toEqual([]);
});

test('the number of a rechargeable button cell is no code of its size, as it is on sale', () => {
  const cells = catalogue.parts.filter(
    ({ categories, parameters }) => categories.includes('ButtonCell') && parameters.rechargeable === true,
  );
  expect(cells.length).toBeGreaterThan(2);
  const coded = cells.filter(({ number, body }) => {
    const [figures = ''] = /\d+/u.exec(number) ?? [];
    const sizes = [body?.length ?? 0, (body?.height ?? 0) * 10].map((size) => String(Math.round(size)));
    return sizes.some((size) => figures.includes(size)) && figures.length > 2;
  });
  expect(coded.map(({ number }) => number)).toEqual([]);
});

test('a dossier is found under the name of its specimen', () => {
  const folder = fileURLToPath(new URL('../../seed-data/dossiers/', import.meta.url));
  const expected = dossiers.map((one) => `${specimenIdOf(one).replace('/', '-')}.yaml`).sort();
  expect(readdirSync(folder).sort()).toEqual([...expected, 'photos'].sort());
});
