/**
 * What a caller hands in: plain arrays of plain data. Nothing here knows what the graph is about.
 */

/** A property value. Numbers, strings and booleans are stored as such; anything else is kept as it is, as a whole. */
export type PropertyValue =
  | string
  | number
  | boolean
  | null
  | readonly PropertyValue[]
  | { readonly [field: string]: PropertyValue };

/** Property names to values; null and undefined mean that the property is absent. */
export type Properties = Readonly<Record<string, PropertyValue | undefined>>;

/** A label that is certain (`'Sensor'`), or one with the probability, above 0 and at most 1, that it is true. */
export type LabelInput = string | { readonly label: string; readonly weight: number };

export interface NodeInput {
  /** Unique in the graph. */
  readonly id: string;
  /** Labels, or their weights by name. */
  readonly labels?: readonly LabelInput[] | ReadonlyMap<string, number>;
  readonly properties?: Properties;
}

export interface EdgeInput {
  /** Optional; handed back with the edge. */
  readonly id?: string;
  /** Node id; may be in another segment, now or later. An edge is unseen while one of its ends is missing. */
  readonly source: string;
  readonly target: string;
  /** At most one label. */
  readonly label?: string;
  /** Default true. */
  readonly directed?: boolean;
  /** Whether it may not be there, as with a label whose weight is below 1. @default false */
  readonly uncertain?: boolean;
  readonly properties?: Properties;
}

/** A part of the graph that is added, replaced and removed as a unit. */
export interface SegmentInput {
  readonly nodes: readonly NodeInput[];
  readonly edges?: readonly EdgeInput[];
  /**
   * Whether matches are grouped under this segment (`matchBySegment`); default true. Turn it off for a segment of
   * things that others point to.
   */
  readonly grouped?: boolean;
}

/** Child label to its parents. A node with the child also has the parents; see `expandLabels`. */
export type LabelHierarchy = Readonly<Record<string, readonly string[]>>;

/** The message names the field and the value that is wrong. */
export class GraphInputError extends Error {
  override readonly name = 'GraphInputError';
}

/**
 * What is wrong when edges lead to nodes that are not there.
 * @param first the ends of the first one, and which of the two is missing
 */
export function danglingText(
  first: { readonly source: string; readonly target: string; readonly id: string },
  dangling: number,
  edges: number,
): string {
  const many = dangling === 1 ? 'An edge leads' : `${dangling} of ${edges} edges lead`;
  const example = `${dangling === 1 ? 'it is that' : 'the first is that'} from ${first.source} to ${first.target}`;
  return `${many} to a node that is not there: ${example}, and no node has the id ${first.id}. Add the nodes or leave out the edges`;
}
