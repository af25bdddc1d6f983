import type { ReadDocument } from '../document/document.ts';
import { claimsStandOnEarlierEvidence } from './claims.ts';
import { globalIdsAreUnique } from './clashes.ts';
import { type ArchiveRule, type DossierRule, type Finding, gatherInto, type Held } from './context.ts';
import { benchDatesAreInOrder } from './dates.ts';
import { lettersAreKnown } from './designators.ts';
import { partsAreOldEnough, specimensComeAfterRelease, successorsComeLater } from './device-dates.ts';
import { emptyPlacesAreEmpty } from './empty-places.ts';
import { globalReferencesAreKnown } from './global-references.ts';
import { identifiersAreWellFormed } from './identifiers.ts';
import { idsNameTheirBoard, localIdsAreUnique } from './local-ids.ts';
import { localReferencesAreKnown } from './local-references.ts';
import { makersMakeWhatTheySell } from './makers.ts';
import { contentsLieWithinTheirModule } from './modules.ts';
import { matedPinsMeetOnce, netsAreWhatTheyAreCalled, pinsAreInOneNet } from './nets.ts';
import { partsHaveAHistory } from './parts.ts';
import { patternsBindTheirChecks } from './pattern-checks.ts';
import { namedPinsExist, partsPinoutsAreInOrder, pinoutsAreInOrder } from './pins.ts';
import { componentsAreOnTheirBoards } from './placement.ts';
import { rivalsSumToAtMostOne } from './probabilities.ts';
import { connectionsJoinTwoThings, nothingHoldsItself } from './structure.ts';
import { successionHasNoCircle } from './succession.ts';
import { supportHasNoCircle } from './support.ts';
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
  matedPinsMeetOnce,
  emptyPlacesAreEmpty,
  nothingHoldsItself,
  componentsAreOnTheirBoards,
  contentsLieWithinTheirModule,
  rivalsSumToAtMostOne,
  benchDatesAreInOrder,
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
  partsHaveAHistory,
  partsPinoutsAreInOrder,
  namedPinsExist,
  partsAreOldEnough,
  claimsStandOnEarlierEvidence,
  supportHasNoCircle,
  embargoesEnd,
  patternsBindTheirChecks,
]);

/** Everything the rules find, errors and cautions, by file and line. */
export function checkDocuments(documents: readonly ReadDocument[], held: Held): readonly Finding[] {
  const findings: Finding[] = [];
  const report = gatherInto(findings);
  for (const document of documents) {
    if (document.kind === 'dossier') for (const rule of DOSSIER_RULES) rule(document, report);
  }
  for (const rule of ARCHIVE_RULES) rule(documents, held, report);
  const order = new Map(documents.map(({ file }, index) => [file, index]));
  return findings.sort(
    (a, b) =>
      (order.get(a.file ?? '') ?? -1) - (order.get(b.file ?? '') ?? -1) ||
      (a.line ?? 0) - (b.line ?? 0) ||
      (a.column ?? 0) - (b.column ?? 0),
  );
}

/** Only what keeps files out. */
export function errorsAmong(findings: readonly Finding[]): readonly Finding[] {
  return findings.filter(({ severity }) => severity === 'error');
}
