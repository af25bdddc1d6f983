import { type Dossier, type Observation, specimenIdOf } from '../model/dossier.ts';
import type { Problem } from '../model/problems.ts';
import type { HeldDossiers } from './check/context.ts';
import { localIds } from './check/local-ids.ts';
import { withDeviceId, wrongDescription } from './devices.ts';
import { type DossierDocument, type Path, pathText, type ReadDocument } from './document/document.ts';
import { same } from './document/same.ts';

/**
 * Where files contradict what the archive holds of the same specimens and devices: observations changed, things
 * dropped that later records refer to, a device described differently than in a dossier that is not among the files.
 */
export function contradictions(documents: readonly ReadDocument[], held: HeldDossiers): readonly Problem[] {
  const dossiers = documents.filter((document) => document.kind === 'dossier');
  const problems: Problem[] = [];
  for (const document of dossiers) {
    const { dossier } = document;
    const specimen = specimenIdOf(dossier);
    const filed = held.dossierAsFiled(specimen);
    if (!filed || same(withDeviceId(dossier), withDeviceId(filed))) continue;
    const now = held.dossierNow(specimen) ?? filed;
    problems.push(...observationsChanged(document, filed, now), ...thingsDropped(document, filed, now));
  }
  return [
    ...problems,
    ...dossiers.flatMap((document) => {
      const wrong = wrongDescription(document, dossiers, held);
      return wrong ? [problemAt(document, ['device'], wrong.what, wrong.fix)] : [];
    }),
  ];
}

/** An observation is never changed: a file may not say something else under the id of one already recorded. */
function observationsChanged(document: DossierDocument, filed: Dossier, now: Dossier): readonly Problem[] {
  const inFile = new Set(filed.observations.map(({ id }) => id));
  const recorded = new Map(now.observations.map((one) => [one.id, one]));
  const asFiled = new Map(filed.observations.map((one) => [one.id, one]));
  return document.dossier.observations.flatMap((one, i) => {
    const before = recorded.get(one.id);
    if (!before || same(one, before) || same(one, withdrawnAs(one, before, asFiled.get(one.id)))) return [];
    const fix = inFile.has(one.id)
      ? `observations are never changed: restore the old text and add a new one with corrects: ${one.id}`
      : 'export the dossier first, then add to it, or choose another id';
    const since = inFile.has(one.id) ? '' : ' since the file was imported';
    const what = `observation "${one.id}" was recorded with other content${since}`;
    return [problemAt(document, ['observations', i], what, fix)];
  });
}

/**
 * An observation as recorded, with its withdrawal as a file may have it: a file may withdraw an observation, and one
 * written before the withdrawal need not know. No file may undo what a file said.
 */
function withdrawnAs(
  inFile: Observation,
  before: Observation,
  filed: Observation | undefined,
): Observation | undefined {
  const { withdrawn: _, ...kept } = before;
  if (inFile.withdrawn === undefined) return filed?.withdrawn ? undefined : kept;
  return before.withdrawn ? undefined : { ...kept, withdrawn: inFile.withdrawn };
}

/** What was recorded since the file was imported must still find the things that it is about. */
function thingsDropped(document: DossierDocument, filed: Dossier, now: Dossier): readonly Problem[] {
  const known = new Set([
    ...localIds(document.dossier).map(({ id }) => id),
    document.dossier.specimen.id,
    'teardown',
  ]);
  const filedObservations = new Set(filed.observations.map(({ id }) => id));
  const later = now.observations.filter(({ id }) => !filedObservations.has(id));
  for (const { id } of later) known.add(id);
  const filedPhotos = new Map(filed.photos.map((photo) => [photo.id, photo]));
  const inFile = new Map(document.dossier.photos.map((photo) => [photo.id, photo]));
  // A photo of which the file says something new counts as the file has it.
  const photos = now.photos.filter(
    (photo) =>
      !same(photo, filedPhotos.get(photo.id)) && same(filedPhotos.get(photo.id), inFile.get(photo.id)),
  );
  for (const { id } of photos) known.add(id);
  const spokenOf = [
    ...later.flatMap(({ id, about, leadsTo = [], photo, corrects }) =>
      [...about, ...leadsTo, photo, corrects].map((on) => ({ by: `observation "${id}"`, on })),
    ),
    ...now.identifications
      .filter((one) => !filed.identifications.some((before) => same(one, before)))
      .flatMap(({ component, basis }) =>
        [component, ...basis].map((on) => ({ by: `the identification of ${component}`, on })),
      ),
    ...photos.flatMap(({ id, board, regions }) =>
      [board, ...regions.map(({ of }) => of)].map((on) => ({ by: `the photo "${id}"`, on })),
    ),
    ...(now.judgements ?? [])
      .filter((one) => !filed.judgements?.some((before) => same(one, before)))
      .map(({ component }) => ({ by: `a judgement of ${component}`, on: component })),
  ];
  return spokenOf
    .filter(({ on }) => on !== undefined && !known.has(on))
    .map(({ by, on }) =>
      problemAt(
        document,
        [],
        `drops "${on}", which ${by}, recorded since the file was imported, refers to`,
        'export the dossier first, then change it',
      ),
    );
}

function problemAt(document: DossierDocument, path: Path, what: string, fix: string): Problem {
  return { file: document.file, ...document.locate(path), path: pathText(path), what, fix };
}
