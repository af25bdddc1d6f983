import { beforeAll, describe, expect, test } from 'vitest';
import type { Archive } from '../../src/archive.ts';
import { decisionsOf } from '../../src/decisions/decisions.ts';
import { auditClaims } from '../../src/evidence/audit.ts';
import { identificationSchema, observationSchema } from '../../src/model/dossier.ts';
import type { State } from '../../src/state/state.ts';
import { archiveWith, BY, demoFiles, publicationsFile } from './archive.ts';

const SPECIMEN = 'thovane-calcar-2/a';
const PUBLISHED = '2026-03-10T08:00:00.000Z';

let now = '';
let archive: Archive;

const auditOf = async (view: State) => {
  const [{ support, findings }] = await auditClaims(view, 'two-of-a-kind');
  return { support, findings };
};

beforeAll(async () => {
  now = '2026-03-01T08:00:00.000Z';
  const files = demoFiles([SPECIMEN], ['duplicated-sensors', 'like-sensors-far-apart']);
  ({ archive } = await archiveWith(files, () => new Date(now)));
  now = PUBLISHED;
  const publication = {
    id: 'two-of-a-kind',
    kind: 'article',
    title: 'Two of a kind',
    published: '2026-03-10',
    claims: [
      {
        id: 'c1',
        sentence: 'It is likely that the Calcar 2 doubles its accelerometer.',
        supportedBy: ['thovane-calcar-2:duplicated-sensors', `${SPECIMEN}/o4`, `${SPECIMEN}/U2`],
      },
    ],
  } as const;
  await archive.importDocuments([publicationsFile([structuredClone(publication) as never])], BY);
});

describe("a sentence's support on the day it was published", () => {
  test('is the same, whatever was recorded, identified and withdrawn since', async () => {
    const then = await auditOf(archive.state('desk'));
    const decisions = JSON.stringify(await decisionsOf(archive.state('desk'), 'thovane-calcar-2'));
    expect(then.findings).toEqual([]);
    expect(then.support.items.map(({ trouble }) => trouble)).toEqual([null, null, null]);

    const part = archive.state('desk').specimen(SPECIMEN)?.identified.get('U2')?.candidates[0].part;
    const changes = [
      () =>
        archive.recordObservation(
          SPECIMEN,
          observationSchema.parse({ id: 'late', about: ['U2'], kind: 'marking', marking: '????' }),
          BY,
          'desk',
        ),
      () =>
        archive.setIdentification(
          SPECIMEN,
          identificationSchema.parse({
            component: 'U2',
            candidates: [{ part, probability: 0.6 }],
          }),
          BY,
          'desk',
        ),
      () => archive.correct({ withdraw: { observation: `${SPECIMEN}/o4` } }, BY, 'desk'),
      () => archive.judgeDecision('thovane-calcar-2:duplicated-sensors', 'rejected', BY, 'desk'),
    ];
    let day = 11;
    let before = then;
    for (const change of changes) {
      now = `2026-03-${day++}T08:00:00.000Z`;
      await change();
      // Today's moves on …
      const today = await auditOf(archive.state('desk'));
      if (day > 12) expect(today).not.toEqual(before);
      before = today;
      // … and that day's stays.
      const view = await archive.asOf(PUBLISHED, 'desk');
      expect(await auditOf(view)).toEqual(then);
      expect(JSON.stringify(await decisionsOf(view, 'thovane-calcar-2'))).toBe(decisions);
    }
    expect(before.findings.map(({ kind }) => kind)).toEqual(
      expect.arrayContaining(['withdrawn', 'overstated']),
    );
  });

  test('a day earlier there was neither sentence nor correction', async () => {
    const view = await archive.asOf('2026-03-09T08:00:00.000Z', 'desk');
    expect(view.publication('two-of-a-kind')).toBeUndefined();
    expect(view.corrections.length).toBe(0);
    expect(archive.state('desk').corrections.length).toBe(1);
  });

  test('the correction names the sentence, the number before and now, and who did it when', () => {
    const [correction] = archive.state('desk').corrections;
    expect(correction).toMatchObject({ by: BY.actor, reason: BY.reason, on: '2026-03-13T08:00:00.000Z' });
    const [publication] = correction.publications;
    expect(publication.publication).toBe('two-of-a-kind');
    expect(publication.claims).toEqual([
      expect.objectContaining({ claim: 'two-of-a-kind/c1', after: 0, findings: expect.any(Array) }),
    ]);
    expect(publication.notice).toContain('Two of a kind');
    expect(publication.notice).toContain('It is likely that the Calcar 2 doubles its accelerometer.');
    expect(publication.notice).toContain(BY.reason);
  });
});
