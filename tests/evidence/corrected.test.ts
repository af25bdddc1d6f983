import { beforeEach, describe, expect, test } from 'vitest';
import type { Archive } from '../../src/archive.ts';
import { decisionById } from '../../src/decisions/decisions.ts';
import { auditClaims } from '../../src/evidence/audit.ts';
import { checkingSheet } from '../../src/evidence/checking-sheet.ts';
import { type Amendment, amendmentSchema } from '../../src/model/correction.ts';
import { componentAtAGlance } from '../../src/questions/component.ts';
import { BY, catalogueChanges, DEVICE, dossierChange, SMALL_CATALOGUE } from '../state/archive-of.ts';
import { archiveFrom } from './archive.ts';

// An observation that a later one corrects carries as little as one that was withdrawn, on every surface.

const SPECIMEN = `${DEVICE.id}/a`;
const on = (local: string) => `${SPECIMEN}/${local}`;
const seen = (id: string, about: string[], marking: string) => ({
  id,
  about,
  kind: 'marking' as const,
  marking,
});

const MADE = [
  ...SMALL_CATALOGUE,
  ...catalogueChanges({
    patterns: [
      {
        id: 'one-is-there',
        name: 'One is there',
        idea: 'It tells motion.',
        text: 'MATCH (s:Accelerometer) RETURN s',
        reasons: ['It has to.'],
        strength: 1,
      },
    ],
  }),
  dossierChange({
    device: DEVICE,
    specimen: { id: 'a' },
    components: [{ id: 'U1' }, { id: 'U2' }],
    observations: [seen('first', ['U1'], '4410'), seen('other', ['U2'], 'OS7')],
    identifications: [
      {
        component: 'U1',
        candidates: [{ part: 'quistle/QWR4T10', probability: 0.97 }],
        basis: ['first'],
        state: 'settled',
      },
      { component: 'U2', candidates: [{ part: 'ostrel/OS7', probability: 1 }], basis: ['other'] },
    ],
  }),
  ...catalogueChanges({
    publications: [
      {
        id: 'printed',
        kind: 'article',
        title: 'As printed',
        published: '2026-01-01',
        visibility: 'published',
        claims: [
          { id: 'c1', sentence: 'It holds a QWR4T10.', supportedBy: [on('U1')] },
          { id: 'c2', sentence: 'It holds an OS7.', supportedBy: [on('U2')] },
        ],
      },
    ],
  }),
];

const WITHDRAWN = amendmentSchema.parse({ withdraw: { observation: on('first') } });
const READ_ANEW = amendmentSchema.parse({
  observe: { specimen: SPECIMEN, ...seen('again', ['U1'], '4460'), corrects: 'first' },
});

let archive: Archive;
beforeEach(async () => {
  ({ archive } = await archiveFrom(MADE, () => new Date(Date.UTC(2026, 1, 1))));
});

/** What each surface says of the component and of the sentence on it, texts that name the cause aside. */
async function surfaces() {
  const state = archive.state('desk');
  const glance = await componentAtAGlance(state, on('U1'));
  const [first, second] = await auditClaims(state);
  return {
    identification: glance.identification,
    earlier: glance.earlier,
    listed: glance.listed.part?.id,
    holders: state.holdersOf('quistle/QWR4T10').length,
    decision: (await decisionById(state, `${DEVICE.id}:one-is-there`))?.shape ?? 0,
    label: state.specimen(SPECIMEN)?.named.get('U1')?.get('Accelerometer') ?? 0,
    first: { probability: first.probability, findings: first.findings.map(({ kind }) => kind) },
    second: { probability: second.probability, findings: second.findings },
  };
}

async function following(amendment: Amendment) {
  await archive.correct(amendment, BY, 'desk');
  return surfaces();
}

describe('an observation read anew', () => {
  test('takes from what named nothing else what its withdrawal takes: component, holders, decisions, audit', async () => {
    const before = await surfaces();
    expect(before).toMatchObject({ holders: 1, first: { probability: 0.97, findings: [] } });
    const anew = await following(READ_ANEW);
    expect(anew).toMatchObject({ identification: undefined, holders: 0, label: 0 });
    expect(anew.first.probability).toBeLessThan(0.1);
    expect(anew.second).toEqual(before.second);
    ({ archive } = await archiveFrom(MADE, () => new Date(Date.UTC(2026, 1, 1))));
    const withdrawn = await following(WITHDRAWN);
    // What the chip may be besides follows from its new marking.
    expect({ ...anew, decision: 0, listed: 0 }).toEqual({ ...withdrawn, decision: 0, listed: 0 });
  });

  test('is found before it is made, and names the printed sentence with a notice', async () => {
    const tried = await archive.whatIf(archive.state('desk'), READ_ANEW, undefined, BY);
    expect(tried.claims.map(({ id, before }) => [id, before])).toEqual([['printed/c1', 0.97]]);
    const { correction } = await archive.correct(READ_ANEW, BY, 'desk');
    expect(correction.publications.map(({ publication }) => publication)).toEqual(['printed']);
    expect(correction.publications[0].notice).toContain('We wrote: “It holds a QWR4T10.”');
  });

  test('counts again when what corrected it is withdrawn', async () => {
    const before = await surfaces();
    await following(READ_ANEW);
    expect(await following(amendmentSchema.parse({ withdraw: { observation: on('again') } }))).toEqual(
      before,
    );
  });

  test('stands on the checking sheet with what corrected it', async () => {
    await following(READ_ANEW);
    const lines = (await checkingSheet(archive.state('desk'), 'printed')).sentences.flatMap(
      ({ evidence }) => evidence,
    );
    const line = lines.find(({ id }) => id === on('first'));
    expect(line?.trouble).toBe('corrected by a later observation, again');
  });
});
