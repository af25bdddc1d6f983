import type { Storage } from '../storage/catalog.ts';

/** A property value of nodes, as the graph stores it. */
export interface ValueAsked {
  /** Number of the key, and its name. */
  readonly key: number;
  readonly name: string;
  readonly storage: Storage;
  /** Number of a string, 0 or 1 for a boolean, a number itself. */
  readonly value: number;
}

/** One step of the search order. Indices point into the pattern's nodes and edges. */
export type Step =
  /** Every node of the label, in the segments to look at. */
  | {
      readonly kind: 'scan';
      readonly node: number;
      /** Go through the nodes with this value instead of all of the label. */
      readonly list: ValueAsked | undefined;
    }
  /** Along an edge from its bound end; `reversed` when that is `to`. */
  | {
      readonly kind: 'walk';
      readonly edge: number;
      readonly reversed: boolean;
      /** Whether the lists of edges walked along are long enough to be entered by binary search. */
      readonly long: boolean;
      /** Whether it is better to go through the far nodes of the segment and look for the edge from there. */
      readonly meet: boolean;
      /** With `meet`: go through the far nodes with this value. */
      readonly list: ValueAsked | undefined;
      /** Whether every edge walked leads to a node whose labels fit. */
      readonly sure: boolean;
    }
  /** An edge whose ends are both bound. */
  | { readonly kind: 'connect'; readonly edge: number };
