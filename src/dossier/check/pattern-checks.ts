import { mistakesOfCheck } from '../../design-checks/bound-names.ts';
import type { ArchiveRule } from './context.ts';

/** The check of a pattern exists, and each of its inputs is bound to what the pattern and the archive know. */
export const patternsBindTheirChecks: ArchiveRule = (documents, _held, report) => {
  for (const document of documents) {
    if (document.kind !== 'catalogue') continue;
    document.catalogue.patterns.forEach((pattern, i) => {
      for (const { path, what, fix } of mistakesOfCheck(pattern))
        report(document, ['patterns', i, 'check', ...path], what, fix);
    });
  }
};
