import { fallenIn } from '../../model/standing.ts';
import type { DossierRule } from './context.ts';

/** Where nothing is soldered there is nothing to read, to identify, or to hold something. */
export const emptyPlacesAreEmpty: DossierRule = (document, report) => {
  const { components, observations, identifications } = document.dossier;
  const empty = new Set(components.flatMap(({ id, fitted }) => (fitted === false ? [id] : [])));
  if (empty.size === 0) return;
  const fix = 'leave "fitted" out where something is soldered, else leave this out';
  components.forEach(({ id, marking, inside, fitted }, i) => {
    if (inside !== undefined && empty.has(inside) && fitted !== false) {
      const what = `${id} is inside ${inside}, which is not fitted`;
      report(document, ['components', i, 'inside'], what, `write fitted: false for ${id} too`, 'caution');
    }
    if (empty.has(id) && marking !== undefined)
      report(
        document,
        ['components', i, 'marking'],
        `${id} is not fitted, but has a marking`,
        fix,
        'caution',
      );
  });
  const fallen = fallenIn(observations);
  observations.forEach(({ id: seen, about, kind, marking }, i) => {
    if (fallen.has(seen) || (kind !== 'marking' && marking === undefined)) return;
    for (const id of about)
      if (empty.has(id))
        report(
          document,
          ['observations', i],
          `${id} is not fitted, but a marking of it is read`,
          fix,
          'caution',
        );
  });
  identifications.forEach(({ component, state }, i) => {
    if (empty.has(component) && state !== 'withdrawn')
      report(
        document,
        ['identifications', i],
        `${component} is not fitted, but is identified`,
        fix,
        'caution',
      );
  });
};
