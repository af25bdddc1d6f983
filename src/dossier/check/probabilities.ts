import type { DossierRule } from './context.ts';

/** Rival candidates exclude one another, so their probabilities sum to at most 1. */
export const rivalsSumToAtMostOne: DossierRule = (document, report) => {
  document.dossier.identifications.forEach(({ component, candidates }, i) => {
    const sum = candidates.reduce((total, { probability }) => total + probability, 0);
    if (sum > 1 + 1e-9) {
      report(
        document,
        ['identifications', i, 'candidates'],
        `the candidates for ${component} sum to ${Number(sum.toFixed(6))}`,
        'at most 1: what is left to 1 stays for "none of these"',
      );
    }
  });
};
