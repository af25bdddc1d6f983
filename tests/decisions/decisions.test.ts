import { beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { Archive } from '../../src/archive.ts';
import { decisionById, decisionsByPattern, decisionsOf } from '../../src/decisions/decisions.ts';
import type { MemoryJournal } from '../../src/journal/memory/journal.ts';
import type { NamedPattern } from '../../src/model/catalogue.ts';
import type { DecisionVerdict } from '../../src/model/decision.ts';
import { identificationSchema, observationSchema } from '../../src/model/dossier.ts';
import type { Change } from '../../src/model/entry.ts';
import { archiveFrom, archiveWith, BY, changesOf, demoFiles, dossierFile } from '../evidence/archive.ts';
import { entriesOf } from '../state/archive-of.ts';

const CALCAR = 'thovane-calcar-2';
const LOOP = 'tarn-sennit-1';
const DOUBLED = `${CALCAR}:duplicated-sensors`;
let made: readonly Change[];
let archive: Archive;
let journal: MemoryJournal;
beforeAll(async () => {
  const files = demoFiles([`${CALCAR}/a`, `${LOOP}/a`], ['duplicated-sensors', 'like-sensors-far-apart']);
  made = await changesOf((await archiveWith(files)).journal);
});
beforeEach(async () => {
  ({ archive, journal } = await archiveFrom(made));
});

const decision = async (audience: 'desk' | 'reader' = 'desk', id = DOUBLED) => {
  const found = await decisionById(archive.state(audience), id);
  if (!found) throw new Error(`no decision ${id}`);
  return found;
};
const judge = (verdict: DecisionVerdict) =>
  archive.judgeDecision(DOUBLED, verdict, { actor: 'E. Ditor', reason: verdict }, 'desk');
const observe = (id: string, more: object) =>
  archive.recordObservation(
    `${CALCAR}/a`,
    observationSchema.parse({ id, about: ['U2'], kind: 'marking', text: 'seen', ...more }),
    BY,
    'desk',
  );

test('a pattern that cannot be searched for has no decisions, and the others keep theirs', async () => {
  const before = (await decisionsOf(archive.state('desk'), CALCAR)).map(({ id }) => id);
  expect(before).toContain(DOUBLED);
  const sound = archive.state('desk').pattern('duplicated-sensors') as NamedPattern;
  const broken = ['MATCH (a:Sensr) RETURN a', 'MATCH (a', 'MATCH (a:Sensor) RETURN COUNT(*)'].map(
    (text, i): Change => ({
      ...BY,
      kind: 'record-put',
      payload: { collection: 'patterns', record: { ...sound, id: `broken-${i}`, text } },
    }),
  );
  // As a journal from before texts were checked may have them.
  const old = await archiveFrom([...made, ...broken]);
  const after = (await decisionsOf(old.archive.state('desk'), CALCAR)).map(({ id }) => id);
  expect(after).toEqual(before);
});

describe('decisions are calculated anew', () => {
  const foundOf = async (device: string) =>
    (await decisionsOf(archive.state('desk'), device)).map(({ matches }) => matches);

  test('for the devices that an entry touches and for no others', async () => {
    const before = [await foundOf(CALCAR), await foundOf(LOOP)];
    expect(before[0].length).toBeGreaterThan(0);
    await observe('late', {});
    const after = [await foundOf(CALCAR), await foundOf(LOOP)];
    before[0].forEach((matches, at) => expect(after[0][at]).not.toBe(matches));
    before[1].forEach((matches, at) => expect(after[1][at]).toBe(matches));
    // A second time nothing is looked for again.
    (await foundOf(CALCAR)).forEach((matches, at) => expect(after[0][at]).toBe(matches));
  });

  test('when a part is changed, for its holders only', async () => {
    const view = archive.state('desk');
    const part = view.specimen(`${CALCAR}/a`)?.identified.get('U2')?.candidates[0].part as string;
    const held = [...view.holdersOf(part)].map(({ deviceId }) => deviceId);
    expect(held).toContain(CALCAR);
    expect(held).not.toContain(LOOP);
    const before = [await foundOf(CALCAR), await foundOf(LOOP)];
    await archive.correct({ value: { of: part, field: 'pins', is: 13 } }, BY, 'desk');
    const after = [await foundOf(CALCAR), await foundOf(LOOP)];
    before[0].forEach((matches, at) => expect(after[0][at]).not.toBe(matches));
    before[1].forEach((matches, at) => expect(after[1][at]).toBe(matches));
  });

  test('for a pattern whose text changed, and for a pattern whose scope becomes the archive', async () => {
    const pattern = archive.state('desk').pattern('duplicated-sensors') as NamedPattern;
    const put = (changed: NamedPattern) =>
      archive.importDocuments(
        [
          {
            kind: 'catalogue',
            file: 'changed',
            locate: () => ({ line: 1, column: 1 }),
            catalogue: {
              caseback: 'catalogue/1',
              ...{
                makers: [],
                productLines: [],
                devices: [],
                parts: [],
                sources: [],
                publications: [],
                feeds: [],
                listMappings: [],
              },
              patterns: [changed],
            },
          },
        ],
        BY,
      );
    const before = await decisionsOf(archive.state('desk'), CALCAR);
    await put({ ...pattern, text: 'MATCH (a:Display)~[:CONNECTS]~(b:Battery) RETURN a, b' });
    expect(await decisionById(archive.state('desk'), DOUBLED)).toBeUndefined();
    await put({ ...pattern, scope: 'archive' });
    const after = await decisionsOf(archive.state('desk'), CALCAR);
    expect(after.map(({ id }) => id).sort()).toEqual(before.map(({ id }) => id).sort());
  });
});

describe("editors' judgements of a decision", () => {
  test.each(['endorsed', 'doubted'] as const)(
    '%s stays, whatever is seen later, and moves no number',
    async (verdict) => {
      const { probability, standing } = await decision();
      expect(standing).toBe('proposed');
      await judge(verdict);
      await observe('late', {});
      const now = await decision();
      expect(now.standing).toBe(verdict);
      expect(now.probability).toBe(probability);
      expect(now.judgements).toMatchObject([{ verdict, by: 'E. Ditor', reason: verdict }]);
    },
  );

  test('the last judgement counts, the others stay on record', async () => {
    await judge('endorsed');
    await judge('rejected');
    await judge('doubted');
    const { standing, judgements } = await decision();
    expect(standing).toBe('doubted');
    expect(judgements.map(({ verdict }) => verdict)).toEqual(['endorsed', 'rejected', 'doubted']);
  });

  const part = () =>
    archive.state('desk').specimen(`${CALCAR}/a`)?.identified.get('U2')?.candidates[0].part as string;
  test.each([
    [
      'another identification',
      () =>
        archive.setIdentification(
          `${CALCAR}/a`,
          identificationSchema.parse({ component: 'U2', candidates: [{ part: part(), probability: 0.7 }] }),
          BY,
          'desk',
        ),
    ],
    ['a withdrawn observation', () => archive.withdrawObservation(`${CALCAR}/a`, 'o4', BY, 'desk')],
    ['a further observation', () => observe('late', {})],
    [
      'a pattern that contradicts',
      () => {
        const { text, ...pattern } = archive.state('desk').pattern('duplicated-sensors') as NamedPattern;
        const lines = { ...pattern, text: `${text}\n` };
        return archive.importDocuments(
          [
            {
              kind: 'catalogue',
              file: 'changed',
              locate: () => ({ line: 1, column: 1 }),
              catalogue: {
                caseback: 'catalogue/1',
                ...{
                  makers: [],
                  productLines: [],
                  devices: [],
                  parts: [],
                  sources: [],
                  publications: [],
                  feeds: [],
                  listMappings: [],
                },
                patterns: [lines],
              },
            },
          ],
          BY,
        );
      },
    ],
  ])('a rejected one is opened again by %s', async (_, change) => {
    await judge('rejected');
    expect((await decision()).standing).toBe('rejected');
    await change();
    expect((await decision()).standing).toBe('reopened');
    await judge('rejected');
    expect((await decision()).standing).toBe('rejected');
  });

  test('a rejected decision stays rejected when something else is seen, in this device or another', async () => {
    await judge('rejected');
    const bound = new Set(
      (await decision()).matches.flatMap(({ bindings }) => bindings.flatMap(({ ids }) => ids)),
    );
    const other = archive
      .state('desk')
      .specimen(`${CALCAR}/a`)
      ?.dossier.components.find(({ id }) => !bound.has(`${CALCAR}/a/${id}`))?.id as string;
    await observe('elsewhere', { about: [other] });
    await archive.recordObservation(
      `${LOOP}/a`,
      observationSchema.parse({ id: 'late', about: ['U1'], kind: 'marking', text: 'seen' }),
      BY,
      'desk',
    );
    expect((await decision()).standing).toBe('rejected');
    // … and in an archive folded anew.
    const again = await Archive.open(journal);
    expect((await decisionById(again.state('desk'), DOUBLED))?.standing).toBe('rejected');
  });

  test('a rejection holds for readers who see less of what was rejected, and reveals nothing hidden', async () => {
    const first = archive.state('desk').specimen(`${CALCAR}/a`)?.dossier;
    const draft = { ...first, device: CALCAR, specimen: { id: 'draft' }, visibility: 'draft' };
    await archive.importDocuments([dossierFile(structuredClone(draft) as never)], BY);
    const [desk, reader] = [await decision(), await decision('reader')];
    expect(desk.matches.length).toBeGreaterThan(reader.matches.length);
    await judge('rejected');
    expect((await decision()).standing).toBe('rejected');
    expect((await decision('reader')).standing).toBe('rejected');
    // Something new on the hidden unit alone opens it again at the desk, not for readers.
    await archive.recordObservation(
      `${CALCAR}/draft`,
      observationSchema.parse({ id: 'late', about: ['U2'], kind: 'marking', text: 'seen' }),
      BY,
      'desk',
    );
    expect((await decision()).standing).toBe('reopened');
    expect((await decision('reader')).standing).toBe('rejected');
  });

  test('only of decisions that a pattern suggests', async () => {
    for (const id of [
      `${LOOP}:duplicated-sensors`,
      `${CALCAR}:no-such`,
      'nowhere:duplicated-sensors',
      'nothing',
    ])
      await expect(archive.judgeDecision(id, 'rejected', BY, 'desk')).rejects.toMatchObject({
        code: 'NOT_FOUND',
      });
    expect(archive.version).toBe(made.length);
  });
});

describe('hidden devices', () => {
  test.each([
    { visibility: 'draft' },
    { visibility: 'embargoed', embargoUntil: '2999-01-01T00:00:00Z' },
  ] as const)('give a reader nothing, as if they were not there: %o', async (hidden) => {
    const { archive: holding } = await archiveWith(
      demoFiles([`${CALCAR}/a`, `${LOOP}/a`], ['duplicated-sensors']).map((one) =>
        one.kind === 'dossier' && typeof one.dossier.device !== 'string' && one.dossier.device.id === CALCAR
          ? { ...one, dossier: { ...one.dossier, ...hidden } }
          : one,
      ),
    );
    const [desk, reader] = [holding.state('desk'), holding.state('reader')];
    expect((await decisionsOf(desk, CALCAR)).length).toBeGreaterThan(0);
    const refusals = [];
    for (const id of [CALCAR, 'thovane-calcar-x']) {
      const refused = await decisionsOf(reader, id).catch((error) => error);
      refusals.push([refused.code, refused.message.replace(id, 'ID')]);
    }
    expect(refusals[0]).toEqual(refusals[1]);
    expect(refusals[0][0]).toBe('NOT_FOUND');
    expect(await decisionById(reader, DOUBLED)).toBeUndefined();
    expect(await decisionsByPattern(reader, 'duplicated-sensors')).toEqual([]);
    expect((await decisionsByPattern(desk, 'duplicated-sensors')).length).toBe(1);
  });
});

test('a cancelled search leaves nothing wrong behind', async () => {
  const view = archive.state('desk');
  const early = await decisionsOf(view, CALCAR, AbortSignal.abort()).catch(() => []);
  expect(early).toEqual([]);
  expect((await decisionsOf(view, CALCAR)).map(({ id }) => id)).toContain(DOUBLED);
});

test('a part changed in a what-if state reads as in a complete fold', async () => {
  const { archive: own, journal: kept } = await archiveWith(
    demoFiles(['thovane-calcar-2/a', 'tarn-sennit-1/a'], ['duplicated-sensors', 'like-sensors-far-apart']),
  );
  const whole = own.state('desk');
  const id = 'thovane-calcar-2';
  const part = whole.specimen(`${id}/a`)?.identified.get('U2')?.candidates[0].part as string;
  const record = { ...whole.part(part), categories: ['Microcontroller'] };
  const change = { ...BY, kind: 'record-put', payload: { collection: 'parts', record } } as Change;
  const changed = whole.with(entriesOf([change], whole.sequence + 1));
  const tried = await decisionsOf(changed, id);
  expect(whole.specimen(`${id}/a`)?.labels.get('U2')?.get('Accelerometer')).toBeGreaterThan(0.5);
  const { archive: folded } = await archiveFrom([...(await changesOf(kept)), change]);
  const made = await decisionsOf(folded.state('desk'), id);
  expect(JSON.stringify(tried)).toBe(JSON.stringify(made));
  expect(JSON.stringify(made)).not.toBe(JSON.stringify(await decisionsOf(whole, id)));
  expect(changed.specimen(`${id}/a`)?.labels).toEqual(folded.state('desk').specimen(`${id}/a`)?.labels);
});
