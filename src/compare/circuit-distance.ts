import { SUBSYSTEM_KINDS } from '../model/dossier.ts';
import { CasebackError } from '../model/problems.ts';
import type { State } from '../state/state.ts';
import { type Compared, comparedOf } from './representative.ts';
import { componentGraph } from './similar/component-graph.ts';
import { distanceRange, type RangeMethod } from './similar/distance-range.ts';
import type { Edits } from './similar/edits.ts';

/** How many changes lie between the circuits of two devices, and the fewest that were found. */
export interface CircuitDistance extends Omit<Edits, 'becomes' | 'distance'> {
  readonly from: Compared;
  readonly to: Compared;
  /** Number of changes where it is known exactly. */
  readonly distance: number | undefined;
  /** Between how many changes the circuits are apart; the changes named are `atMost`. */
  readonly atLeast: number;
  readonly atMost: number;
  readonly method: RangeMethod;
  /** Nodes of either graph: components, and boards that they connect to directly. */
  readonly sizes: readonly [number, number];
  /** What becomes of each node, by local id; undefined on one side where it is put in or taken out. */
  readonly nodes: readonly {
    readonly from: string | undefined;
    readonly to: string | undefined;
    readonly kinds: readonly [string | undefined, string | undefined];
  }[];
}

/**
 * Edit distance between the component graphs of two devices, of one kind of subsystem or of the whole: exact, or the range
 * in which it lies. Kinds are the likeliest ones; doubt plays no part here.
 * @throws CasebackError NOT_FOUND, BAD_INPUT for an unknown kind of subsystem, TOO_LARGE above 1,500 nodes
 */
export async function circuitDistance(
  state: State,
  ids: readonly [string, string],
  { subsystem, signal }: { readonly subsystem?: string; readonly signal?: AbortSignal } = {},
): Promise<CircuitDistance> {
  if (subsystem !== undefined && !(SUBSYSTEM_KINDS as readonly string[]).includes(subsystem)) {
    throw new CasebackError(
      'BAD_INPUT',
      `"${subsystem}" is not a kind of subsystem; the kinds are ${SUBSYSTEM_KINDS.join(', ')}`,
    );
  }
  const [from, to] = ids.map((id) => comparedOf(state, id));
  const [a, b] = [from, to].map(({ specimen }) => {
    const kinds = new Map(specimen.dossier.subsystems.map(({ id, kind }) => [id, kind as string]));
    const chosen = (designator: string) => {
      const own = specimen.components.get(designator)?.subsystem;
      return subsystem === undefined || (own !== undefined && kinds.get(own) === subsystem);
    };
    return componentGraph(specimen, (part) => state.part(part), chosen);
  });
  const { atLeast, atMost, method, edits } = await distanceRange(a.graph, b.graph, { signal });
  const { becomes, distance: _, ...changes } = edits;
  const met = new Set(becomes);
  const added = [...b.ids.keys()].filter((node) => !met.has(node));
  const named = (x: number, y: number) => ({
    from: a.ids[x],
    to: b.ids[y],
    kinds: [a.graph.labels[x], b.graph.labels[y]] as const,
  });
  return {
    from,
    to,
    distance: atLeast === atMost ? atMost : undefined,
    atLeast,
    atMost,
    method,
    sizes: [a.ids.length, b.ids.length],
    nodes: [...becomes.map((y, x) => named(x, y)), ...added.map((y) => named(-1, y))],
    ...changes,
  };
}
