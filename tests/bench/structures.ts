// Time that the search for recurring structures takes over two kinds of archive: `demo`, the demo devices over and over,
// each time with some connections missing and some kinds in doubt, so that about as much recurs as in the demo archive;
// and `random`, generated devices whose connections are random, so that hardly anything recurs.
//
//   npm run bench:structures [-- DEVICES ...]
import { cpus, loadavg } from 'node:os';
import type { ReadDocument } from '../../src/dossier/document/document.ts';
import { findFiles, readFile } from '../../src/dossier/read-files.ts';
import { toTable } from '../../src/export/table.ts';
import { defaultPool } from '../../src/gql/gql.ts';
import { type Catalogue, COLLECTIONS } from '../../src/model/catalogue.ts';
import type { Dossier } from '../../src/model/dossier.ts';
import type { Change } from '../../src/model/entry.ts';
import { Holder } from '../../src/state/holder.ts';
import { findStructures } from '../../src/structures/find-structures.ts';
import { generateCatalogue, generateDossiers, seededRandom } from './generate.ts';

/** Share of the connections that a copy of a demo device lacks, and of its identifications that are in doubt. */
const MISSING = 0.15;
const DOUBTED = 0.05;
/** Seconds, as promised for the demo archive and for 10,000 devices. */
const AIM = { demo: 2, wide: 120 };
/** For archives whose devices have nothing in common a tenth of the devices is too much to ask for. */
const RANDOM_SHARE = 0.005;

const sizes = process.argv.length > 2 ? process.argv.slice(2).map(Number) : [0, 1_000, 2_500];
const seed = findFiles([new URL('../../seed-data', import.meta.url).pathname]).files.map(
  (file) => readFile(file).document as ReadDocument,
);
const rows: Record<string, string>[] = [];
for (const devices of sizes) {
  if (devices === 0) rows.push(await measure('demo archive', liveOf(catalogues(), demoDossiers())));
  else {
    rows.push(await measure('demo', liveOf(catalogues(), copies(devices))));
    const random = seededRandom(1);
    const catalogue = generateCatalogue(devices, random);
    const made = liveOf([catalogue], generateDossiers(devices, catalogue, random));
    rows.push(await measure('random', made, { minSupport: Math.ceil(devices * RANDOM_SHARE) }));
  }
}
process.stdout.write(
  `${toTable(rows)}\naims: ${AIM.demo} s for the demo archive, ${AIM.wide} s for 10,000 devices\n${cpus().length} processors, ${cpus()[0]?.model}; on average ${loadavg()[0].toFixed(1)} programs wanted one over the last minute\n`,
);
await defaultPool().close();

async function measure(archive: string, live: Holder, question = {}): Promise<Record<string, string>> {
  const view = live.state('reader', new Date().toISOString());
  const waits = waitsOfOthers();
  const used = process.cpuUsage();
  const start = performance.now();
  let read = 0;
  let mined = 0;
  const answer = await findStructures(view, question, {
    onProgress: (_, doing) => {
      const now = (performance.now() - start) / 1000;
      if (doing === 'searching') {
        read ||= now;
        mined = now;
      }
    },
  });
  const whole = (performance.now() - start) / 1000;
  const { user, system } = process.cpuUsage(used);
  const longest = waits();
  live.close();
  return {
    archive,
    devices: String(answer.devices),
    'at least in': String(answer.minSupport),
    found: String(answer.found),
    'read by s': read.toFixed(1),
    'mined by s': mined.toFixed(1),
    'answered by s': whole.toFixed(1),
    'others wait ms': longest.toFixed(0),
    'processor s': ((user + system) / 1e6).toFixed(1),
    'resident MiB': (process.memoryUsage().rss / 1024 ** 2).toFixed(0),
  };
}

/** Begins to watch how long others have to wait for their turn; answers the function that ends it with the longest. */
function waitsOfOthers(): () => number {
  let longest = 0;
  let last = performance.now();
  let ended = false;
  const look = () => {
    const now = performance.now();
    longest = Math.max(longest, now - last);
    last = now;
    if (!ended) setImmediate(look);
  };
  setImmediate(look);
  return () => {
    ended = true;
    return longest;
  };
}

function catalogues(): readonly Catalogue[] {
  return seed.flatMap((one) => (one.kind === 'catalogue' ? [one.catalogue] : []));
}

function demoDossiers(): readonly Dossier[] {
  return seed.flatMap((one) => (one.kind === 'dossier' ? [one.dossier] : []));
}

function* copies(devices: number): Generator<Dossier> {
  const random = seededRandom(2);
  const models = demoDossiers().filter(({ device }) => typeof device !== 'string');
  for (let at = 0; at < devices; at++) {
    const model = models[at % models.length];
    if (typeof model.device === 'string') continue;
    yield {
      ...model,
      device: { ...model.device, id: `copy-${at}`, succeeds: [] },
      connections: model.connections.filter(() => random() >= MISSING),
      identifications: model.identifications.map((one) => ({
        ...one,
        candidates:
          random() >= DOUBTED
            ? one.candidates
            : one.candidates.map((candidate) => ({ ...candidate, probability: candidate.probability * 0.9 })),
      })),
    };
  }
}

function liveOf(all: readonly Catalogue[], dossiers: Iterable<Dossier>): Holder {
  const made = new Holder();
  let sequence = 0;
  const put = (changes: readonly Change[]) =>
    made.apply(
      changes.map((change) => {
        sequence++;
        const instant = new Date(Date.UTC(2026, 0, 1)).toISOString();
        return { ...change, sequence, id: `entry-${sequence}`, instant, previousHash: '', hash: '' };
      }),
    );
  const by = { actor: 'bench', reason: 'benchmark' };
  for (const catalogue of all) {
    put(
      COLLECTIONS.flatMap((collection) =>
        catalogue[collection].map(
          (record) => ({ ...by, kind: 'record-put', payload: { collection, record } }) as const,
        ),
      ),
    );
  }
  for (const dossier of dossiers) put([{ ...by, kind: 'dossier-put', payload: dossier }]);
  return made;
}
