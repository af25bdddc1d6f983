import type { Problem } from '../../model/problems.ts';
import type { ReadDocument } from '../read.ts';
import { globalIdsAreUnique } from './clashes.ts';
import { type ArchiveRule, type DossierRule, gatherInto, type Held } from './context.ts';
import { benchDatesAreInOrder, successorsComeLater } from './dates.ts';
import { globalReferencesAreKnown } from './globalReferences.ts';
import { identifiersAreWellFormed } from './identifiers.ts';
import { localIdsAreUnique } from './localIds.ts';
import { localReferencesAreKnown } from './localReferences.ts';
import { componentsAreOnTheirBoards } from './placement.ts';
import { rivalsSumToAtMostOne } from './probabilities.ts';
import { connectionsJoinTwoThings, nothingHoldsItself } from './structure.ts';
import { successionHasNoCircle } from './succession.ts';
import { embargoesEnd } from './visibility.ts';

/** Rules about one dossier; ids first, since what follows leans on them. */
export const DOSSIER_RULES: readonly DossierRule[] = Object.freeze([
  localIdsAreUnique,
  localReferencesAreKnown,
  connectionsJoinTwoThings,
  nothingHoldsItself,
  componentsAreOnTheirBoards,
  rivalsSumToAtMostOne,
  benchDatesAreInOrder,
  identifiersAreWellFormed,
  embargoesEnd,
]);

/** Rules about all files together and the archive. */
export const ARCHIVE_RULES: readonly ArchiveRule[] = Object.freeze([
  globalIdsAreUnique,
  globalReferencesAreKnown,
  successionHasNoCircle,
  successorsComeLater,
]);

/** Every problem that the rules find, by file and line. */
export function checkDocuments(documents: readonly ReadDocument[], held: Held): readonly Problem[] {
  const problems: Problem[] = [];
  const report = gatherInto(problems);
  for (const document of documents) {
    if (document.kind === 'dossier') for (const rule of DOSSIER_RULES) rule(document, report);
  }
  for (const rule of ARCHIVE_RULES) rule(documents, held, report);
  const fileOrder = new Map(documents.map(({ file }, index) => [file, index]));
  const placeOf = ({ file = '', line = 0, column = 0 }: Problem) => [fileOrder.get(file) ?? -1, line, column];
  return problems.sort((a, b) => {
    const [x, y] = [placeOf(a), placeOf(b)];
    return x[0] - y[0] || x[1] - y[1] || x[2] - y[2];
  });
}
