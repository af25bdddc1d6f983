import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { CATALOGUE, DOSSIERS, dossier } from './invented.ts';
import { archiveOf, type Served, serve } from './serving.ts';

let served: Served;
beforeAll(async () => {
  served = await serve({ audience: 'desk' });
});
afterAll(() => served.close());

const sequence = async () => (await served.ask('{ archive { sequence } }')).archive.sequence as number;
const IMPORT = `mutation ($files: [FileInput!]!) {
  importDossier(input: { files: $files, reason: "opened today" }) {
    entries records dossiers specimens { id device { name } } entry { sequence hash actor reason kind }
  }
}`;
const file = (record: object, name = 'new.json') => ({ name, text: JSON.stringify(record) });

describe('importDossier', () => {
  const NEW = dossier({
    id: 'tarn-sennit-4',
    name: 'Tarn Sennit 4',
    released: '2022',
    productLine: 'tarn-sennit',
    succeeds: ['tarn-sennit-3'],
  });

  test('imports a dossier, returns it, and is visible at once', async () => {
    const before = await sequence();
    const { importDossier } = await served.ask(IMPORT, { files: [file(NEW)] });
    expect(importDossier).toMatchObject({
      entries: 2,
      records: 1,
      dossiers: 1,
      specimens: [{ id: 'tarn-sennit-4/a', device: { name: 'Tarn Sennit 4' } }],
    });
    expect(await sequence()).toBe(before + 2);
    const { device, search } = await served.ask(
      '{ device(id: "tarn-sennit-4") { predecessors { id } } search(text: "sennit 4", kinds: [DEVICE]) { totalCount } }',
    );
    expect([device.predecessors, search.totalCount]).toEqual([[{ id: 'tarn-sennit-3' }], 1]);
  });

  test('does nothing the second time', async () => {
    const before = await sequence();
    const { importDossier } = await served.ask(IMPORT, { files: [file(NEW)] });
    expect(importDossier).toMatchObject({ entries: 0, dossiers: 0, entry: null });
    expect(await sequence()).toBe(before);
  });

  test('reads YAML, and lists every problem of every file with place and fix, writing nothing', async () => {
    const before = await sequence();
    const yaml =
      'caseback: dossier/1\ndevice: tarn-sennit-1\nspecimn: { id: z }\nteardown: { on: 2024-13, by: A }\n';
    const { data, errors } = await served.answer(IMPORT, {
      files: [
        file(dossier({ id: 'tarn-sennit-5', name: 'Five', released: '2023' })),
        { name: 'bad.yaml', text: yaml },
        { name: 'worse.yaml', text: 'a: [1' },
      ],
    });
    expect(data).toEqual({ importDossier: null });
    const { code, problems } = errors?.[0].extensions ?? {};
    expect(code).toBe('BAD_FILE');
    expect(problems).toEqual(
      expect.arrayContaining([
        expect.objectContaining({
          file: 'bad.yaml',
          line: 3,
          column: 1,
          what: '"specimn" is not a field here',
          fix: 'did you mean "specimen"?',
        }),
        expect.objectContaining({ file: 'bad.yaml', path: 'teardown.on' }),
        expect.objectContaining({ file: 'worse.yaml' }),
      ]),
    );
    expect(await sequence()).toBe(before);
    expect((await served.ask('{ device(id: "tarn-sennit-5") { id } }')).device).toBeNull();
  });

  test('is refused when it names what does not exist', async () => {
    const lost = dossier({ id: 'tarn-lost', name: 'Lost', released: '2022', maker: 'nobody' });
    const { errors } = await served.answer(IMPORT, { files: [file(lost)] });
    expect(errors?.[0].extensions.problems[0]).toMatchObject({ file: 'new.json', path: 'device.maker' });
  });

  test('fills an empty archive from catalogue and dossiers in any order', async () => {
    const empty = await serve({ audience: 'desk' }, await archiveOf([]));
    // No published sentence is supported by something hidden, which an import refuses.
    const files = [...DOSSIERS, { ...CATALOGUE, publications: [] }].map((record, i) =>
      file(record, `${i}.json`),
    );
    const { importDossier } = await empty.ask(IMPORT, { files });
    expect(importDossier.dossiers).toBe(DOSSIERS.length);
    expect((await empty.ask('{ devices { totalCount } }')).devices.totalCount).toBe(6);
    await empty.close();
  });
});

describe('recordObservation', () => {
  const RECORD = `mutation ($specimen: ID!, $observation: ObservationInput!, $actor: String) {
    recordObservation(input: { specimen: $specimen, observation: $observation, actor: $actor, reason: "looked again" }) {
      observation { id kind value { text } about { id } corrects { id } }
      entry { sequence hash kind actor reason }
    }
  }`;

  test('adds an observation and returns it with its journal entry', async () => {
    const before = await sequence();
    const { recordObservation } = await served.ask(RECORD, {
      specimen: 'tarn-sennit-1/a',
      observation: {
        id: 'n1',
        about: ['U10'],
        kind: 'BODY_SIZE',
        value: { value: 2.05, unit: 'mm', plusMinus: 0.02 },
        corrects: 'o4',
        note: null,
      },
    });
    expect(recordObservation).toEqual({
      observation: {
        id: 'tarn-sennit-1/a/n1',
        kind: 'BODY_SIZE',
        value: { text: '2.05 ± 0.02 mm' },
        about: [{ id: 'tarn-sennit-1/a/U10' }],
        corrects: { id: 'tarn-sennit-1/a/o4' },
      },
      entry: {
        sequence: before + 1,
        hash: expect.stringMatching(/^[0-9a-f]{64}$/u),
        kind: 'OBSERVATION_RECORDED',
        actor: 'bench',
        reason: 'looked again',
      },
    });
  });

  test('tells of what is odd, and refuses what says nothing or is still to come, in words of the trade', async () => {
    const again = { about: ['U10'], kind: 'BODY_SIZE', value: { value: 2, unit: 'mm', plusMinus: 0.1 } };
    const { recordObservation } = await served.ask(
      RECORD.replace('entry {', 'cautions { path what fix } entry {'),
      { specimen: 'tarn-sennit-1/a', observation: { id: 'n1-again', ...again } },
    );
    expect(recordObservation.cautions).toEqual([
      {
        path: '',
        what: 'observation "n1-again" says the same as "o4"',
        fix: 'leave one out, or say how and when it was seen again',
      },
    ]);
    for (const [observation, message] of [
      [{ id: 'n8', about: ['U10'], kind: 'MARKING' }, /gives no marking — add marking/u],
      [{ id: 'n8', about: ['U10'], kind: 'APPEARANCE', text: 'grey', on: '2199-01-01' }, /still to come/u],
      [
        { id: 'n 8', about: ['U10'], kind: 'APPEARANCE', text: 'grey' },
        /observation\.id: "n 8" .*joined by hyphens/u,
      ],
      [
        { id: 'n8', about: [], kind: 'APPEARANCE', text: 'grey' },
        /observation\.about: has no entry — write at least 1/u,
      ],
    ] as const) {
      const { errors } = await served.answer(RECORD, { specimen: 'tarn-sennit-1/a', observation });
      expect(errors?.[0].message).toMatch(message);
      expect(errors?.[0].message).not.toMatch(/Invalid input|Too small|expected/u);
    }
  });

  test('refuses an id in use', async () => {
    const { errors } = await served.answer(RECORD, {
      specimen: 'tarn-sennit-1/a',
      observation: { id: 'o1', about: ['U1'], kind: 'MARKING' },
    });
    expect(errors?.[0].extensions.code).toBe('CONFLICT');
  });

  test('lists every problem of the input, with its path', async () => {
    const before = await sequence();
    const { errors } = await served.answer(RECORD, {
      specimen: 'tarn-sennit-1/a',
      observation: {
        id: 'Not A Slug',
        about: ['U1'],
        kind: 'MARKING',
        marking: 'A[',
        value: { value: 1, unit: 'blorp' },
      },
    });
    expect(errors?.[0].extensions.code).toBe('BAD_INPUT');
    expect(errors?.[0].extensions.problems.map(({ path }: { path: string }) => path).sort()).toEqual([
      'observation.id',
      'observation.marking',
      expect.stringMatching(/^observation\.value/u),
    ]);
    expect(await sequence()).toBe(before);
  });

  test('is in the name of whoever has signed in, and in no other', async () => {
    const record = (id: string, actor: string | null) =>
      served.answer(RECORD, {
        specimen: 'tarn-sennit-1/a',
        observation: { id, about: ['U1'], kind: 'MARKING', marking: '2?' },
        actor,
      });
    const before = served.archive.version;
    for (const actor of ['  ', 'Bench', 'A. Bench', 'bench2']) {
      const { data, errors } = await record('n9', actor);
      expect([data, errors?.[0].extensions.code]).toEqual([{ recordObservation: null }, 'NOT_ALLOWED']);
      expect(errors?.[0].message).toContain('"bench"');
    }
    expect(served.archive.version).toBe(before);
    for (const [id, actor] of [
      ['n9', 'bench'],
      ['n10', null],
    ] as const)
      expect((await record(id, actor)).data.recordObservation.entry.actor).toBe('bench');
  });
});

test('setIdentification changes what the component counts as, and keeps the judgement before', async () => {
  const { setIdentification } = await served.ask(`mutation {
    setIdentification(input: {
      specimen: "tarn-sennit-3/a"
      identification: { component: "U10", candidates: [{ part: "quistle/QWR4T60", probability: 0.98 }], state: SETTLED, basis: ["o4"], reason: "read again" }
      reason: "raking light"
    }) {
      component { id category { term probability } identification { state reason candidates { partId } } identifications { state isCurrent } }
      entry { kind }
    }
  }`);
  expect(setIdentification).toEqual({
    component: {
      id: 'tarn-sennit-3/a/U10',
      category: { term: 'Accelerometer', probability: 0.98 },
      identification: { state: 'SETTLED', reason: 'read again', candidates: [{ partId: 'quistle/QWR4T60' }] },
      identifications: [
        { state: 'FAVOURED', isCurrent: false },
        { state: 'SETTLED', isCurrent: true },
      ],
    },
    entry: { kind: 'IDENTIFICATION_SET' },
  });
  const { device } = await served.ask('{ device(id: "tarn-sennit-3") { kindCounts { kind certain } } }');
  expect(device.kindCounts).toContainEqual({ kind: 'Gyroscope', certain: 1 });
});

test('an identification must obey the rules of the dossier', async () => {
  const { errors } = await served.answer(`mutation {
    setIdentification(input: { specimen: "tarn-sennit-3/a", identification: { component: "U99", candidates: [{ part: "quistle/QWR4T60", probability: 0.7 }] }, reason: "b" }) { entry { id } }
  }`);
  expect(errors?.[0].extensions.code).toBe('BAD_INPUT');
});

test('a read-only service refuses changes and still answers', async () => {
  const closed = await serve({ readOnly: true, audience: 'desk' });
  const response = await closed.app.inject({
    method: 'POST',
    url: '/graphql',
    payload: { query: IMPORT, variables: { files: [] } },
  });
  // Older clients get 200 with the error.
  const { message, extensions } = response.json().errors[0];
  expect([response.statusCode, message, extensions.code]).toEqual([
    200,
    'This service is read-only',
    'NOT_ALLOWED',
  ]);
  expect((await closed.ask('{ archive { devices } }')).archive.devices).toBe(6);
  await closed.close();
});
