import type { DossierRule } from './context.ts';

/** What is certain, or called settled, stands on something that was seen: an observation, a source, or at least a reason. */
export const certaintyHasABasis: DossierRule = (document, report) => {
  const { identifications, teardown } = document.dossier;
  // A design file names the part itself.
  if (teardown.recordedFrom === 'design-files') return;
  identifications.forEach(({ component, candidates, basis, cites = [], reason, state }, i) => {
    if (state === 'withdrawn' || basis.length > 0 || cites.length > 0 || reason !== undefined) return;
    candidates.forEach(({ part, category, maker, probability }, j) => {
      if (probability < 1) return;
      const what = `${component} is ${part ?? category ?? maker} with probability 1, and nothing is named that shows it`;
      const fix = 'name observations in "basis", or write a probability below 1';
      report(document, ['identifications', i, 'candidates', j, 'probability'], what, fix, 'caution');
    });
  });
};
