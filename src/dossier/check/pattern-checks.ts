import { createRequire } from 'node:module';
import { mistakesOfCheck } from '../../design-checks/bound-names.ts';
import { fixFor } from '../../pattern-texts/fix.ts';
import type { ArchiveRule } from './context.ts';

const require = createRequire(import.meta.url);

/** What checks texts of patterns: loaded with the first catalogue that has any, since a start does without the pattern engine. */
function checker(): typeof import('../../pattern-texts/mistakes.ts') {
  return require('../../pattern-texts/mistakes.ts');
}

/** The text of a pattern can be searched for: all decisions of a device are found together, and one that cannot would keep them. */
export const patternsCanBeSearched: ArchiveRule = (documents, _held, report) => {
  for (const document of documents) {
    if (document.kind !== 'catalogue') continue;
    document.catalogue.patterns.forEach(({ text }, i) => {
      for (const problem of checker().mistakesOfPattern(text)) {
        const { message, line, column } = problem;
        const fix = fixFor(problem) ?? 'try it with "caseback pattern" first';
        report(
          document,
          ['patterns', i, 'text'],
          `${message.replace(/\.$/u, '')} (line ${line}, column ${column} of the text)`,
          fix,
        );
      }
    });
  }
};

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
