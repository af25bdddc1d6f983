import { describe, expect, test } from 'vitest';
import { checkAddition } from '../../src/dossier/additions.ts';
import { planImport } from '../../src/dossier/plan.ts';
import { type Dossier, identificationSchema, observationSchema } from '../../src/model/dossier.ts';
import type { CasebackError } from '../../src/model/problems.ts';
import { documentOf, GOOD_CATALOGUE, GOOD_DOSSIER } from './files.ts';
import { Holding } from './holding.ts';

const BY = { actor: 'bench', reason: 'test' } as const;
const specimen = 'tarn-sennit-3/a';
const held = new Holding().apply(
  planImport([documentOf(GOOD_CATALOGUE), documentOf(GOOD_DOSSIER, 'b.yaml')], held0(), BY).changes,
);
const dossier = held.dossierNow(specimen) as Dossier;

function held0(): Holding {
  return new Holding();
}

function observing(written: object): () => void {
  const observation = observationSchema.parse({
    about: ['U1'],
    kind: 'marking',
    marking: '1E30',
    ...written,
  });
  return () =>
    checkAddition(dossier, { ...BY, kind: 'observation-recorded', payload: { specimen, observation } }, held);
}

function identifying(written: object): () => void {
  const identification = identificationSchema.parse({ component: 'U1', ...written });
  return () =>
    checkAddition(
      dossier,
      { ...BY, kind: 'identification-set', payload: { specimen, identification } },
      held,
    );
}

function refusal(add: () => void): CasebackError {
  try {
    add();
  } catch (error) {
    return error as CasebackError;
  }
  throw new Error('it was taken');
}

describe('a record added to a dossier obeys the rules of files', () => {
  test('a valid record is accepted', () => {
    expect(observing({ id: 'seen-2', corrects: 'seen-1' })).not.toThrow();
    expect(
      identifying({ candidates: [{ part: 'ostrel/OS7', probability: 0.8 }], basis: ['seen-1'] }),
    ).not.toThrow();
  });

  test('an observation id is given once', () => {
    const { code, message } = refusal(observing({ id: 'seen-1' }));
    expect(code).toBe('CONFLICT');
    expect(message).toContain('observations are never changed');
  });

  test('what it names must be there; paths are those of the addition', () => {
    const { code, problems } = refusal(observing({ id: 'seen-2', about: ['U1', 'U8'] }));
    expect(code).toBe('BAD_INPUT');
    expect(problems).toEqual([
      {
        path: 'about[1]',
        what: 'no component, board, subsystem, net or photo is called "U8" in this dossier',
        fix: 'did you mean "U1" or "U2"?',
      },
    ]);
    expect(
      refusal(identifying({ candidates: [{ part: 'ostrel/OS9', probability: 1 }] })).problems[0],
    ).toMatchObject({
      path: 'candidates[0].part',
      fix: 'did you mean "ostrel/OS7"?',
    });
  });

  test('rivals sum to at most 1', () => {
    const { problems } = refusal(
      identifying({
        candidates: [
          { category: 'Gyroscope', probability: 0.8 },
          { category: 'Accelerometer', probability: 0.3 },
        ],
      }),
    );
    expect(problems).toMatchObject([{ path: 'candidates', what: 'the candidates for U1 sum to 1.1' }]);
  });
});
