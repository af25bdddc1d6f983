/** One step of the search order. Indices point into the pattern's nodes and edges. */
export type Step =
  /** Every node of the label, in the segments to look at. */
  | { readonly kind: 'scan'; readonly node: number }
  /** Along an edge from its bound end; `reversed` when that is `to`. */
  | {
      readonly kind: 'walk';
      readonly edge: number;
      readonly reversed: boolean;
      /** Whether the lists of edges walked along are long enough to be entered by binary search. */
      readonly long: boolean;
      /** Whether it is better to go through the far nodes of the segment and look for the edge from there. */
      readonly meet: boolean;
      /** Whether every edge walked leads to a node whose labels fit. */
      readonly sure: boolean;
    }
  /** An edge whose ends are both bound. */
  | { readonly kind: 'connect'; readonly edge: number };
