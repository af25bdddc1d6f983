import { beforeEach, describe, expect, test } from 'vitest';
import { exportDossiers } from '../../src/archive/as-files.ts';
import type { Archive } from '../../src/archive.ts';
import { Identifier } from '../../src/identification/identifier.ts';
import type { Posterior } from '../../src/identification/posterior.ts';
import { sightingOf } from '../../src/identification/sighting.ts';
import { partIdOf } from '../../src/model/catalogue.ts';
import {
  type Component,
  type Device,
  type Dossier,
  judgementSchema,
  observationSchema,
} from '../../src/model/dossier.ts';
import { CasebackError } from '../../src/model/problems.ts';
import type { OpenedSpecimen } from '../../src/state/specimen.ts';
import { archiveOf } from '../service/serving.ts';

const BY = { actor: 'A. Bench', reason: 'wrong chip under the lens' } as const;
const SPECIMEN = 'tarn-sennit-1/a';
let archive: Archive;
beforeEach(async () => {
  archive = await archiveOf();
});

const dossier = () => archive.state('desk').specimen(SPECIMEN)?.dossier as Dossier;

function oddsOf(designator: string): Posterior {
  const view = archive.state('desk');
  const identifier = new Identifier();
  identifier.follow(view);
  const opened = view.specimen(SPECIMEN);
  const component = opened?.components.get(designator);
  const device = view.device('tarn-sennit-1');
  if (!opened || !component || !device) throw new Error('the invented archive has changed');
  return identifier.posteriorOf(opened, component, device);
}

const probabilities = ({ candidates, none }: Posterior) => [
  none,
  ...candidates.map(({ part, probability }) => [partIdOf(part), probability]),
];

const observe = (id: string, more: object) =>
  archive.recordObservation(
    SPECIMEN,
    observationSchema.parse({ id, about: ['U10'], kind: 'marking', marking: '4T10', ...more }),
    BY,
    'desk',
  );

describe('an observation that was withdrawn', () => {
  test('leaves no trace in the numbers, and stays on record with who, when and why', async () => {
    const before = probabilities(oddsOf('U10'));
    await observe('seen-late', { kind: 'pin-count', marking: undefined, value: '12' });
    expect(probabilities(oddsOf('U10'))).not.toEqual(before);
    const { instant, kind } = await archive.withdrawObservation(SPECIMEN, 'seen-late', BY, 'desk');
    expect(kind).toBe('observation-withdrawn');
    expect(probabilities(oddsOf('U10'))).toEqual(before);
    expect(dossier().observations.find(({ id }) => id === 'seen-late')?.withdrawn).toEqual({
      by: BY.actor,
      on: instant,
      reason: BY.reason,
    });
  });

  test('restores the observation that it had corrected', async () => {
    await observe('first', { marking: '4T10\n352' });
    const before = probabilities(oddsOf('U10'));
    await observe('second', { marking: 'ZZZZ\nZZZ', corrects: 'first' });
    expect(probabilities(oddsOf('U10'))).not.toEqual(before);
    await archive.withdrawObservation(SPECIMEN, 'second', BY, 'desk');
    expect(probabilities(oddsOf('U10'))).toEqual(before);
  });

  test.each([
    ['U10', 'package', { kind: 'package', text: 'lga 12' }],
    ['U10', 'body', { kind: 'body-size', text: '2.0 x 2.0 mm' }],
    ['U10', 'body', { kind: 'body-size', value: '2 mm' }],
    ['U1', 'marking', { kind: 'marking', marking: 'OS7' }],
    ['D1', 'appears', { kind: 'appearance', text: 'photodiode' }],
  ] as const)('takes the field of %s that repeats it along: %s', async (designator, field, seen) => {
    const opened = () => archive.state('desk').specimen(SPECIMEN) as OpenedSpecimen;
    const said = () =>
      sightingOf(opened(), component(), archive.state('desk').device('tarn-sennit-1') as Device)[field];
    const component = () => opened().components.get(designator) as Component;
    const earlier = (opened().observations.get(designator) ?? []).filter(({ kind }) => kind === seen.kind);
    await observe('seen-again', { about: [designator], marking: undefined, ...seen });
    expect(said()).toBeDefined();
    for (const { id } of [...earlier, { id: 'seen-again' }])
      await archive.withdrawObservation(SPECIMEN, id, BY, 'desk');
    expect(said()).toBeUndefined();
    // The dossier keeps it, and so does history.
    expect(component()[field]).toBeDefined();
  });

  test('keeps the field while another observation says the same', async () => {
    await observe('once', { kind: 'package', marking: undefined, text: 'LGA-12' });
    await observe('twice', { kind: 'package', marking: undefined, text: 'LGA-12' });
    const before = probabilities(oddsOf('U10'));
    await archive.withdrawObservation(SPECIMEN, 'once', BY, 'desk');
    expect(probabilities(oddsOf('U10'))).toEqual(before);
  });

  test('of a settled component is no longer learnt from', async () => {
    const taught = () => {
      const identifier = new Identifier();
      identifier.follow(archive.state('desk'));
      const { habits } = identifier.lessonsFor('none of them');
      return habits.given('reading', 'O').get('O') ?? 0;
    };
    const earlier = archive.state('desk').specimen(SPECIMEN)?.observations.get('U1') ?? [];
    await observe('seen-again', { about: ['U1'], marking: 'OS7' });
    const before = taught();
    expect(before).toBeGreaterThan(0);
    for (const { id, kind } of earlier)
      if (kind === 'marking') await archive.withdrawObservation(SPECIMEN, id, BY, 'desk');
    await archive.withdrawObservation(SPECIMEN, 'seen-again', BY, 'desk');
    expect(taught()).toBe(before - 1);
  });

  test('cannot be withdrawn twice, nor without being there', async () => {
    await observe('seen-late', {});
    await archive.withdrawObservation(SPECIMEN, 'seen-late', BY, 'desk');
    const again = archive.withdrawObservation(SPECIMEN, 'seen-late', BY, 'desk');
    await expect(again).rejects.toMatchObject({ code: 'CONFLICT' });
    const unknown = archive.withdrawObservation(SPECIMEN, 'seen-lat', BY, 'desk');
    await expect(unknown).rejects.toThrow(CasebackError);
    await expect(unknown).rejects.toThrow(/did you mean "seen-late"/u);
  });
});

describe("an editor's judgement", () => {
  const judge = (decibans: number, part = 'quistle/QWR4T10') =>
    archive.judgeIdentification(
      SPECIMEN,
      judgementSchema.parse({ component: 'U10', part, decibans, by: 'A. Bench', reason: 'same lot code' }),
      BY,
      'desk',
    );
  const oddsFor = (designator: string, part: string) => {
    const { candidates, none } = oddsOf(designator);
    return (candidates.find((one) => partIdOf(one.part) === part)?.probability ?? 0) / none;
  };

  test('of 10 decibans makes the part ten times as likely against "none", and shows name and reason', async () => {
    const before = oddsFor('U10', 'quistle/QWR4T10');
    await judge(10);
    expect(oddsFor('U10', 'quistle/QWR4T10') / before).toBeCloseTo(10, 9);
    expect(oddsOf('U10').evidenceFor('quistle/QWR4T10').at(-1)).toEqual({
      kind: 'judgement',
      description: 'A. Bench: same lot code',
      decibans: 10,
    });
  });

  test('is combined with the evidence and overwrites nothing', async () => {
    const before = oddsOf('U10').evidenceFor('quistle/QWR4T10');
    const { identifications } = dossier();
    await judge(-20);
    expect(oddsOf('U10').evidenceFor('quistle/QWR4T10').slice(0, -1)).toEqual(before);
    expect(dossier().identifications).toEqual(identifications);
  });

  test('must name a part of the catalogue and a component of the dossier', async () => {
    await expect(judge(10, 'quistle/QWR9999')).rejects.toMatchObject({ code: 'BAD_INPUT' });
  });
});

test('withdrawals and judgements survive export and import, which writes nothing', async () => {
  await observe('seen-late', {});
  await archive.withdrawObservation(SPECIMEN, 'seen-late', BY, 'desk');
  await archive.judgeIdentification(
    SPECIMEN,
    judgementSchema.parse({
      component: 'U10',
      part: 'quistle/QWR4T10',
      decibans: 6,
      by: 'A. Bench',
      reason: 'same lot code',
    }),
    BY,
    'desk',
  );
  const documents = [...exportDossiers(archive.state('desk'))].map((one) => ({
    kind: 'dossier' as const,
    file: 'exported.yaml',
    locate: () => ({ line: 1, column: 1 }),
    dossier: one,
  }));
  expect((await archive.importDocuments(documents, BY)).entries).toBe(0);
  const elsewhere = await archiveOf();
  await elsewhere.importDocuments(documents, BY);
  expect(elsewhere.state('desk').specimen(SPECIMEN)?.dossier).toEqual(dossier());
});
