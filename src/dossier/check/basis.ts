import { fallenIn, hasBasis } from '../../model/standing.ts';
import type { DossierRule } from './context.ts';

/** An identification that names only observations which others correct counts for nothing, which its author may not expect. */
export const identificationsHaveEvidence: DossierRule = (document, report) => {
  const { identifications, observations } = document.dossier;
  const fallen = fallenIn(observations);
  if (fallen.size === 0) return;
  identifications.forEach(({ component, basis, state }, i) => {
    const isLast = !identifications.some((later, at) => at > i && later.component === component);
    if (!isLast || state === 'withdrawn' || hasBasis(basis, fallen)) return;
    // Whoever withdraws an observation means just that.
    if (basis.every((id) => 'withdrawn' in (fallen.get(id) ?? {}))) return;
    const why = basis.map((id) => {
      const fell = fallen.get(id);
      return fell && 'correctedBy' in fell
        ? `${id}, which ${fell.correctedBy} corrects`
        : `${id}, which was withdrawn`;
    });
    const what = `the identification of ${component} counts for nothing: all that it names is ${why.join('; ')}`;
    const fix = 'identify it anew, with observations that count';
    report(document, ['identifications', i, 'basis'], what, fix, 'caution');
  });
};
