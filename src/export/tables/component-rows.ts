import { compareDesignators, designatorOf } from '../../model/designator.ts';
import type { Candidate, Component, Identification } from '../../model/dossier.ts';
import { thingId } from '../../model/ids.ts';
import { isCounted, isFitted, likeliestCategory } from '../../state/labels.ts';
import type { OpenedSpecimen } from '../../state/specimen.ts';
import type { State } from '../../state/state.ts';

/** A component as tables have it: what was seen, and the identification that counts. */
export interface ComponentRow {
  readonly id: string;
  readonly device: string;
  readonly specimen: string;
  readonly component: Component;
  readonly designator: string;
  /** Id of its board, of its subsystem and of what holds it. */
  readonly board: string | undefined;
  readonly subsystem: string | undefined;
  readonly inside: string | undefined;
  readonly isFitted: boolean;
  /** Whether it counts as a component: fitted, and no feature of the board itself. */
  readonly isCounted: boolean;
  readonly identification: Identification | undefined;
  /** The likeliest part of the identification. */
  readonly part: Candidate | undefined;
  /** The most specific kind that is at least as likely as not, by what was seen and concluded. */
  readonly category: { readonly term: string; readonly probability: number } | undefined;
}

/** Everything with a place in a specimen, by designator. */
export function componentRowsOf(state: State, specimenId: string): readonly ComponentRow[] {
  const row = state.specimenRow(specimenId);
  if (!row) return [];
  const specimen = state.peek(row);
  return specimen.dossier.components
    .toSorted((a, b) => compareDesignators(a.id, b.id))
    .map((component) => rowOf(row.deviceId, specimen, component));
}

function rowOf(device: string, specimen: OpenedSpecimen, component: Component): ComponentRow {
  const named = specimen.named.get(component.id) ?? new Map<string, number>();
  const identification = specimen.identified.get(component.id);
  const at = (local: string | undefined) => (local === undefined ? undefined : thingId(specimen.id, local));
  return {
    id: thingId(specimen.id, component.id),
    device,
    specimen: specimen.id,
    component,
    designator: designatorOf(component.id),
    board: at(component.board),
    subsystem: at(component.subsystem),
    inside: at(component.inside),
    isFitted: isFitted(component),
    isCounted: isCounted(named),
    identification,
    part: likeliest(identification?.candidates ?? []),
    category: likeliestCategory(named),
  };
}

/** The likeliest candidate that names a part; of equal ones the first by id, so that order does not decide. */
function likeliest(candidates: readonly Candidate[]): Candidate | undefined {
  return candidates
    .filter(({ part }) => part !== undefined)
    .toSorted(
      (a, b) => b.probability - a.probability || ((a.part as string) < (b.part as string) ? -1 : 1),
    )[0];
}
