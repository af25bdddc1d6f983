import { recordOfId } from '../../model/ids.ts';
import { fixed } from '../../text/rounding.ts';
import type { DossierRule } from './context.ts';

/** Rival candidates exclude one another: each is listed once, and their probabilities sum to at most 1. */
export const rivalsSumToAtMostOne: DossierRule = (document, report) => {
  document.dossier.identifications.forEach(({ component, candidates }, i) => {
    const path = ['identifications', i, 'candidates'];
    const sum = candidates.reduce((total, { probability }) => total + probability, 0);
    // Hand-written decimals such as 0.7 + 0.2 + 0.1 may miss 1 by rounding.
    if (sum > 1 + 1e-9) {
      const what = `the candidates for ${component} sum to ${Number(fixed(sum, 6))}`;
      report(document, path, what, 'at most 1: what is left to 1 stays for "none of these"');
    }
    const seen = new Set<string>();
    candidates.forEach(({ part, category, maker }, j) => {
      const what = [part, category, maker].join(' ').trim();
      if (seen.has(what)) {
        report(document, [...path, j], `${what} is a candidate for ${component} twice`, 'add the two up');
      }
      seen.add(what);
      if (part !== undefined && maker !== undefined && recordOfId(part) !== maker) {
        const contradiction = `names part ${part} and maker ${maker}, which is not its maker`;
        report(document, [...path, j, 'maker'], contradiction, 'leave "maker" out; the part says it');
      }
    });
  });
};
