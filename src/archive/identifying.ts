import type { Candidate, Identification } from '../model/dossier.ts';
import type { Change } from '../model/entry.ts';
import { componentMeant, thingId } from '../model/ids.ts';
import { isImportProposal } from '../model/import-proposal.ts';
import type { Problem } from '../model/problems.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';

/** What an identification stands in place of, if somebody concluded that: then sentences may rest on it. */
export function secondOf(
  opened: OpenedSpecimen | undefined,
  { component, candidates, state }: Identification,
): Problem | undefined {
  const meant = opened && componentMeant(opened.dossier.components, component);
  const before = meant && opened.identified.get(meant.id);
  if (!before || state === 'withdrawn' || isImportProposal(before)) return undefined;
  const id = thingId(opened.id, meant.id);
  const named = (all: readonly Candidate[], between: string) =>
    all.map(
      ({ part, category, maker, probability }) => `${part ?? category ?? maker}${between}${probability}`,
    );
  return {
    path: 'component',
    what: `${id} is identified already, as ${named(before.candidates, ' ').join(', ')}`,
    fix: `"caseback correct identify ${id} ${named(candidates, '=').join(' ')}" replaces that and names every sentence that it touches (GraphQL: correct)`,
  };
}

/** A change in which an identification says by whom, when and why, where it does not say so itself. */
export function signed<C extends Change>(change: C, now: Date): C {
  if (change.kind !== 'identification-set') return change;
  const { identification } = change.payload;
  const signed: Identification = {
    ...identification,
    by: identification.by ?? change.actor,
    on: identification.on ?? now.toISOString().slice(0, 10),
    reason: identification.reason ?? change.reason,
  };
  return { ...change, payload: { ...change.payload, identification: signed } };
}
