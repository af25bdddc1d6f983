import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { planImport } from '../../src/dossier/plan.ts';
import { writeDossier } from '../../src/dossier/write.ts';
import { identificationSchema, observationSchema, specimenIdOf } from '../../src/model/dossier.ts';
import type { Change } from '../../src/model/entry.ts';
import { type CasebackError, formatProblem } from '../../src/model/problems.ts';
import { another, deviceCalled } from './check/findings.ts';
import { changed, documentOf, GOOD_CATALOGUE, GOOD_DOSSIER } from './files.ts';
import { Holding } from './holding.ts';

const BY = { actor: 'bench', reason: 'test' } as const;
const SPECIMEN = 'tarn-sennit-3/a';

function plan(texts: readonly string[], held = new Holding()): readonly Change[] {
  return planImport(
    texts.map((text, i) => documentOf(text, `${i}.yaml`)),
    held,
    BY,
  ).changes;
}

function refused(texts: readonly string[], held: Holding): { code: string; problems: readonly string[] } {
  try {
    plan(texts, held);
  } catch (error) {
    const { code, problems } = error as CasebackError;
    return { code, problems: problems.map(formatProblem) };
  }
  throw new Error('the import was not refused');
}

function changesAsText(changes: readonly Change[]): readonly string[] {
  return changes.map((change) => {
    if (change.kind === 'dossier-put') return specimenIdOf(change.payload);
    return change.kind === 'record-put' ? `${change.payload.collection}` : change.kind;
  });
}

/** An archive into which the sound files were imported, and then two things recorded. */
function imported(): Holding {
  return new Holding().apply(plan([GOOD_CATALOGUE, GOOD_DOSSIER]));
}

function recordedSince(holding: Holding): Holding {
  const observation = observationSchema.parse({
    id: 'seen-2',
    about: ['U2'],
    kind: 'marking',
    marking: 'OS7',
  });
  const identification = identificationSchema.parse({
    component: 'U2',
    candidates: [{ part: 'ostrel/OS7', probability: 0.9 }],
    basis: ['seen-2'],
  });
  return holding.apply([
    { ...BY, kind: 'observation-recorded', payload: { specimen: SPECIMEN, observation } },
    { ...BY, kind: 'identification-set', payload: { specimen: SPECIMEN, identification } },
  ]);
}

describe('an import', () => {
  test('puts records that dossiers refer to first, with author and reason', () => {
    const changes = plan([GOOD_DOSSIER, GOOD_CATALOGUE]);
    expect(changesAsText(changes)).toEqual([
      'makers',
      'makers',
      'makers',
      'productLines',
      'parts',
      'parts',
      'devices',
      SPECIMEN,
    ]);
    for (const { actor, reason } of changes) expect({ actor, reason }).toEqual(BY);
  });

  test('describes everything before it is named, whatever the order of the files', () => {
    const relabelled = changed(
      GOOD_CATALOGUE,
      'maker: quistle, categories',
      'maker: quistle, relabels: ostrel/OS7, categories',
    ).replace('introduced: 2017', 'introduced: 2018');
    const publication =
      'caseback: catalogue/1\npublications:\n  - { id: p, kind: article, title: T, claims: [{ id: c, sentence: S., supportedBy: [line-4, tarn-sennit-3/a/U1] }] }\n';
    const files = [
      relabelled,
      publication,
      GOOD_DOSSIER,
      another('b'),
      another('c'),
      ...[1, 2, 3, 4].map((n) =>
        deviceCalled(`line-${n}`, `released: ${2015 + n}, succeeds: [${n > 1 ? `line-${n - 1}` : ''}]`),
      ),
      deviceCalled('zenith', 'released: 2012'),
      deviceCalled('aster', 'released: 2022, succeeds: [zenith, line-4]'),
    ];
    fc.assert(
      fc.property(fc.shuffledSubarray(files, { minLength: files.length }), (shuffled) => {
        const changes = plan(shuffled);
        expect(changes).toHaveLength(6 + 1 + 7 + 9);
        expect(() => new Holding().apply(changes)).not.toThrow();
      }),
      { numRuns: 60 },
    );
  });

  test('done twice writes once', () => {
    expect(plan([GOOD_CATALOGUE, GOOD_DOSSIER], imported())).toEqual([]);
  });

  test('writes only what differs', () => {
    const catalogue = changed(GOOD_CATALOGUE, 'name: Ostrel', 'name: Ostrel Circuits');
    const changes = plan(
      [catalogue, changed(GOOD_DOSSIER, 'package: LGA-14', 'package: LGA-12')],
      imported(),
    );
    expect(changesAsText(changes)).toEqual(['makers', SPECIMEN]);
  });

  test('of the dossier as it was filed, or as exported since, writes nothing', () => {
    const holding = recordedSince(imported());
    expect(plan([GOOD_DOSSIER], holding)).toEqual([]);
    const exported = holding.dossierNow(SPECIMEN);
    expect(plan([exported ? writeDossier(exported) : ''], holding)).toEqual([]);
  });

  test('of an export with additions writes the dossier with what had been recorded', () => {
    const holding = recordedSince(imported());
    const exported = holding.dossierNow(SPECIMEN);
    const [change] = plan([`${exported ? writeDossier(exported) : ''}note: Looked at again.\n`], holding);
    expect(change.payload).toMatchObject({
      note: 'Looked at again.',
      observations: [{ id: 'seen-1' }, { id: 'seen-2' }],
    });
  });
});

describe('an import is refused completely', () => {
  test('with every problem of every file', () => {
    const { code, problems } = refused(
      [
        changed(GOOD_DOSSIER, 'maker: tarn\n', 'maker: trn\n'),
        changed(GOOD_CATALOGUE, 'maker: ostrel, categories', 'maker: ostrl, categories'),
      ],
      new Holding(),
    );
    expect(code).toBe('BAD_FILE');
    expect(problems).toEqual([
      '0.yaml:5:10 device.maker: no maker "trn" in these files or the archive — did you mean "tarn"?',
      expect.stringContaining('1.yaml:10:27 parts[1].maker: no maker "ostrl"'),
    ]);
  });

  test('but not because of cautions', () => {
    expect(
      plan([changed(GOOD_CATALOGUE, 'introduced: 2017', 'introduced: 2021'), GOOD_DOSSIER]),
    ).toHaveLength(8);
  });

  test('and lists a hundred problems of many', () => {
    const rivals = Array.from(
      { length: 150 },
      (_, i) => `  - { component: U1, candidates: [{ part: quistle/X${i}, probability: 0.1 }] }\n`,
    );
    const { problems } = refused([GOOD_CATALOGUE, GOOD_DOSSIER + rivals.join('')], new Holding());
    expect(problems).toHaveLength(101);
    expect(problems.at(-1)).toContain('and 50 more');
  });
});

describe('an import conflicts with the archive', () => {
  test('when it changes an observation that was filed', () => {
    const text = changed(
      GOOD_DOSSIER,
      'kind: marking\n    marking: 1E30',
      'kind: marking\n    marking: 1E38',
    );
    expect(refused([text], imported())).toEqual({
      code: 'CONFLICT',
      problems: [
        '0.yaml:42:5 observations[0]: observation "seen-1" was recorded with other content — observations are never changed: restore the old text and add a new one with corrects: seen-1',
      ],
    });
  });

  test('when it has different content under the id of an observation recorded since', () => {
    const text = changed(
      GOOD_DOSSIER,
      'identifications:',
      '  - { id: seen-2, about: [U1], kind: package, text: LGA }\nidentifications:',
    );
    expect(refused([text], recordedSince(imported()))).toEqual({
      code: 'CONFLICT',
      problems: [
        '0.yaml:46:5 observations[1]: observation "seen-2" was recorded with other content since the file was imported — export the dossier first, then add to it, or choose another id',
      ],
    });
  });

  test('when it drops a component that was referred to since', () => {
    const text = changed(GOOD_DOSSIER, '  - id: U2\n', '  - id: U9\n').replace('[U1, U2]', '[U1, U9]');
    expect(plan([text], imported())).toHaveLength(1);
    const { code, problems } = refused([text], recordedSince(imported()));
    expect(code).toBe('CONFLICT');
    expect(problems).toEqual([
      '0.yaml:1:1: drops "U2", which observation "seen-2", recorded since the file was imported, refers to — export the dossier first, then change it',
      '0.yaml:1:1: drops "U2", which the identification of U2, recorded since the file was imported, refers to — export the dossier first, then change it',
    ]);
  });

  test('when it describes a device differently from the dossier that describes it', () => {
    const second = changed(
      changed(GOOD_DOSSIER, 'specimen: { id: a', 'specimen: { id: b'),
      'mass: 43 g',
      'mass: 44 g',
    );
    expect(refused([second], imported())).toEqual({
      code: 'CONFLICT',
      problems: [
        '0.yaml:3:3 device: device "tarn-sennit-3" is described differently by another dossier in the archive — write only "device: tarn-sennit-3", or change that dossier',
      ],
    });
    const first = changed(GOOD_DOSSIER, 'mass: 43 g', 'mass: 44 g');
    expect(changesAsText(plan([first], imported()))).toEqual(['devices']);
    expect(changesAsText(plan([second, first], imported()))).toEqual(['devices', 'tarn-sennit-3/b']);
  });
});
