import type { Dossier } from '../model/dossier.ts';
import type { Change, ObservationRecorded, ObservationWithdrawn } from '../model/entry.ts';
import { CasebackError, formatProblem, type Problem } from '../model/problems.ts';
import { didYouMean } from '../text/near.ts';
import type { Held } from './check/context.ts';
import { bySeverity, checkDocuments } from './check/rules.ts';
import { recordedId, withReferences, withShown } from './component-ids.ts';
import type { ReadDocument } from './document/document.ts';

export type Addition = Extract<
  Change,
  {
    kind:
      | 'observation-recorded'
      | 'observation-withdrawn'
      | 'identification-set'
      | 'identification-judged'
      | 'photo-recorded';
  }
>;

/**
 * A change with the ids that the components it names have in the archive.
 * @throws CasebackError BAD_INPUT for a designator that several components have, with the ids that tell them apart
 */
export function withRecordedComponents<A extends Addition>(dossier: Dossier, addition: A): A {
  const problems: Problem[] = [];
  const to = (path: string) => (reference: string) => {
    const recorded = recordedId(dossier.components, reference);
    if (typeof recorded === 'string') return recorded;
    const [one, other] = [recorded.choices.slice(0, -1).join(', '), recorded.choices.at(-1)];
    problems.push({
      path,
      what: `"${reference}" may be ${one} or ${other}`,
      fix: `write one of ${recorded.choices.join(', ')}`,
    });
    return reference;
  };
  const payload = settled(addition, to);
  if (problems.length > 0)
    throw new CasebackError('BAD_INPUT', problems.map(formatProblem).join('; '), problems);
  return { ...addition, payload } as A;
}

function settled(
  { kind, payload }: Addition,
  to: (path: string) => (reference: string) => string,
): Addition['payload'] {
  switch (kind) {
    case 'observation-recorded':
      return { ...payload, observation: withReferences(payload.observation, to('about')) };
    case 'identification-set': {
      const { identification } = payload;
      return {
        ...payload,
        identification: { ...identification, component: to('component')(identification.component) },
      };
    }
    case 'identification-judged': {
      const { judgement } = payload;
      return { ...payload, judgement: { ...judgement, component: to('component')(judgement.component) } };
    }
    case 'photo-recorded':
      return { ...payload, photo: withShown(payload.photo, to('regions')) };
    case 'observation-withdrawn':
      return payload;
    default:
      return kind satisfies never;
  }
}

/**
 * Checks one change of a dossier against what it holds, by the rules that files obey.
 * @returns what in it is worth a second look
 * @throws CasebackError BAD_INPUT with every problem; CONFLICT for an observation id that is taken, or an observation
 * already withdrawn; NOT_FOUND when there is no such observation to withdraw
 */
export function checkAddition(dossier: Dossier, addition: Addition, held: Held): readonly Problem[] {
  switch (addition.kind) {
    case 'observation-recorded':
      return checkObservation(dossier, addition.payload, held);
    case 'identification-set': {
      const identifications = [...dossier.identifications, addition.payload.identification];
      return checkLast({ ...dossier, identifications }, 'identifications', held);
    }
    case 'identification-judged': {
      const judgements = [...(dossier.judgements ?? []), addition.payload.judgement];
      return checkLast({ ...dossier, judgements }, 'judgements', held);
    }
    case 'photo-recorded': {
      const { photo } = addition.payload;
      const photos = [...dossier.photos.filter(({ id }) => id !== photo.id), photo];
      return checkLast({ ...dossier, photos }, 'photos', held);
    }
    case 'observation-withdrawn':
      checkWithdrawal(dossier, addition.payload);
      return [];
    default:
      return addition satisfies never;
  }
}

function checkObservation(
  dossier: Dossier,
  { specimen, observation }: ObservationRecorded,
  held: Held,
): readonly Problem[] {
  if (dossier.observations.some(({ id }) => id === observation.id)) {
    throw new CasebackError(
      'CONFLICT',
      `Observation "${observation.id}" is already recorded in ${specimen}; observations are never changed. Choose another id, and add "corrects" if it corrects the first one.`,
    );
  }
  return checkLast(
    { ...dossier, observations: [...dossier.observations, observation] },
    'observations',
    held,
  );
}

function checkWithdrawal(dossier: Dossier, { specimen, observation }: ObservationWithdrawn): void {
  const found = dossier.observations.find(({ id }) => id === observation);
  if (!found) {
    const fix = didYouMean(
      observation,
      dossier.observations.map(({ id }) => id),
    );
    throw new CasebackError(
      'NOT_FOUND',
      `No observation "${observation}" in ${specimen}${fix ? `; ${fix}` : ''}`,
    );
  }
  if (found.withdrawn)
    throw new CasebackError(
      'CONFLICT',
      `Observation "${observation}" in ${specimen} was already withdrawn by ${found.withdrawn.by}`,
    );
}

/** Checks the last item of a list of a dossier. */
function checkLast(
  extended: Dossier,
  list: 'observations' | 'identifications' | 'judgements' | 'photos',
  held: Held,
): readonly Problem[] {
  const place = `${list}[${(extended[list]?.length ?? 0) - 1}]`;
  // Only what the addition itself brings; what the dossier had was accepted before.
  const own = (problems: readonly Problem[]) =>
    problems
      .filter(({ path }) => path === place || path?.startsWith(`${place}.`))
      .map(
        ({ path, what, fix }): Problem => ({
          path: path?.slice(place.length).replace(/^\./u, ''),
          what,
          fix,
        }),
      );
  const { errors, cautions } = bySeverity(checkDocuments([asDocument(extended)], held));
  const problems = own(errors);
  if (problems.length > 0)
    throw new CasebackError('BAD_INPUT', problems.map(formatProblem).join('; '), problems);
  return own(cautions);
}

function asDocument(dossier: Dossier): ReadDocument {
  return { kind: 'dossier', file: '', dossier, locate: () => ({ line: 1, column: 1 }) };
}
