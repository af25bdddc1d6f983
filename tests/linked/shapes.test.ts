import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import rdf from '@zazuko/env-node';
import { Parser } from 'n3';
import SHACLValidator from 'rdf-validate-shacl';
import { beforeAll, expect, test } from 'vitest';
import { linkedPublication, linkedRecord } from '../../src/linked/document.ts';
import { vocabularyOf } from '../../src/linked/vocabulary.ts';
import type { State } from '../../src/state/state.ts';
import { archiveOf } from '../leaks/archives.ts';
import { demoArchive } from '../trends/demo.ts';
import { exported, quadsOf } from './reading.ts';

// schema/linked-data.shapes.ttl by an independent processor of W3C SHACL (rdf-validate-shacl); N3.js reads Turtle and N-Quads.

const TURTLE = readFileSync(join(import.meta.dirname, '../../schema/linked-data.shapes.ttl'), 'utf8');
const shapes = rdf.dataset(new Parser().parse(TURTLE) as never);
const validator = new SHACLValidator(shapes as never, { factory: rdf as never });

/** What does not fit: path, or the constraint where there is none. */
async function faultsOf(nquads: string): Promise<readonly string[]> {
  const data = rdf.dataset(new Parser({ format: 'N-Quads' }).parse(nquads) as never);
  const { results } = await validator.validate(data as never);
  return results.map(
    ({ path, sourceConstraintComponent, focusNode, message }) =>
      `${(path as { value?: string } | null)?.value ?? ''} ${sourceConstraintComponent?.value.split('#')[1]} ${(focusNode as { value?: string } | null)?.value} ${message.map(({ value }) => value).join()}`,
  );
}

let state: State;
let device: string;
let publication: string;
beforeAll(async () => {
  state = (await demoArchive()).state('desk');
  device = await quadsOf(
    JSON.parse((await exported(state, { of: 'device', id: 'tarn-sennit-3' })).text) as object,
  );
  publication = await quadsOf(await linkedPublication(state, 'bench-letter-31'));
}, 60_000);

test('devices, publications, decisions and corrections of two archives fit', async () => {
  expect(await faultsOf(device)).toEqual([]);
  expect(await faultsOf(publication)).toEqual([]);
  for (const { id } of state.publications())
    expect(await faultsOf(await quadsOf(await linkedPublication(state, id))), id).toEqual([]);
  expect(
    await faultsOf(await quadsOf(await linkedRecord(state, 'thovane-calcar-2:duplicated-sensors'))),
  ).toEqual([]);
  const corrected = (await archiveOf('whole')).state('desk');
  expect(await faultsOf(await quadsOf(JSON.parse((await exported(corrected)).text) as object))).toEqual([]);
}, 180_000);

const V = 'tag:caseback.invalid,2026:vocabulary#';
const XSD = 'http://www.w3.org/2001/XMLSchema#';

/** What is planted in a sound document, and the path that must be named. */
const PLANTED: readonly (readonly [what: string, plant: (nquads: string) => string, path: string])[] = [
  [
    'a probability above 1',
    (text) => text.replace(/(#probability> )"[^"]+"/u, '$1"1.5E0"'),
    `${V}probability`,
  ],
  [
    'a probability that is an integer',
    (text) => text.replace(/(#probability> )"[^"]+"\^\^<[^>]+>/u, `$1"1"^^<${XSD}integer>`),
    `${V}probability`,
  ],
  [
    'an observation with a probability',
    (text) =>
      `${text}<tag:caseback.invalid,2026:records/tarn-sennit-3/a/o2> <${V}probability> "1.0E0"^^<${XSD}double> .\n`,
    `${V}probability`,
  ],
  [
    'an observation that nobody made',
    (text) => lines(text, (line) => !line.includes('/a/o2> <http://www.w3.org/ns/prov#wasGeneratedBy>')),
    'http://www.w3.org/ns/prov#wasGeneratedBy',
  ],
  [
    'an identification that does not say what is unknown',
    (text) => lines(text, (line) => !line.includes('#unknownProbability>')),
    `${V}unknownProbability`,
  ],
  [
    'a quantity without a unit',
    (text) => lines(text, (line) => !line.includes('schema.org/unitCode>')),
    'http://schema.org/unitCode',
  ],
  [
    'least above most',
    (text) => text.replace(/(schema\.org\/minValue> )"[^"]+"/u, '$1"9.0E9"'),
    'http://schema.org/minValue',
  ],
  [
    'a date of a text',
    (text) => text.replace(/(schema\.org\/releaseDate> "[^"]+")\^\^<[^>]+>/u, '$1'),
    'http://schema.org/releaseDate',
  ],
  [
    'a component that lies nowhere',
    (text) => lines(text, (line) => !line.includes('/a/U2> <http://purl.org/dc/terms/isPartOf>')),
    'http://purl.org/dc/terms/isPartOf',
  ],
  [
    'a photo without a credit',
    (text) => lines(text, (line) => !line.includes('schema.org/creditText>')),
    'http://schema.org/creditText',
  ],
  [
    'a kind without a definition',
    (text) => lines(text, (line) => !line.includes('core#definition>')),
    'http://www.w3.org/2004/02/skos/core#definition',
  ],
];

function lines(text: string, isKept: (line: string) => boolean): string {
  return text.split('\n').filter(isKept).join('\n');
}

test.for(PLANTED)('%s is found', async ([, plant, path]) => {
  const planted = plant(device);
  expect(planted).not.toBe(device);
  expect((await faultsOf(planted)).some((fault) => fault.startsWith(path))).toBe(true);
});

test('a sentence without a publication is found', async () => {
  const planted = lines(publication, (line) => !line.includes('schema.org/isPartOf>'));
  expect(planted).not.toBe(publication);
  expect((await faultsOf(planted)).some((fault) => fault.startsWith('http://schema.org/isPartOf'))).toBe(
    true,
  );
});

test('shapes name classes and terms of the vocabulary alone', async () => {
  const described = await quadsOf(vocabularyOf({ base: 'tag:caseback.invalid,2026:' }));
  const named = [...TURTLE.matchAll(/caseback:(\w+)/gu)].map(([, name]) => name);
  expect(named.length).toBeGreaterThan(40);
  for (const name of named)
    expect(described, name).toContain(`<${V}${name}> <http://www.w3.org/2000/01/rdf-schema#comment>`);
});
