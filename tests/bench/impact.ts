// Time that impact and what-if take on a generated archive with the demo's named patterns and a hundred publications: each
// question is asked once, of things it was never asked of before, with the indexes built. Processor time, all threads
// together, tells more than the clock when others work too.
//
//   npm run bench:impact [-- DEVICES]
import { cpus, loadavg } from 'node:os';
import { Archive } from '../../src/archive.ts';
import type { ReadDocument } from '../../src/dossier/document/document.ts';
import { readFiles } from '../../src/dossier/read-files.ts';
import { impactOf } from '../../src/evidence/impact-of.ts';
import { toTable } from '../../src/export/table.ts';
import { defaultPool } from '../../src/gql/gql.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { catalogueSchema, partIdOf } from '../../src/model/catalogue.ts';
import type { Amendment } from '../../src/model/correction.ts';
import { type Dossier, deviceIdOf, specimenIdOf } from '../../src/model/dossier.ts';
import type { State } from '../../src/state/state.ts';
import { generateCatalogue, generateDossiers, seededRandom } from './generate.ts';

const DEVICES = Number(process.argv[2] ?? 10_000);
const ROUNDS = 60;
/** Milliseconds at the median, as promised. */
const AIM = 100;
const BY = { actor: 'bench', reason: 'generated' };
const PUBLICATIONS = 100;

const random = seededRandom(20_260_131);
const one = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)] as T;
const { archive, dossiers } = await build();
const view = archive.state('desk');
let start = performance.now();
await archive.whatIf(view, withdrawal(one(dossiers)));
process.stderr.write(`indexes built in ${((performance.now() - start) / 1000).toFixed(1)} s\n`);

const rows = [
  await timed('impact of an observation', () => impactOf(view, observationIn(one(dossiers)))),
  await timed('impact of a component', () => impactOf(view, componentIn(one(dossiers)))),
  await timed('impact of a claim', () =>
    impactOf(view, `publication-${Math.floor(random() * PUBLICATIONS)}/c1`),
  ),
  await timed('impact of a device', () => impactOf(view, deviceIdOf(one(dossiers)))),
  await timed('what if another identification', () =>
    archive.whatIf(view, identification(one(dossiers), view)),
  ),
  await timed('what if withdrawn', () => archive.whatIf(view, withdrawal(one(dossiers)))),
  await timed('what if another pin count', () =>
    archive.whatIf(view, { value: { of: componentIn(one(dossiers)), field: 'pins', is: 99 } }),
  ),
];
process.stdout.write(
  `${DEVICES} devices, ${PUBLICATIONS} publications\n\n${toTable(rows)}\naim: ${AIM} ms at the median; ${ROUNDS} of each\n${cpus().length} processors, ${cpus()[0]?.model}; on average ${loadavg()[0].toFixed(1)} programs wanted one over the last minute\n`,
);
await archive.close();
await defaultPool().close();

async function build(): Promise<{ readonly archive: Archive; readonly dossiers: readonly Dossier[] }> {
  const catalogue = generateCatalogue(DEVICES, random);
  const archive = await Archive.open(new MemoryJournal());
  const locate = () => ({ line: 1, column: 1 });
  await archive.importDocuments([{ kind: 'catalogue', file: 'catalogue', locate, catalogue }], BY);
  await archive.importDocuments(readFiles(['seed-data/patterns']).documents, BY);
  const kept: Dossier[] = [];
  let batch: ReadDocument[] = [];
  for (const dossier of generateDossiers(DEVICES, catalogue, random)) {
    batch.push({ kind: 'dossier', file: specimenIdOf(dossier), locate, dossier });
    // A few hundred whole dossiers are enough to ask about.
    if (kept.length < 400 || random() < 0.02) kept.push(dossier);
    if (batch.length < 500) continue;
    await archive.importDocuments(batch, BY);
    batch = [];
  }
  await archive.importDocuments(batch, BY);
  const publications = catalogueSchema.parse({
    caseback: 'catalogue/1',
    publications: Array.from({ length: PUBLICATIONS }, (_, i) => publicationAbout(i, [one(kept), one(kept)])),
  });
  await archive.importDocuments(
    [{ kind: 'catalogue', file: 'publications', locate, catalogue: publications }],
    BY,
  );
  return { archive, dossiers: kept };
}

/** A publication with a sentence on an observation, on a component, on the first sentence, and, now and then, on a figure. */
function publicationAbout(i: number, [first, second]: readonly [Dossier, Dossier]) {
  const figures = [{ share: { category: 'PressureSensor' }, where: { bodySite: 'wrist' }, atLeast: 0.5 }];
  return {
    id: `publication-${i}`,
    kind: 'article',
    title: `Publication ${i}`,
    published: '2026',
    claims: [
      { id: 'c1', sentence: 'It was seen.', supportedBy: [observationIn(first), componentIn(first)] },
      { id: 'c2', sentence: 'It is very likely so.', supportedBy: [componentIn(second)] },
      { id: 'c3', sentence: 'So it follows.', supportedBy: [`publication-${i}/c1`] },
      ...(i % 20 === 0
        ? [{ id: 'c4', sentence: 'Half have one.', supportedBy: [deviceIdOf(first)], figures }]
        : []),
    ],
  };
}

function observationIn(dossier: Dossier): string {
  return `${specimenIdOf(dossier)}/${one(dossier.observations).id}`;
}

function componentIn(dossier: Dossier): string {
  return `${specimenIdOf(dossier)}/${one(dossier.components).id}`;
}

function withdrawal(dossier: Dossier): Amendment {
  return { withdraw: { observation: observationIn(dossier) } };
}

function identification(dossier: Dossier, view: State): Amendment {
  const part = one(view.parts().map(partIdOf));
  const { component } = one(dossier.identifications);
  const rest = { state: 'proposed' as const, basis: [] };
  return {
    identify: {
      specimen: specimenIdOf(dossier),
      component,
      candidates: [{ part, probability: 0.9 }],
      ...rest,
    },
  };
}

async function timed(question: string, ask: () => Promise<unknown>) {
  const clock: number[] = [];
  const processor: number[] = [];
  for (let round = 0; round < ROUNDS; round++) {
    const used = process.cpuUsage();
    start = performance.now();
    await ask();
    clock.push(performance.now() - start);
    const { user, system } = process.cpuUsage(used);
    processor.push((user + system) / 1000);
  }
  const at = (list: readonly number[], share: number) =>
    list.toSorted((a, b) => a - b)[Math.floor(share * (list.length - 1))] as number;
  return {
    question,
    'median ms': at(clock, 0.5).toFixed(1),
    '19 of 20 under ms': at(clock, 0.95).toFixed(1),
    'median, processor ms': at(processor, 0.5).toFixed(1),
    '': at(clock, 0.5) <= AIM ? 'met' : 'MISSED',
  };
}
