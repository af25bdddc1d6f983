import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { caseback, Folder } from './running.ts';

// Lists, search and one component, held to the files of the demo archive as a YAML parser reads them, and to GraphQL.

const SEED = join(import.meta.dirname, '../../seed-data');
const folder = new Folder();
const run = (...args: string[]) => caseback(args, { cwd: folder.path });
beforeAll(async () => {
  const { code, err } = await run('devices', '--demo');
  if (code !== 0) throw new Error(err);
});
afterAll(() => folder.remove());

interface Listed {
  readonly id: string;
  readonly [field: string]: unknown;
}
async function listed(...args: string[]): Promise<readonly Listed[]> {
  const { code, out, err } = await run(...args, '--format', 'json');
  expect(code, err).toBe(0);
  return JSON.parse(out) as Listed[];
}
async function asked(query: string): Promise<Record<string, { nodes: Listed[]; totalCount: number }>> {
  const { out } = await run('ask', '--query', query);
  return (JSON.parse(out) as { data: Record<string, { nodes: Listed[]; totalCount: number }> }).data;
}

interface Filed {
  readonly visibility?: string;
  readonly device:
    | { readonly id: string; readonly maker: string; readonly released: string | number }
    | string;
  readonly components: readonly { readonly id: string; readonly marking?: string }[];
}
const DOSSIERS = readdirSync(join(SEED, 'dossiers'))
  .filter((name) => name.endsWith('.yaml'))
  .map((name) => parse(readFileSync(join(SEED, 'dossiers', name), 'utf8')) as Filed);
const DEVICES = DOSSIERS.flatMap(({ device }) => (typeof device === 'string' ? [] : [device]));
const ids = (all: readonly Listed[]) => all.map(({ id }) => id).sort();

describe('devices', () => {
  test('are those of the files, at the desk with drafts; a reader’s list is without', async () => {
    expect(ids(await listed('devices'))).toEqual(DEVICES.map(({ id }) => id).sort());
    const hidden = DOSSIERS.flatMap(({ visibility, device }) =>
      visibility === 'draft' || visibility === 'embargoed'
        ? [typeof device === 'string' ? device : device.id]
        : [],
    );
    expect(hidden.length).toBeGreaterThan(0);
    const readers = new Set(ids(await listed('devices', '--audience', 'reader')));
    for (const id of hidden) expect(readers).not.toContain(id);
    expect(readers.size).toBe(DEVICES.length - new Set(hidden).size);
  });

  test('are narrowed by maker and years, and come in the order asked for', async () => {
    const tarn = DEVICES.filter(
      ({ maker, released }) => maker === 'tarn' && String(released).slice(0, 4) >= '2018',
    );
    const found = await listed('devices', '--maker', 'tarn', '--from', '2018');
    expect(ids(found)).toEqual(tarn.map(({ id }) => id).sort());
    const released = found.map((one) => String(one.released));
    expect(released).toEqual(released.toSorted());
    const names = (await listed('devices', '--order', 'name')).map(({ name }) => String(name).toLowerCase());
    expect(names).toEqual(names.toSorted());
  });

  test('that have something are those that GraphQL finds', async () => {
    const { devices } = await asked(
      '{ devices(filter: {hasCategory: "PressureSensor"}, first: 100) { nodes { id } } }',
    );
    expect(ids(await listed('devices', '--has', 'PressureSensor'))).toEqual(ids(devices.nodes));
  });

  test.each([
    [['--maker', 'tran'], 1, /No maker "tran" .*did you mean "tarn"/u],
    [['--has', 'PresureSensor'], 1, /did you mean "PressureSensor"/u],
    [['--has', 'duplicated-sensors'], 2, /is a named pattern; "caseback decisions --pattern/u],
    [['--body-site', 'rist'], 2, /did you mean "wrist"/u],
    [['--from', 'May'], 1, /"May" is not a valid date/u],
  ])('%j is refused with the fix', async (args, exit, message) => {
    const { code, out, err } = await run('devices', ...(args as string[]));
    expect(err).toMatch(message as RegExp);
    expect([code, out]).toEqual([exit, '']);
  });
});

test('publications, patterns and corrections are those of GraphQL; one is told in full', async () => {
  const { publications, patterns, corrections } = await asked(
    '{ publications(first: 100) { nodes { id } } patterns(first: 100) { nodes { id } } corrections(first: 100) { nodes { id } } }',
  );
  expect(ids(await listed('publications'))).toEqual(ids(publications.nodes));
  expect(ids(await listed('patterns'))).toEqual(ids(patterns.nodes));
  expect(patterns.nodes).toHaveLength(readdirSync(join(SEED, 'patterns')).length);
  const made = await run('correct', 'withdraw', 'dunmarrow-leadline-4/a/o7', '--reason', 'the probe slipped');
  expect(made.code, made.err).toBe(0);
  expect(corrections.nodes).toHaveLength(0);
  const [correction] = await listed('corrections');
  expect(correction).toMatchObject({ reason: 'the probe slipped' });
  const { out } = await run('corrections', correction.id);
  expect(out).toContain('inside-the-fourth-leadline/c2  1.000 > 0.000');
  const near = `${correction.id}0`;
  expect((await run('corrections', near)).err).toMatch(
    new RegExp(`no correction "${near}" .*did you mean "${correction.id}"`, 'u'),
  );
  expect((await run('publications', 'bench-letter-31')).out).toContain('bench-letter-31/c1');
  expect((await run('patterns', 'single-board')).out).toContain('Reasons the designers may have had');
});

test('an archive without patterns says how to get them, and gets them', async () => {
  await run('create-archive', '--without-patterns', '--data', 'blank');
  expect((await run('patterns', '--data', 'blank')).err).toContain(
    '"caseback import --patterns" brings in the library',
  );
  await run('import', '--patterns', '--data', 'blank');
  expect(await listed('patterns', '--data', 'blank')).toHaveLength(
    readdirSync(join(SEED, 'patterns')).length,
  );
  expect(await listed('devices', '--data', 'blank')).toEqual([]);
});

test('search finds what GraphQL finds, and says when more was found than is shown', async () => {
  const { search } = await asked('{ search(text: "sennit", first: 100) { totalCount nodes { id } } }');
  const found = await run('search', 'sennit', '--first', '3', '--format', 'csv');
  expect(found.out.trim().split('\n')).toHaveLength(4);
  expect(found.err).toContain(`${search.totalCount} hits; the first 3 are shown (--first)`);
  expect(ids(await listed('search', 'sennit', '--first', '100'))).toEqual(ids(search.nodes));
  for (const { kind } of await listed('search', 'sennit', '--kind', 'device')) expect(kind).toBe('device');
});

describe('a component at a glance', () => {
  const glance = async (id: string) => (await run('component', id)).out;

  test('shows what its file says: seen, identified, joined, photographed, and by whom', async () => {
    const out = await glance('tarn-sennit-3/a/U3');
    const { components } = DOSSIERS.find(
      ({ device }) => typeof device !== 'string' && device.id === 'tarn-sennit-3',
    ) as Filed;
    const { marking = '?' } = components.find(({ id }) => id === 'U3') ?? {};
    for (const text of [
      marking.replace('\n', ' / '),
      'isobrant/IJB826',
      'I. Wenlow',
      'I2C, 2 lines',
      'photo-main-top',
      'LGA-9',
    ])
      expect(out).toContain(text);
  });

  test('has the odds of "candidates" and the steps of "next"', async () => {
    const id = 'mirrelk-mullion-1/a/FL1';
    const [whole, candidates, next] = await Promise.all(
      [
        ['component', id],
        ['candidates', id],
        ['next', id],
      ].map(async (args) => JSON.parse((await run(...args, '--format', 'json')).out)),
    );
    expect(whole.candidates.parts.slice(0, 2).map(({ part }: { part: string }) => part)).toEqual(
      candidates.parts.slice(0, 2).map(({ part }: { part: string }) => part),
    );
    expect(whole.candidates.none).toBe(candidates.none);
    expect(whole.next.slice(0, 5)).toMatchObject(next.slice(0, 5));
  });

  test('every component of the demo has one, in every format', async () => {
    for (const device of ['tarn-sennit-3', 'mirrelk-coif-1']) {
      const { out } = await run('components', device, '--format', 'json');
      for (const { component } of (JSON.parse(out) as { component: { id: string } }[]).slice(0, 12)) {
        const { code, err } = await run('component', `${device}/a/${component.id}`, '--format', 'table');
        expect(code, err).toBe(0);
      }
    }
  });

  test('an unknown one is refused with near ids', async () => {
    expect((await run('component', 'tarn-sennit-3/a/U33')).err).toMatch(
      /did you mean "tarn-sennit-3\/a\/U3/u,
    );
  });
});

describe('identify', () => {
  const own = new Folder();
  const id = 'my-band/a/U1';
  const mine = (...args: string[]) => caseback(args, { cwd: own.path });
  beforeAll(async () => {
    own.write(
      'band.yaml',
      `caseback: dossier/1
device: { id: my-band, name: My Band, maker: works, released: 2024, bodySite: wrist }
specimen: { id: a }
teardown: { on: 2025-02, by: A. Example }
boards: [{ id: main, kind: rigid, outline: { length: 30, width: 20 } }]
components: [{ id: U1, board: main, marking: PM100 }]
observations: [{ id: o1, about: [U1], kind: marking, marking: PM100 }]
`,
    );
    own.write(
      'makers.yaml',
      `caseback: catalogue/1
makers: [{ id: works, name: Works, makes: [devices, parts] }]
parts: [{ maker: works, number: PM100, categories: [Accelerometer] }, { maker: works, number: PM101, categories: [Gyroscope] }]
`,
    );
    expect((await mine('import', 'band.yaml', 'makers.yaml')).code).toBe(0);
  });
  afterAll(() => own.remove());
  const why = ['--reason', 'the lid'] as const;

  test.each([
    [['works/PM100=0.8', 'works/PM101=0.4'], 1, /sum|add up|more than 1/u],
    [['works/PM100=1.4'], 1, /probability/u],
    [['works/PM100'], 2, /is not a valid candidate; write it as/u],
    [['works/PM100='], 2, /is not a valid candidate/u],
    [['works/PM10=0.8'], 1, /did you mean "works\/PM100"/u],
    [['Accelerometr=0.8'], 1, /Accelerometer/u],
    [['works/PM100=0.8', '--basis', 'o9'], 1, /o9/u],
  ])('%j is refused, and nothing is written', async (args, exit, message) => {
    const { code, err } = await mine('identify', id, ...(args as string[]), ...why);
    expect(err).toMatch(message as RegExp);
    expect(code).toBe(exit);
    expect((await mine('component', id)).out).toContain('Nobody has identified it yet: caseback identify');
  });

  test('records a first identification, and sends to "correct" for the next', async () => {
    const done = await mine('identify', id, 'works/PM100=0.8', 'Gyroscope=0.1', '--basis', 'o1', ...why);
    expect(done.err).toMatch(
      /my-band\/a\/U1 identified as works\/PM100=0\.8, Gyroscope=0\.1, journaled as entry \d+/u,
    );
    const { out } = await mine('component', id);
    expect(out).toMatch(/works\/PM100 +0\.8/u);
    expect(out).toMatch(/by o1/u);
    const again = await mine('identify', id, 'works/PM101=0.8', ...why);
    expect(again.err).toContain('"caseback correct identify my-band/a/U1 works/PM101=0.8" replaces that');
    expect(again.code).toBe(1);
  });
});

describe('what readers do not see', () => {
  const draft = 'pellforth-conch-5';

  test('is shown at the desk; asked as a reader the command line says of it what it says of what there is not', async () => {
    expect((await run('components', draft)).code).toBe(0);
    const { code, out, err } = await run('components', draft, '--audience', 'reader');
    expect([code, out]).toEqual([1, '']);
    expect(err).toContain('With --audience reader nothing is found that is a draft or under embargo\n');
    const absent = await run('components', 'pellforth-conch-99', '--audience', 'reader');
    expect({ ...absent, err: absent.err.replaceAll('conch-99', 'conch-5') }).toEqual({ code, out, err });
  });

  test('the service says of it what it says of what there is not', async () => {
    const query = (id: string) =>
      `{ candidates(component: "${id}/a/U1") { none } device(id: "${id}") { id } }`;
    const answer = async (id: string) => {
      const { out, err } = await run('ask', '--audience', 'reader', '--query', query(id));
      return (out + err).replaceAll(id, 'ID');
    };
    // A device that is not there, as far from every visible id as the draft.
    expect(await answer(draft)).toBe(await answer('pellforth-conch-8'));
  });

  test('counts in figures of the desk, which is the default; one’s own archive says so beside them', async () => {
    const own = new Folder();
    const files = ['makers.yaml', 'product-lines.yaml', 'parts', 'sources.yaml', 'dossiers', 'patterns'];
    const imported = await caseback(['import', ...files.map((name) => join(SEED, name))], { cwd: own.path });
    expect(imported.code, imported.err).toBe(0);
    const about = (...args: string[]) => caseback(['trend', 'count:Sensor', ...args], { cwd: own.path });
    expect((await about()).err).toMatch(
      /^Drafts and embargoed records count here \(4\), .*; --audience reader/u,
    );
    expect((await about('--audience', 'desk')).err).not.toContain('Drafts');
    expect((await about('--audience', 'reader')).err).not.toContain('Drafts');
    own.remove();
  });
});

test('an export of several files writes nowhere unasked', async () => {
  for (const args of [['export'], ['export', 'tarn-sennit-3']]) {
    const { code, out, err } = await run(...args);
    expect(err).toMatch(/\d+ files to write; name a new or empty folder, such as --out backup/u);
    expect([code, out]).toEqual([2, '']);
  }
  expect(readdirSync(folder.path)).not.toContain('export');
  expect((await run('export', 'tarn-sennit-3/a')).out).toContain('caseback: dossier/1');
});

test('a protector hangs on a supply and is no load of it', async () => {
  const { out } = await run('wiring', 'sallowby-escutcheon', '--only', 'feeds');
  expect(out).toMatch(/^J1 +has on its supply +D1 +connector, 5 V/mu);
  expect(out).not.toMatch(/ feeds +D\d/u);
});
