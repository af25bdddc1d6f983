import { likeliestCategory } from '../../state/labels.ts';
import type { PartOf } from '../../state/pins.ts';
import type { OpenedSpecimen } from '../../state/specimen.ts';
import { joinedByNets } from '../joined-pairs.ts';
import { type LabelledGraph, labelledGraph } from './labelled-graph.ts';

/** Label of a component of unknown kind. */
export const UNNAMED = 'not named';

/** A specimen as a graph: its components and the boards they connect to directly, each labelled with what it is. */
export interface ComponentGraph {
  readonly graph: LabelledGraph;
  /** Local id of each node. */
  readonly ids: readonly string[];
}

/**
 * Components with what joins them: connections, signal nets, supplies. A component is labelled with its most specific kind that is at least as likely as
 * not; a board that a connection names, with its kind.
 * @param partOf parts of the catalogue, for their pins
 * @param chosen components to take; all when left out
 */
export function componentGraph(
  specimen: OpenedSpecimen,
  partOf: PartOf,
  chosen: (designator: string) => boolean = () => true,
): ComponentGraph {
  const { dossier, counted, joined, named: labels, boards } = specimen;
  const components = counted.filter(({ id }) => chosen(id));
  const taken = new Set(components.map(({ id }) => id));
  const named = new Set(
    joined.flatMap(({ between }) => (between.some((id) => taken.has(id)) ? between : [])),
  );
  const ids = [
    ...components.map(({ id }) => id),
    ...dossier.boards.map(({ id }) => id).filter((id) => named.has(id)),
  ];
  const numbers = new Map(ids.map((id, number) => [id, number]));
  const names = ids.map((id) => {
    const board = boards.get(id);
    if (board && !labels.has(id)) return `board: ${board.kind}`;
    return likeliestCategory(labels.get(id) ?? new Map())?.term ?? UNNAMED;
  });
  const pairs = [...joined.map(({ between }) => between), ...joinedByNets(specimen, partOf)];
  const edges = pairs.flatMap(([a, b]) => {
    const [first, second] = [numbers.get(a), numbers.get(b)];
    return first === undefined || second === undefined ? [] : [[first, second] as const];
  });
  return { graph: labelledGraph(names, edges), ids };
}
