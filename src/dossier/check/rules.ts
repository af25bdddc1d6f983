import { specimenIdOf } from '../../model/dossier.ts';
import type { Problem } from '../../model/problems.ts';
import type { ReadDocument } from '../document/document.ts';
import { atOnce, type Steps } from '../steps.ts';
import { identificationsHaveEvidence } from './basis.ts';
import { certaintyHasABasis } from './certainty.ts';
import { claimsStandOnEarlierEvidence } from './claims.ts';
import { globalIdsAreUnique } from './clashes.ts';
import {
  type ArchiveRule,
  type DossierRule,
  type Finding,
  gatherInto,
  type Held,
  type Severity,
} from './context.ts';
import { benchDatesAreInOrder } from './dates.ts';
import { lettersAreKnown } from './designators.ts';
import { partsAreOldEnough, specimensComeAfterRelease, successorsComeLater } from './device-dates.ts';
import { digestsAreOfFiles } from './digests.ts';
import { whatIsLeftOutIsTold } from './dropped.ts';
import { emptyPlacesAreEmpty } from './empty-places.ts';
import { feedsAskTheSchema } from './feed-questions.ts';
import { nothingWasSeenTomorrow } from './future-dates.ts';
import { globalReferencesAreKnown } from './global-references.ts';
import { identifiersAreWellFormed } from './identifiers.ts';
import { idsNameTheirBoard, localIdsAreUnique } from './local-ids.ts';
import { localReferencesAreKnown } from './local-references.ts';
import { makersMakeWhatTheySell } from './makers.ts';
import { contentsLieWithinTheirModule } from './modules.ts';
import {
  completeNetsJoinSomething,
  matedPinsMeetOnce,
  netsAreWhatTheyAreCalled,
  pinsAreInOneNet,
} from './nets.ts';
import {
  observationsAreRecordedOnce,
  observationsSaySomething,
  suggestionsHavePhotos,
} from './observations.ts';
import { partsHaveAHistory } from './parts.ts';
import { patternsBindTheirChecks, patternsCanBeSearched } from './pattern-checks.ts';

import { regionsLieOnTheirPhotos } from './photo-regions.ts';
import { pinsFitTheirPackage, pinsOfPartsFitTheirPackage } from './pin-counts.ts';
import { namedPinsExist, partsPinoutsAreInOrder, pinoutsAreInOrder } from './pins.ts';
import { componentsAreOnTheirBoards, placesAreTakenOnce } from './placement.ts';
import { rivalsSumToAtMostOne } from './probabilities.ts';
import { readersKnowWhatIsNamed } from './published-names.ts';
import { componentsFitTheirBoard, devicesHoldTheirBoards } from './sizes.ts';
import { connectionsJoinTwoThings, nothingHoldsItself } from './structure.ts';
import { successionHasNoCircle } from './succession.ts';
import { supportHasNoCircle } from './support.ts';
import { textsOfCataloguesArePlain, textsOfDossiersArePlain } from './texts.ts';
import { embargoesEnd } from './visibility.ts';

/** Rules about one dossier; ids first, since the others depend on them. */
export const DOSSIER_RULES: readonly DossierRule[] = Object.freeze([
  localIdsAreUnique,
  idsNameTheirBoard,
  lettersAreKnown,
  localReferencesAreKnown,
  connectionsJoinTwoThings,
  pinoutsAreInOrder,
  pinsAreInOneNet,
  netsAreWhatTheyAreCalled,
  completeNetsJoinSomething,
  matedPinsMeetOnce,
  emptyPlacesAreEmpty,
  nothingHoldsItself,
  componentsAreOnTheirBoards,
  placesAreTakenOnce,
  componentsFitTheirBoard,
  pinsFitTheirPackage,
  contentsLieWithinTheirModule,
  rivalsSumToAtMostOne,
  certaintyHasABasis,
  identificationsHaveEvidence,
  observationsSaySomething,
  observationsAreRecordedOnce,
  suggestionsHavePhotos,
  digestsAreOfFiles,
  regionsLieOnTheirPhotos,
  benchDatesAreInOrder,
  textsOfDossiersArePlain,
]);

/** Rules about all files together and the archive. */
export const ARCHIVE_RULES: readonly ArchiveRule[] = Object.freeze([
  globalIdsAreUnique,
  globalReferencesAreKnown,
  makersMakeWhatTheySell,
  identifiersAreWellFormed,
  successionHasNoCircle,
  successorsComeLater,
  specimensComeAfterRelease,
  nothingWasSeenTomorrow,
  devicesHoldTheirBoards,
  pinsOfPartsFitTheirPackage,
  partsHaveAHistory,
  partsPinoutsAreInOrder,
  namedPinsExist,
  partsAreOldEnough,
  claimsStandOnEarlierEvidence,
  supportHasNoCircle,
  embargoesEnd,
  readersKnowWhatIsNamed,
  patternsCanBeSearched,
  patternsBindTheirChecks,
  feedsAskTheSchema,
  textsOfCataloguesArePlain,
  whatIsLeftOutIsTold,
]);

/**
 * Everything the rules find, errors and cautions, by file and line. What the archive holds already is never refused again, only
 * cautioned: rules grow stricter, and observations can never be changed.
 */
export function checkDocuments(documents: readonly ReadDocument[], held: Held): readonly Finding[] {
  return atOnce(checkingDocuments(documents, held));
}

/** The same in steps, one for each rule and dossier, and for each name that others are near. */
export function* checkingDocuments(
  documents: readonly ReadDocument[],
  held: Held,
): Steps<readonly Finding[]> {
  const order = new Map(documents.map(({ file }, index) => [file, index]));
  const findings = yield* finding(documents, held);
  return (yield* asHeld(findings, documents, held)).toSorted(
    (a, b) =>
      (order.get(a.file ?? '') ?? -1) - (order.get(b.file ?? '') ?? -1) ||
      (a.line ?? 0) - (b.line ?? 0) ||
      (a.column ?? 0) - (b.column ?? 0),
  );
}

function* finding(documents: readonly ReadDocument[], held: Held): Steps<Finding[]> {
  const findings: Finding[] = [];
  const later: (() => void)[] = [];
  const report = gatherInto(findings, later);
  for (const document of documents) {
    if (document.kind !== 'dossier') continue;
    for (const rule of DOSSIER_RULES) {
      rule(document, report);
      yield;
    }
  }
  for (const rule of ARCHIVE_RULES) {
    rule(documents, held, report);
    yield;
  }
  for (const lookUp of later) {
    lookUp();
    yield;
  }
  return findings;
}

/** The findings, with errors that the dossier has in the archive as well as cautions. */
function* asHeld(
  findings: readonly Finding[],
  documents: readonly ReadDocument[],
  held: Held,
): Steps<readonly Finding[]> {
  const wrong = new Set(findings.flatMap(({ severity, file }) => (severity === 'error' ? [file] : [])));
  const accepted = new Map<string, ReadonlySet<string>>();
  for (const { file, ...document } of documents) {
    if (document.kind !== 'dossier' || !wrong.has(file)) continue;
    const dossier = held.dossierNow(specimenIdOf(document.dossier));
    if (!dossier) continue;
    const before = yield* finding(
      [{ ...document, file, dossier, locate: () => ({ line: 1, column: 1 }) }],
      held,
    );
    accepted.set(file, new Set(before.map(({ what }) => what)));
  }
  if (accepted.size === 0) return findings;
  return findings.map((one) =>
    accepted.get(one.file ?? '')?.has(one.what) ? { ...one, severity: 'caution' } : one,
  );
}

/** What keeps files out, and what does not. */
export function bySeverity(findings: readonly Finding[]): {
  readonly errors: readonly Problem[];
  readonly cautions: readonly Problem[];
} {
  const of = (severity: Severity) =>
    findings.flatMap(({ severity: its, ...problem }) => (its === severity ? [problem] : []));
  return { errors: of('error'), cautions: of('caution') };
}
