import jsonld from 'jsonld';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Archive } from '../../src/archive.ts';
import { linkedPublication, linkedRecord } from '../../src/linked/document.ts';
import { idOfIri, NOWHERE, placeAt } from '../../src/linked/places.ts';
import { contextOf, vocabularyOf } from '../../src/linked/vocabulary.ts';
import { unitCode } from '../../src/model/quantity.ts';
import type { State } from '../../src/state/state.ts';
import { everyId } from '../export/every-id.ts';
import { archiveOf } from '../leaks/archives.ts';
import { demoArchive } from '../trends/demo.ts';
import { ask, canonical, exported, quadsOf, SAFE, storeOf } from './reading.ts';

// JSON-LD 1.1 (W3C Recommendation, 2020) held to two processors from outside: see reading.ts.

let archive: Archive;
let state: State;
let whole: string;
/** An archive with corrections, recalls, judgements and hidden records. */
let corrected: State;
beforeAll(async () => {
  archive = await demoArchive();
  state = archive.state('desk');
  const { text, losses } = await exported(state);
  expect(losses).toEqual([]);
  whole = text;
  corrected = (await archiveOf('whole')).state('desk');
}, 120_000);

/** One id of each kind of record. */
const KINDS = [
  'tarn',
  'tarn-sennit',
  'tarn-sennit-3',
  'tarn-sennit-3/a',
  'tarn-sennit-3/a/teardown',
  'tarn-sennit-3/a/main',
  'tarn-sennit-3/a/U2',
  'tarn-sennit-3/a/o2',
  'tarn-sennit-3/a/photo-main-top',
  'quistle/QWR4T10',
  'sennit-3-filing',
  'duplicated-sensors',
  'thovane-calcar-2:duplicated-sensors',
  'bench-letter-31',
  'bench-letter-31/c1',
  'pressure-sensors-by-year',
  'Accelerometer',
] as const;

describe('every kind of document', () => {
  test.for(KINDS)('%s: both processors read the same quads, and nothing is dropped', async (id) => {
    const document = await linkedRecord(state, id);
    const quads = await quadsOf(document);
    expect(quads.split('\n').length).toBeGreaterThan(4);
    const other = storeOf(document).dump({ format: 'application/n-quads' }) as string;
    expect(await canonical(other)).toEqual(await canonical(quads));
    // Flattening and expanding lose nothing either.
    const flat = await jsonld.flatten(document as never, {}, SAFE);
    expect(await canonical(await quadsOf(flat))).toEqual(await canonical(quads));
    const expanded = await jsonld.expand(document as never, SAFE);
    expect(await canonical(await quadsOf(expanded))).toEqual(await canonical(quads));
  });

  test('a term that the context does not have is an error of the processor, so that it checks something', async () => {
    const { '@context': context, '@graph': graph } = await linkedRecord(state, 'tarn');
    await expect(
      quadsOf({ '@context': context, '@graph': [{ ...graph[0], neverSaid: 1 }] }),
    ).rejects.toThrow();
    await expect(
      quadsOf({ '@context': context, '@graph': [{ ...graph[0], maker: 'tarn' }] }),
    ).rejects.toThrow();
  });

  test('of an archive with corrections, withdrawals and judgements', async () => {
    const ids = [...everyId(corrected)];
    const { text, losses } = await exported(corrected);
    expect(losses.length).toBeLessThan(ids.length);
    const store = storeOf(text);
    expect(await quadsOf(JSON.parse(text) as object)).toContain('wasInvalidatedBy');
    expect(
      ask(store, 'SELECT ?c WHERE { ?c a caseback:Correction ; caseback:corrects ?of }').length,
    ).toBeGreaterThan(1);
    for (const { id } of corrected.corrections.slice(0, 3)) await quadsOf(await linkedRecord(corrected, id));
  });
});

test('every id comes back from the quads, and no other, as other exports have them', async () => {
  const store = storeOf(whole);
  const subjects = ask(store, 'SELECT DISTINCT ?s WHERE { ?s a ?class . FILTER(isIRI(?s)) }').map(
    ([iri]) => iri,
  );
  const ids = subjects.flatMap((iri) => idOfIri(iri as string, NOWHERE) ?? []);
  expect(ids.toSorted()).toEqual([...everyId(state)].toSorted());
});

test('an id with characters of addresses comes back', () => {
  for (const base of ['https://desk.example.org', 'urn:example:', 'tag:example.org,2026:']) {
    const place = placeAt(base);
    expect(contextOf(place).record).toMatchObject({ '@id': expect.stringContaining(base) });
  }
  expect(idOfIri('tag:caseback.invalid,2026:records/a/b/main:C1', NOWHERE)).toBe('a/b/main:C1');
  expect(idOfIri('tag:caseback.invalid,2026:records/a/b/C1#marking', NOWHERE)).toBeUndefined();
  expect(() => placeAt('nowhere')).toThrow(/cannot begin addresses/u);
});

test('a whole archive is read alike by both, each device by itself', async () => {
  for (const { id } of state.devices().slice(0, 4)) {
    const { text } = await exported(state, { of: 'device', id });
    const quads = await canonical(await quadsOf(JSON.parse(text) as object));
    expect(await canonical(storeOf(text).dump({ format: 'application/n-quads' }) as string)).toEqual(quads);
  }
  // RDF is a set: as many quads, whatever blank nodes are called.
  const quads = new Set(
    (await quadsOf(JSON.parse(whole) as object)).split('\n').filter((line) => line !== ''),
  );
  expect(storeOf(whole).size).toBe(quads.size);
}, 120_000);

test('a frame brings a sentence with its support as a tree (JSON-LD 1.1 Framing)', async () => {
  const document = await linkedPublication(state, 'pulse-comes-to-the-wrist');
  const frame = {
    '@context': document['@context'],
    type: 'Claim',
    derivedFrom: { '@embed': '@always', derivedFrom: { '@embed': '@always', generatedBy: {} } },
  };
  const framed = (await jsonld.frame(document as never, frame as never, SAFE as never)) as unknown as {
    '@graph': { derivedFrom: { id: string; derivedFrom?: unknown }[] }[];
  };
  expect(framed['@graph']).toHaveLength(4);
  const words = JSON.stringify(framed);
  // From the sentence through the identification to what was seen, by whom and when.
  const [first] = framed['@graph'];
  const concluded = first?.derivedFrom.find(({ id }) => id.includes('#identification-'));
  expect(JSON.stringify(concluded?.derivedFrom)).toContain('Seeing');
  expect(words).toContain('who:I.%20Wenlow');
});

test('a sentence leads through its conclusions to every observation that the checking sheet names', async () => {
  const store = storeOf(await linkedPublication(state, 'pulse-comes-to-the-wrist'));
  const under = (claim: string) =>
    ask(
      store,
      `SELECT DISTINCT ?o WHERE { record:pulse-comes-to-the-wrist\\/${claim} prov:wasDerivedFrom+ ?o . ?o a caseback:Observation }`,
    )
      .map(([iri]) => idOfIri(iri as string, NOWHERE))
      .toSorted();
  // Read off seed-data/publications.yaml and the dossier by hand.
  expect(under('c1')).toEqual(['tarn-sennit-3/a/o2', 'tarn-sennit-3/a/o3', 'tarn-sennit-3/a/o4']);
  expect(under('c2')).toEqual(['tarn-sennit-3/a/o5']);
});

test('unknown is said: candidates and what they leave make 1', () => {
  const rows = ask(
    storeOf(whole),
    'SELECT ?i ?unknown (SUM(?p) AS ?known) WHERE { ?i caseback:candidate ?c ; caseback:unknownProbability ?unknown . ?c caseback:probability ?p } GROUP BY ?i ?unknown',
  );
  expect(rows.length).toBeGreaterThan(100);
  for (const [id, unknown, known] of rows) expect(Number(unknown) + Number(known), id).toBeCloseTo(1, 6);
  expect(rows.some(([, unknown]) => Number(unknown) > 0)).toBe(true);
});

test('dates have the type of their precision (XML Schema 1.1 part 2), units are UCUM', () => {
  const store = storeOf(whole);
  const dates = ask(
    store,
    'SELECT DISTINCT (DATATYPE(?d) AS ?t) (STRLEN(STR(?d)) AS ?n) WHERE { ?s schema:releaseDate|schema:datePublished|dcterms:date ?d }',
  );
  const xsd = 'http://www.w3.org/2001/XMLSchema#';
  expect(new Set(dates.map((row) => row.join(' ')))).toEqual(
    new Set([`${xsd}gYear 4`, `${xsd}gYearMonth 7`, `${xsd}date 10`]),
  );
  const units = ask(store, 'SELECT DISTINCT ?u WHERE { ?s schema:unitCode ?u }').map(
    ([unit]) => unit as string,
  );
  expect(units.length).toBeGreaterThan(10);
  // ucum-lhc, of the National Library of Medicine, knows every one.
  for (const unit of units)
    expect(unitCode(unit.replace(/^UCUM:/u, '')), unit).toBe(unit.replace(/^UCUM:/u, ''));
});

test('context and vocabulary say the same, and every term used is described', async () => {
  const vocabulary = storeOf(vocabularyOf(NOWHERE));
  await quadsOf(vocabularyOf(NOWHERE));
  const described = new Set(
    ask(vocabulary, 'SELECT ?t WHERE { ?t <http://www.w3.org/2000/01/rdf-schema#comment> ?c }').map(
      ([t]) => t,
    ),
  );
  const own = NOWHERE.base;
  const used = ask(storeOf(whole), 'SELECT DISTINCT ?t WHERE { { ?s ?t ?o } UNION { ?s a ?t } }').map(
    ([t]) => t as string,
  );
  const vocabularyTerms = used.filter((term) => term.startsWith(`${own}vocabulary#`));
  expect(vocabularyTerms.length).toBeGreaterThan(60);
  expect(vocabularyTerms.filter((term) => !described.has(term))).toEqual([]);
  // What domains and ranges say is true of every use (RDF Schema 1.1, sections 3.1 and 3.2).
  const rules = ask(vocabulary, 'SELECT ?p ?c WHERE { ?p <http://www.w3.org/2000/01/rdf-schema#domain> ?c }');
  const data = storeOf(whole);
  expect(rules.length).toBeGreaterThan(50);
  for (const [property, domain] of rules)
    expect(
      ask(data, `SELECT ?s WHERE { ?s <${property}> ?o . FILTER NOT EXISTS { ?s a <${domain}> } } LIMIT 3`),
      property,
    ).toEqual([]);
  const ranges = ask(vocabulary, 'SELECT ?p ?c WHERE { ?p <http://www.w3.org/2000/01/rdf-schema#range> ?c }');
  for (const [property, range] of ranges) {
    const wrong =
      range?.startsWith('http://www.w3.org/2001/XMLSchema#') || range?.endsWith('#JSON')
        ? `FILTER (DATATYPE(?o) != <${range}>)`
        : range?.endsWith('#List')
          ? 'FILTER NOT EXISTS { ?o rdf:first ?first }'
          : `FILTER NOT EXISTS { ?o a <${range}> }`;
    expect(
      ask(data, `SELECT ?s ?o WHERE { ?s <${property}> ?o . ${wrong} } LIMIT 3`),
      `${property} ${range}`,
    ).toEqual([]);
  }
});
