import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { expect } from 'vitest';
import { Archive } from '../../../src/archive.ts';
import { examine } from '../../../src/journal/verify.ts';
import { archiveOf, BY, documentOf, serve } from '../serving.ts';
import { faultsLeft, shownBy } from './left.ts';
import { KilledService } from './service.ts';
import type { Row, Store } from './stores.ts';
import { Client } from './writing.ts';

const CLIENTS = 6;
/** Entries from before, enough that services keep snapshots (`WORTH_A_SNAPSHOT` in archive.ts). */
const FILLERS = 2_000;
/** Longer than a service waits for a database that is away, so that it says so, ms. */
const LONG = 7_000;

/** Asked of every last start and of the same journal folded anew. */
const QUESTIONS = [
  '{ archive { devices specimens components parts makers productLines publications patterns sequence treeHead changedAt } }',
  '{ devices(first: 500) { totalCount nodes { id name released specimens { id } kindCounts { kind certain expected } } } }',
  '{ parts(last: 500) { totalCount nodes { id package categories } } }',
  '{ corrections(last: 200) { totalCount nodes { id summary by reason on publications { publication { id } } } } }',
  '{ publications { totalCount nodes { id claims { sentence probability } corrections { id } } } }',
  '{ search(text: "made", first: 100) { totalCount } }',
  '{ findPattern(text: "MATCH (x:Accelerometer) RETURN x", first: 200) { totalCount nodes { probability } } }',
  '{ components(first: 200) { totalCount nodes { id identification { state candidates { partId probability } } } } }',
] as const;

export interface Kills {
  /** Of a service at a random moment of the writing. */
  readonly serving: number;
  /** Of a service that was killed and is just starting again. */
  readonly starting: number;
  /** Of the server that keeps the entries, under services that go on. */
  readonly server: number;
}

export interface Outcome {
  /** Changes that clients were told are done. */
  readonly acknowledged: number;
  /** Answers that never came, UNAVAILABLE, and changes asked again long after they were done. */
  readonly counts: Client['counts'];
  readonly entries: number;
  /** Questions answered; and those that were not, or with an error, although their service lived. */
  readonly answered: number;
  readonly unanswered: number;
  /** What services said on standard error. */
  readonly said: string;
}

/**
 * Kills services, and what keeps their entries, under clients that write over HTTP; starts them again on what is left, and looks at
 * it after every start. Fails the test on the first fault.
 * @param services how many share the store
 * @param random from 0 to 1
 * @param onKill called with the number of kills behind which all was found whole, and of changes so far
 */
export async function killServices(
  store: Store,
  services: number,
  kills: Kills,
  random: () => number,
  onKill: (kills: number, changes: number) => void = () => undefined,
): Promise<Outcome> {
  const before = await fill(store);
  const all = Array.from({ length: services }, (_, i) => new KilledService(store.folder, store.env(i)));
  const clients = Array.from({ length: CLIENTS }, (_, i) => new Client(i, all, random));
  const reading = { answered: 0, unanswered: 0, isOver: false };
  const working: Promise<void>[] = [];
  const done = () => clients.reduce((sum, { known }) => sum + known.length, 0);
  const someWork = async () => {
    const start = done();
    while (done() < start + 2 && clients.every(({ wrong }) => wrong.length === 0)) await pause(5);
  };
  const look = async (): Promise<readonly Row[]> => {
    const known = clients.flatMap((client) => [...client.known]);
    const rows = await store.rows();
    const asked = new Map(clients.flatMap((client) => [...client.asked]));
    expect(faultsLeft(rows, known, asked, before)).toEqual([]);
    expect(clients.flatMap(({ wrong }) => wrong)).toEqual([]);
    const journal = store.journal();
    expect(await examine(journal)).toMatchObject({ faults: [], damage: [], notes: [] });
    await journal.close();
    return rows;
  };
  try {
    await Promise.all(all.map((one) => one.start()));
    for (let i = 0; i < services; i++)
      while (!existsSync(join(store.folder, store.env(i).DATA_DIR as string, 'snapshot'))) await pause(50);
    working.push(...clients.map((client) => client.run()), ...all.map((one) => read(one, reading)));
    for (const [i, kill] of shuffled(kills, random).entries()) {
      await someWork();
      await pause(random() * 400);
      const victim = all[Math.floor(random() * services)];
      if (kill === 'server') await store.interrupt?.(random() < 0.2 ? LONG : 0);
      else await victim.kill();
      if (kill === 'starting') {
        const starting = victim.start();
        await pause(random() * 1_500);
        await victim.kill();
        await starting;
      }
      if (kill !== 'server') await victim.start();
      await look();
      onKill(i + 1, done());
    }
    await someWork();
    for (const client of clients) client.stop();
    reading.isOver = true;
    await Promise.all(working);
    for (const one of all) await one.kill();
    await Promise.all(all.map((one) => one.start()));
    const rows = await look();
    await expectShown(all[0], clients);
    await expectAsFolded(store, all);
    for (const one of all) expect(await one.stop()).toBe(0);
    return {
      acknowledged: clients.flatMap(({ known }) => known.filter(({ data }) => data !== undefined)).length,
      counts: clients
        .map(({ counts }) => counts)
        .reduce((a, b) => ({
          lost: a.lost + b.lost,
          refused: a.refused + b.refused,
          repeated: a.repeated + b.repeated,
        })),
      entries: rows.length,
      ...{ answered: reading.answered, unanswered: reading.unanswered },
      said: all.map(({ said }) => said).join(''),
    };
  } finally {
    for (const one of all) one.end();
    await Promise.allSettled(working);
  }
}

/** An archive from before; answers its entries. */
async function fill(store: Store): Promise<number> {
  const archive = await archiveOf(undefined, store.journal());
  const parts = Array.from({ length: FILLERS }, (_, i) => ({
    ...{ number: `F${i}`, maker: 'quistle', categories: ['PressureSensor'] },
  }));
  await archive.importDocuments([documentOf({ caseback: 'catalogue/1', parts })], BY);
  const { version } = archive;
  await archive.close();
  return version;
}

/** Each kind of kill as often as wanted, in any order. */
function shuffled(kills: Kills, random: () => number): readonly (keyof Kills)[] {
  return (Object.keys(kills) as (keyof Kills)[])
    .flatMap((kind) => Array.from({ length: kills[kind] }, () => ({ kind, at: random() })))
    .sort((a, b) => a.at - b.at)
    .map(({ kind }) => kind);
}

/** Goes on asking a service; a question of a service that was not killed meanwhile has an answer. */
async function read(
  service: KilledService,
  reading: { answered: number; unanswered: number; readonly isOver: boolean },
): Promise<void> {
  while (!reading.isOver) {
    const { starts } = service;
    const { status, errors } = await service.ask({ query: '{ devices(first: 20) { nodes { id name } } }' });
    if (status === 200 && !errors) reading.answered++;
    else if (service.isUp && service.starts === starts) reading.unanswered++;
    await pause(20);
  }
}

/** Every change that clients were told of shows in the answers. */
async function expectShown(service: KilledService, clients: readonly Client[]): Promise<void> {
  const { observations, packages } = shownBy(clients.map(({ known }) => known));
  for (const [id, { sure, open }] of observations) {
    const query = `{ specimen(id: "${id}") { observations(first: 500) { nodes { id } } } }`;
    const { data } = (await service.ask({ query })) as {
      data: { specimen: { observations: { nodes: { id: string }[] } } };
    };
    // Those that were filed with the dossier have short ids.
    const shown = data.specimen.observations.nodes
      .map((one) => one.id.split('/').at(-1) as string)
      .filter((one) => one.startsWith('o-'));
    expect(shown.filter((one) => !open.has(one)).sort()).toEqual([...sure].sort());
    expect(new Set(shown).size).toBe(shown.length);
  }
  for (const [id, may] of packages) {
    const { data } = (await service.ask({ query: `{ part(id: "${id}") { package } }` })) as {
      data: { part: { package: string } };
    };
    expect([...may]).toContain(data.part.package);
  }
}

/** What services answer that started from a snapshot is what the journal says, folded from its first entry. */
async function expectAsFolded(store: Store, services: readonly KilledService[]): Promise<void> {
  const folded = await serve({ audience: 'desk' }, await Archive.open(store.journal()));
  try {
    for (const query of QUESTIONS) {
      const expected = await folded.ask(query);
      for (const one of services) expect((await one.ask({ query })).data, query).toEqual(expected);
    }
  } finally {
    await folded.close();
  }
}
