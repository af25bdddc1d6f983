import type { Store } from 'oxigraph';
import { beforeAll, describe, expect, test } from 'vitest';
import { generatedArchive } from '../bench/generated-archive.ts';
import { archiveOf } from '../leaks/archives.ts';
import { demoArchive } from '../trends/demo.ts';
import { ask, exported, storeOf } from './reading.ts';

// Constraints of the PROV Data Model (W3C Recommendation, 2013): numbers and names of those that can apply to what documents say, from memory. Each is
// a question that finds what breaks it, asked by Oxigraph.
//
// PROV orders instants; what the bench writes down are days, months and years. An order is broken where it certainly is: where the latest
// instant that one date may mean lies before the earliest of the other. Dates as text compare so over the length that both have.

/** First and second date of a pair of events, of which the first may not come after the second. */
const isAfter = (first: string, second: string) => `
  BIND(STR(${first}) AS ?one) BIND(STR(${second}) AS ?other)
  BIND(IF(STRLEN(?one) < STRLEN(?other), STRLEN(?one), STRLEN(?other)) AS ?length)
  FILTER(SUBSTR(?one, 1, ?length) > SUBSTR(?other, 1, ?length))`;
/** When an activity was, or ended. */
const when = (activity: string, date: string) =>
  `${activity} dcterms:date|prov:startedAtTime|prov:endedAtTime ${date} .`;

interface Constraint {
  readonly name: string;
  /** Finds what breaks it. */
  readonly breaks: string;
  /** What breaks it when it is added; made of things of the demo archive. */
  readonly planted: string;
}

const SEEN = 'record:tarn-sennit-3\\/a\\/o2';
const SEEING = '<tag:caseback.invalid,2026:records/tarn-sennit-3/a/o2#seeing>';
const CONCLUDED = '<tag:caseback.invalid,2026:records/tarn-sennit-3/a/U10#identification-1>';
const CONCLUDING = '<tag:caseback.invalid,2026:records/tarn-sennit-3/a/U10#identification-1-concluding>';

const CONSTRAINTS: readonly Constraint[] = [
  {
    name: '24, unique-generation: an entity is generated once by an activity, and here by one alone',
    breaks: 'SELECT ?e WHERE { ?e prov:wasGeneratedBy ?a, ?b . FILTER(?a != ?b) }',
    planted: `${SEEN} prov:wasGeneratedBy ${CONCLUDING} .`,
  },
  {
    name: '25, unique-invalidation',
    breaks: 'SELECT ?e WHERE { ?e prov:wasInvalidatedBy ?a, ?b . FILTER(?a != ?b) }',
    planted: `${SEEN} prov:wasInvalidatedBy ${SEEING}, ${CONCLUDING} .`,
  },
  {
    name: '28 and 29, unique-startTime and unique-endTime',
    breaks:
      'SELECT ?a WHERE { { ?a prov:startedAtTime ?s, ?t } UNION { ?a prov:endedAtTime ?s, ?t } UNION { ?a a prov:Activity ; dcterms:date ?s, ?t } FILTER(?s != ?t) }',
    planted: `${SEEING} dcterms:date "2019"^^xsd:gYear .`,
  },
  {
    name: '30, start-precedes-end',
    breaks: `SELECT ?a WHERE { ?a prov:startedAtTime|dcterms:date ?start ; prov:endedAtTime ?end . ${isAfter('?start', '?end')} }`,
    planted: `${SEEING} prov:endedAtTime "2016-01-01T00:00:00Z"^^xsd:dateTime .`,
  },
  {
    name: '33, usage-within-activity: what was generated after the activity that used it',
    breaks: `SELECT ?a WHERE { ?a prov:used ?e . ?e prov:wasGeneratedBy ?g . ${when('?g', '?made')} ${when('?a', '?end')} ${isAfter('?made', '?end')} }`,
    planted: `${SEEING} prov:used ${CONCLUDED} . DELETE ${SEEING} "2016-02"^^xsd:gYearMonth`,
  },
  {
    name: '36, generation-precedes-invalidation',
    breaks: `SELECT ?e WHERE { ?e prov:wasGeneratedBy ?g ; prov:invalidatedAtTime ?end . ${when('?g', '?made')} ${isAfter('?made', '?end')} }`,
    planted: `${SEEN} prov:invalidatedAtTime "2016-01-01T00:00:00Z"^^xsd:dateTime .`,
  },
  {
    name: '37, generation-precedes-usage',
    breaks: `SELECT ?e WHERE { ?a prov:used ?e . ?e prov:wasGeneratedBy ?g . ${when('?g', '?made')} ${when('?a', '?use')} ${isAfter('?made', '?use')} }`,
    planted: `DELETE ${CONCLUDING} "2016"^^xsd:gYear`,
  },
  {
    name: '38, usage-precedes-invalidation: of what only the withdrawn thing was used for, by the same act',
    breaks: `SELECT ?e WHERE { ?e prov:invalidatedAtTime ?end ; prov:wasInvalidatedBy ?by . ?by prov:endedAtTime ?at . FILTER(?end != ?at) }`,
    planted: `${SEEN} prov:invalidatedAtTime "2020-01-01T00:00:00Z"^^xsd:dateTime ; prov:wasInvalidatedBy ${CONCLUDING} . ${CONCLUDING} prov:endedAtTime "2020-01-02T00:00:00Z"^^xsd:dateTime .`,
  },
  {
    name: '41 and 42, derivation-generation-generation-ordering: what is derived comes after what it is derived from',
    breaks: `SELECT ?later WHERE { ?later prov:wasDerivedFrom|prov:wasRevisionOf ?earlier . ?later prov:wasGeneratedBy ?g . ?earlier prov:wasGeneratedBy ?f . ${when('?f', '?made')} ${when('?g', '?derived')} ${isAfter('?made', '?derived')} }`,
    planted: `DELETE ${CONCLUDING} "2016"^^xsd:gYear`,
  },
  {
    name: '50, typing: what is used, generated, invalidated and derived is an entity, what does it an activity, who an agent',
    breaks: `SELECT ?x WHERE {
      { ?x prov:wasGeneratedBy|prov:wasInvalidatedBy|prov:wasDerivedFrom|prov:wasRevisionOf ?y . FILTER NOT EXISTS { ?x a prov:Entity } }
      UNION { ?y prov:used|prov:wasDerivedFrom|prov:wasRevisionOf ?x . FILTER NOT EXISTS { ?x a prov:Entity } }
      UNION { ?y prov:wasGeneratedBy|prov:wasInvalidatedBy ?x . FILTER NOT EXISTS { ?x a prov:Activity } }
      UNION { ?x prov:used|prov:wasAssociatedWith ?y . FILTER NOT EXISTS { ?x a prov:Activity } }
      UNION { ?y prov:wasAssociatedWith ?x . FILTER NOT EXISTS { ?x a prov:Agent } } }`,
    planted: `${SEEING} prov:used record:tarn .`,
  },
  {
    name: '52, impossible-specialization-reflexive, and the same of derivation and revision, which may not go in a circle',
    breaks:
      'SELECT ?e WHERE { { ?e prov:specializationOf+ ?e } UNION { ?e prov:wasDerivedFrom+ ?e } UNION { ?e prov:wasRevisionOf+ ?e } }',
    planted: `${SEEN} prov:wasRevisionOf ${SEEN} .`,
  },
  {
    name: '53 and 54, impossible-property-overlap: usage, generation and the like are things of their own',
    breaks:
      'SELECT ?x WHERE { ?x a prov:Usage, ?c . FILTER(?c IN (prov:Generation, prov:Invalidation, prov:Derivation, prov:Association, prov:Entity, prov:Activity, prov:Agent)) }',
    planted: `${SEEN} a prov:Usage .`,
  },
  {
    name: '55, entity-activity-disjoint',
    breaks: 'SELECT ?x WHERE { ?x a prov:Entity, prov:Activity }',
    planted: `${SEEN} a prov:Activity .`,
  },
];

/** Adds what breaks a constraint: triples, or another date for an act. */
function plant(store: Store, planted: string): void {
  const [triples, dates] = planted.split('DELETE');
  const prefixes = `PREFIX record: <tag:caseback.invalid,2026:records/> PREFIX prov: <http://www.w3.org/ns/prov#>
    PREFIX dcterms: <http://purl.org/dc/terms/> PREFIX xsd: <http://www.w3.org/2001/XMLSchema#>`;
  if (triples?.trim()) store.update(`${prefixes} INSERT DATA { ${triples} }`);
  const [, act, date] = /^\s*(<[^>]+>) (.+)$/su.exec(dates ?? '') ?? [];
  if (act)
    store.update(
      `${prefixes} DELETE { ${act} dcterms:date ?was } INSERT { ${act} dcterms:date ${date} } WHERE { ${act} dcterms:date ?was }`,
    );
}

let demo: string;
let others: readonly (readonly [name: string, text: string])[];
beforeAll(async () => {
  const state = (await demoArchive()).state('desk');
  demo = (await exported(state)).text;
  others = [
    [
      'an archive with corrections and withdrawals',
      (await exported((await archiveOf('whole')).state('desk'))).text,
    ],
    [
      'generated devices',
      (await exported(generatedArchive(60).state('desk', new Date().toISOString()))).text,
    ],
  ];
}, 120_000);

describe('PROV constraints', () => {
  test('hold in the demo archive, in one with corrections and in a generated one', () => {
    const stores = [['demo', demo] as const, ...others].map(([name, text]) => [name, storeOf(text)] as const);
    for (const [name, store] of stores) {
      // There is something that they could break.
      expect(
        ask(store, 'SELECT ?e WHERE { ?e prov:wasDerivedFrom ?o . ?o prov:wasGeneratedBy ?a } LIMIT 5'),
        name,
      ).toHaveLength(5);
      for (const constraint of CONSTRAINTS)
        expect(ask(store, constraint.breaks), `${name}: ${constraint.name}`).toEqual([]);
    }
  }, 120_000);

  test.for(CONSTRAINTS)('$name: a violation is found', { timeout: 60_000 }, ({ breaks, planted }) => {
    const store = storeOf(demo);
    plant(store, planted);
    expect(ask(store, breaks).length).toBeGreaterThan(0);
  });
});
