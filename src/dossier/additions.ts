import type { Dossier } from '../model/dossier.ts';
import type { Change } from '../model/entry.ts';
import { CasebackError, formatProblem, type Problem } from '../model/problems.ts';
import type { Held } from './check/context.ts';
import { checkDocuments, errorsAmong } from './check/rules.ts';
import type { ReadDocument } from './document/document.ts';

type Addition = Extract<Change, { kind: 'observation-recorded' | 'identification-set' }>;

/**
 * Checks one observation or identification against the dossier it is added to, by the rules that files obey.
 * @throws CasebackError BAD_INPUT with every problem; CONFLICT for an observation id that is taken
 */
export function checkAddition(dossier: Dossier, { kind, payload }: Addition, held: Held): void {
  const list = kind === 'observation-recorded' ? 'observations' : 'identifications';
  if (
    kind === 'observation-recorded' &&
    dossier.observations.some(({ id }) => id === payload.observation.id)
  ) {
    throw new CasebackError(
      'CONFLICT',
      `Observation "${payload.observation.id}" is already recorded in ${payload.specimen}; observations are never changed. Choose another id, and say "corrects" if it puts the first one right.`,
    );
  }
  const extended =
    kind === 'observation-recorded'
      ? { ...dossier, observations: [...dossier.observations, payload.observation] }
      : { ...dossier, identifications: [...dossier.identifications, payload.identification] };
  const place = `${list}[${extended[list].length - 1}]`;
  // Only what the addition itself brings; what the dossier had was accepted before.
  const problems = errorsAmong(checkDocuments([asDocument(extended)], held))
    .filter(({ path }) => path === place || path?.startsWith(`${place}.`))
    .map(
      ({ path, what, mend }): Problem => ({
        path: path?.slice(place.length).replace(/^\./u, ''),
        what,
        mend,
      }),
    );
  if (problems.length > 0)
    throw new CasebackError('BAD_INPUT', problems.map(formatProblem).join('; '), problems);
}

function asDocument(dossier: Dossier): ReadDocument {
  return { kind: 'dossier', file: '', dossier, locate: () => ({ line: 1, column: 1 }) };
}
