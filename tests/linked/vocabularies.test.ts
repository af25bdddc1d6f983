import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { Store } from 'oxigraph';
import { beforeAll, describe, expect, test } from 'vitest';
import { NOWHERE } from '../../src/linked/places.ts';
import { contextOf, PUBLISHED, vocabularyOf } from '../../src/linked/vocabulary.ts';
import { TERMS } from '../../src/model/taxonomy.ts';
import { demoArchive } from '../trends/demo.ts';
import { ask, exported, storeOf } from './reading.ts';

// What is written held to the vocabularies as they were published: schema.org, PROV-O, SKOS and DCMI Metadata Terms, as N-Quads in the packages
// @vocabulary/schema (schema.org, "current"), @vocabulary/prov, @vocabulary/skos and @vocabulary/dcterms.

const packages = createRequire(import.meta.url);
function published(...names: readonly string[]): Store {
  const store = new Store();
  for (const name of names) {
    const folder = dirname(packages.resolve(`@vocabulary/${name}/package.json`));
    const text = readFileSync(join(folder, `${name}.nq`), 'utf8');
    // The name of the graph does not matter here.
    store.load(text.replaceAll(/ <[^>]*> \.$/gmu, ' .'), { format: 'application/n-triples' });
  }
  return store;
}

let data: Store;
let known: Store;
beforeAll(async () => {
  data = storeOf((await exported((await demoArchive()).state('desk'))).text);
  known = published('schema', 'prov', 'skos', 'dcterms');
}, 60_000);

const values = (rows: readonly (readonly string[])[]) => rows.map(([value]) => value as string);

describe('published vocabularies', () => {
  test('have every class and property that documents and vocabulary use', () => {
    const described = new Set(values(ask(known, 'SELECT DISTINCT ?t WHERE { ?t a ?class }')));
    const both = [data, storeOf(vocabularyOf(NOWHERE))];
    const used = both.flatMap((store) =>
      values(ask(store, 'SELECT DISTINCT ?t WHERE { { ?s ?t ?o } UNION { ?s a ?t } }')),
    );
    const own = Object.entries(PUBLISHED).filter(([name]) =>
      ['schema', 'prov', 'skos', 'dcterms'].includes(name),
    );
    const terms = [...new Set(used)].filter((term) => own.some(([, start]) => term.startsWith(start)));
    expect(terms.length).toBeGreaterThan(40);
    expect(terms.filter((term) => !described.has(term))).toEqual([]);
    // Of the context as well, whether the demo archive uses it or not.
    const context = Object.values(contextOf(NOWHERE)).flatMap((term) => {
      const iri = typeof term === 'string' ? term : (term as { '@id'?: string })?.['@id'];
      const [name, local] = (iri ?? '').split(':');
      const start = own.find(([prefix]) => prefix === name)?.[1];
      return start === undefined ? [] : [`${start}${local}`];
    });
    expect(context.length).toBeGreaterThan(40);
    expect(context.filter((term) => !described.has(term))).toEqual([]);
    expect(described.has('http://schema.org/unitOfMeasure')).toBe(false);
  });

  test('schema.org: a property is used of a class that it is for, or of one under it (domainIncludes)', () => {
    const uses = ask(
      data,
      'SELECT DISTINCT ?p ?c WHERE { ?s ?p ?o ; a ?c . FILTER(STRSTARTS(STR(?p), "http://schema.org/")) FILTER(STRSTARTS(STR(?c), "http://schema.org/")) }',
    );
    const bare = ask(
      data,
      'SELECT DISTINCT ?p ?s WHERE { ?s ?p ?o . FILTER(STRSTARTS(STR(?p), "http://schema.org/")) FILTER NOT EXISTS { ?s a ?c . FILTER(STRSTARTS(STR(?c), "http://schema.org/")) } }',
    );
    const isFor = (property: string, classes: readonly string[]) =>
      ask(
        known,
        `SELECT ?d WHERE { <${property}> schema:domainIncludes ?d . VALUES ?c { ${classes.map((one) => `<${one}>`).join(' ')} } ?c <http://www.w3.org/2000/01/rdf-schema#subClassOf>* ?d }`,
      ).length > 0;
    // Several classes of one thing: one of them is enough.
    const byProperty = Map.groupBy(uses, ([property]) => property as string);
    expect(byProperty.size).toBeGreaterThan(20);
    for (const [property, rows] of byProperty)
      for (const [, one] of rows)
        if (one !== 'http://schema.org/CreativeWork')
          expect(isFor(property, [one as string]), `${property} of ${one}`).toBe(true);
    // schema:name is for everything (schema:Thing), which everything is.
    const nameless = bare.filter(([property]) => property !== 'http://schema.org/name');
    expect(nameless).toEqual([]);
  });
});

// SKOS Reference (W3C Recommendation, 2009): integrity conditions, each as a question that finds what breaks it.
const CONDITIONS: readonly (readonly [name: string, breaks: string, planted: string])[] = [
  [
    'S9: a concept is no concept scheme',
    'SELECT ?x WHERE { ?x a skos:Concept, skos:ConceptScheme }',
    '<urn:x:scheme> a skos:Concept .',
  ],
  [
    'S13: preferred, other and hidden labels differ',
    'SELECT ?x WHERE { { ?x skos:prefLabel ?l ; skos:altLabel ?l } UNION { ?x skos:prefLabel ?l ; skos:hiddenLabel ?l } UNION { ?x skos:altLabel ?l ; skos:hiddenLabel ?l } }',
    '<urn:x:a> skos:altLabel "radio"@en .',
  ],
  [
    'S14: one preferred label a language',
    'SELECT ?x WHERE { ?x skos:prefLabel ?a, ?b . FILTER(?a != ?b && LANG(?a) = LANG(?b)) }',
    '<urn:x:a> skos:prefLabel "wireless"@en .',
  ],
  [
    'S27: related and broader never join the same two',
    'SELECT ?x WHERE { ?x skos:related|^skos:related ?y . ?x (skos:broader|^skos:narrower)+ ?y }',
    '<urn:x:b> skos:related <urn:x:a> .',
  ],
  [
    'S37: a collection is neither concept nor scheme',
    'SELECT ?x WHERE { ?x a skos:Collection, ?c . FILTER(?c IN (skos:Concept, skos:ConceptScheme)) }',
    '<urn:x:a> a skos:Collection .',
  ],
  [
    'S46: an exact match is no broader or related one',
    'SELECT ?x WHERE { ?x skos:exactMatch|^skos:exactMatch ?y . ?x skos:broadMatch|^skos:broadMatch|skos:relatedMatch|^skos:relatedMatch ?y }',
    '<urn:x:a> skos:exactMatch <urn:x:b> ; skos:broadMatch <urn:x:b> .',
  ],
  [
    'no term is above itself (cycles are allowed by the model, and are a fault of a taxonomy: section 8.6.8)',
    'SELECT ?x WHERE { ?x skos:broader+ ?x }',
    '<urn:x:a> skos:broader <urn:x:b> .',
  ],
];

describe('the taxonomy as a concept scheme', () => {
  test.for(CONDITIONS)('%s', ([, breaks, planted]) => {
    expect(ask(data, breaks)).toEqual([]);
    const store = new Store();
    const skos = 'PREFIX skos: <http://www.w3.org/2004/02/skos/core#>';
    store.update(
      `${skos} INSERT DATA { <urn:x:scheme> a skos:ConceptScheme . <urn:x:a> a skos:Concept ; skos:prefLabel "radio"@en . <urn:x:b> a skos:Concept ; skos:broader <urn:x:a> . ${planted} }`,
    );
    expect(ask(store, breaks).length).toBeGreaterThan(0);
  });

  test('has every term, each with what is above it both ways, and one way up to the top', () => {
    const notations = values(ask(data, 'SELECT ?n WHERE { ?c a skos:Concept ; skos:notation ?n }'));
    expect(notations.toSorted()).toEqual([...TERMS].toSorted());
    expect(
      ask(data, 'SELECT ?a WHERE { ?a skos:broader ?b . FILTER NOT EXISTS { ?b skos:narrower ?a } }'),
    ).toEqual([]);
    expect(
      ask(data, 'SELECT ?a WHERE { ?b skos:narrower ?a . FILTER NOT EXISTS { ?a skos:broader ?b } }'),
    ).toEqual([]);
    expect(
      ask(
        data,
        'SELECT ?c WHERE { ?c a skos:Concept . FILTER NOT EXISTS { ?c skos:broader* ?top . ?top skos:topConceptOf ?scheme . ?scheme skos:hasTopConcept ?top } }',
      ),
    ).toEqual([]);
  });
});
