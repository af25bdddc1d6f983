import { expect, test, vi } from 'vitest';
import { Archive } from '../../src/archive.ts';
import { decisionsOf } from '../../src/decisions/decisions.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { findPattern } from '../../src/patterns/find.ts';
import { patternRows } from '../../src/patterns/rows.ts';
import { devicePresence } from '../../src/presence/presence.ts';
import { candidatesFor } from '../../src/questions/identification.ts';

import type { State } from '../../src/state/state.ts';
import { type Random, seededRandom } from '../../src/statistics/random.ts';
import { trend } from '../../src/trends/trends.ts';
import { BY } from '../presence/archives.ts';
import { testSeed } from '../random.ts';
import { documents } from '../seed/seed.ts';

// An archive that is asked, changed, asked again, and changed back is held to the same journal folded from its first entry: what
// was there meanwhile may have left no trace in any figure, the last digit included.

vi.setConfig({ testTimeout: 240_000 });

const NOW = () => new Date('2026-11-30T12:00:00Z');
const AUDIENCES = ['reader', 'desk'] as const;
const TERMS = ['PressureSensor', 'Gyroscope', 'FuelGauge', 'Sensor'];
/** Matches of which there are too many for all to be gone through, so that they are estimates or bounds. */
const ACROSS = [
  'MATCH (a:Component)-[:IDENTIFIED_AS]->(p:Part)<-[:IDENTIFIED_AS]-(b:Component) RETURN a, b',
  'MATCH (a:Sensor)-[:IDENTIFIED_AS]->(p)-[:MADE_BY]->(m)<-[:MADE_BY]-(q)<-[:IDENTIFIED_AS]-(b:Sensor) RETURN a, b',
];

/** Rows whose order nobody asks for, of which some are cut off, and sums of numbers in that order. */
const ROWS = [
  'MATCH (x:Sensor)-[:IDENTIFIED_AS]->(p:Part)<-[:IDENTIFIED_AS]-(y:Sensor) RETURN x, p, y',
  'MATCH (x)-[:IDENTIFIED_AS]->(p:Part) RETURN p, x.designator LIMIT 7',
  'MATCH (m:Maker)<-[:MADE_BY]-(p)<-[i:IDENTIFIED_AS]-(x) RETURN m, AVG(i.probability) AS mean, COLLECT_LIST(x.designator) AS names GROUP BY m',
  'MATCH (x:Component)-[:ON]->(b) RETURN x ORDER BY b.name LIMIT 40',
  'MATCH q = ANY SHORTEST (x:Sensor)~[:CONNECTS]~{1,3}(y:Connector) RETURN q',
];

/** As JSON, so that every digit counts. */
async function answers(state: State, devices: readonly string[]): Promise<Record<string, string>> {
  const found: Record<string, unknown> = {};
  const components = devices.flatMap((id) =>
    state
      .specimensOf(id)
      .flatMap((row) => [...state.peek(row).components.keys()].map((one) => `${row.id}/${one}`)),
  );
  for (const id of devices) {
    found[`decisions of ${id}`] = await decisionsOf(state, id);
    found[`presence of ${id}`] = TERMS.map((term) => devicePresence(state, id, term));
  }
  for (const id of components.filter((_, at) => at % 5 === 0))
    found[`candidates of ${id}`] = await candidatesFor(state, id);
  for (const text of ACROSS) found[text] = await findPattern(state, { text, scope: 'archive' });
  for (const { id, text, scope } of state.patterns())
    if (scope === 'archive') found[id] = await findPattern(state, { text, scope });
  for (const text of ROWS) found[text] = await patternRows(state, { text });
  for (const share of [{ decision: 'part-shared-by-makers' }, { category: 'PressureSensor' }])
    found[JSON.stringify(share)] = await trend(state, { of: { share } });
  return Object.fromEntries(Object.entries(found).map(([name, one]) => [name, JSON.stringify(one)]));
}

/** Something seen and concluded of a component that is taken back afterwards. */
async function thereAndBack(archive: Archive, specimen: string, random: Random, step: number): Promise<void> {
  const opened = archive.state('desk').specimen(specimen);
  if (!opened) throw new Error(`no specimen ${specimen}`);
  const component = random.pick([...opened.identified.keys()]);
  const before = opened.identified.get(component);
  const observation = `seen-${step}`;
  await archive.recordObservation(
    specimen,
    { id: observation, about: [component], kind: 'package', text: 'QFN-64 by its outline' } as never,
    BY,
    'desk',
  );
  const doubt = { component, state: 'proposed', basis: [observation] };
  const category = random.pick(['Gyroscope', 'Charger', 'Microphone']);
  await archive.setIdentification(
    specimen,
    { ...doubt, candidates: [{ category, probability: 0.55 }] } as never,
    BY,
    'desk',
  );
  await answers(archive.state('desk'), []);
  await archive.withdrawObservation(specimen, observation, BY, 'desk');
  await archive.setIdentification(specimen, before as never, BY, 'desk');
}

test('an archive that was changed and changed back answers as its journal folded anew, to the last digit', async () => {
  const random = seededRandom(testSeed());
  const journal = new MemoryJournal({ clock: NOW });
  const held = await Archive.open(journal, NOW);
  await held.importDocuments(documents, BY);
  const specimens = held.state('desk').specimenRows();
  const devices = random.shuffled([...new Set(specimens.map(({ deviceId }) => deviceId))]).slice(0, 6);
  devices.push('mirrelk-coif-1');
  for (const audience of AUDIENCES) await answers(held.state(audience), devices);
  for (let step = 0; step < 8; step++) await thereAndBack(held, random.pick(specimens).id, random, step);
  const anew = await Archive.open(journal, NOW);
  for (const audience of AUDIENCES) {
    const [found, expected] = [
      await answers(held.state(audience), devices),
      await answers(anew.state(audience), devices),
    ];
    expect(found).toEqual(expected);
  }
  expect(Object.values(await answers(held.state('desk'), devices)).join()).toContain('"method":"estimate"');
});

test('files that were imported in another order, and in several imports, make the same answers', async () => {
  const random = seededRandom(testSeed());
  const devices = ['mirrelk-coif-1', 'tarn-sennit-3', 'pellforth-conch-3'];
  const at = async (imports: readonly (typeof documents)[]) => {
    const archive = await Archive.open(new MemoryJournal({ clock: NOW }), NOW);
    for (const some of imports) await archive.importDocuments(some, BY);
    return answers(archive.state('desk'), devices);
  };
  // What files name has to be there: catalogues first, then dossiers, then what is published of them.
  const [catalogues, dossiers] = ['catalogue', 'dossier'].map((kind) =>
    documents.filter((one) => one.kind === kind),
  );
  const isPublication = (one: (typeof documents)[number]) =>
    one.kind === 'catalogue' && one.catalogue.publications.length > 0;
  const imports = [
    random.shuffled(catalogues.filter((one) => !isPublication(one))),
    random.shuffled(dossiers),
    catalogues.filter(isPublication),
  ];
  expect(await at(imports)).toEqual(await at([documents]));
});
