/**
 * What is asked of the thread that searches, and what it answers: plain data, so that both can cross to a worker.
 */
import type { LabelReading } from '../plan/compiled.ts';
import type { Lineage } from '../plan/lineage.ts';
import type { Place } from '../plan/pattern.ts';
import type { PlannedMatch } from '../plan/plan-match.ts';
import type { Shortage } from './stage.ts';

/** How a query is to be read; part of the name a compiled query is kept under. */
export interface QuerySettings {
  readonly text: string;
  readonly distinctNodes: boolean;
  readonly labels: LabelReading;
  readonly parameters: Readonly<Record<string, unknown>>;
  /** Milliseconds since 1970 when the text asks for the time, else 0. */
  readonly now: number;
  /** Module with further functions; see `functions.ts`. */
  readonly functions: string | undefined;
  /** Number of a near pattern: the query is that entry of `relaxations`. */
  readonly relaxation?: number | undefined;
}

export interface Limits {
  /** Milliseconds from the start of the request. */
  readonly time: number;
  readonly rows: number;
  /** Bytes of rows, groups and the like that one thread keeps. */
  readonly bytes: number;
  readonly steps: number;
}

/** Plain data, so that it can go to a worker. */
export interface ExecuteRequest {
  readonly query: QuerySettings;
  /** Different for requests with different code. */
  readonly name: string;
  /** Per match, in reading order, those of EXISTS bodies last. */
  readonly plan: readonly PlannedMatch[];
  /** Numbers of the strings in the text and the parameters; -1 for those that the graph does not hold. */
  readonly strings: Readonly<Record<string, number>>;
  readonly visible: Uint8Array;
  /** Place of each of these segments in the order of keys; in shared memory. */
  readonly ranks: Int32Array;
  /** The node that each handle leads to, as it was when the query began. */
  readonly handles: SharedArrayBuffer;
  readonly crossingCodes: readonly number[];
  readonly limits: Limits;
  readonly output:
    | { readonly kind: 'rows' }
    | { readonly kind: 'count' }
    /**
     * Matches segment by segment, in the order of the plan's first segment list.
     * `matches`: how many to hand out per segment. `exact`: whether to count the others. `everyWay`: how many more
     * to hand out, one for every other set of circumstances under which the pattern matches in the segment.
     */
    | {
        readonly kind: 'segments';
        readonly matches: number;
        readonly exact: boolean;
        readonly everyWay: number;
        /** Segments that nodes without a tie to the segment may be in besides it: those that are not grouped. */
        readonly others: Int32Array;
        /**
         * Labels of the nodes that may be in any other segment, where an edge leads there; all others have to be in
         * the segment or in one that is not grouped. No limits when not given.
         */
        readonly roaming: readonly string[] | undefined;
        /** Label of edges that lead from a segment to nodes which roam and count as in it, wherever they are. */
        readonly home: string | undefined;
        /** Slots of nodes: a match that has one of them in the segment is another search's to find. */
        readonly foundBy: readonly number[];
      };
  /** Count the bindings after each step. */
  readonly trace: boolean;
  /** Whether several threads share the request's first segment list. */
  readonly shared: boolean;
}

export interface SegmentMatches {
  /** Row of the segment table. */
  readonly segment: number;
  readonly count: number;
  readonly matches: readonly FoundMatch[];
  /** Matches beyond those, each under other circumstances. */
  readonly further: readonly FoundMatch[];
  /** Whether there may be matches under still other circumstances. */
  readonly cut: boolean;
}

/** Elements and values of a match, by slot. */
export interface FoundMatch {
  readonly row: Int32Array;
  readonly values: readonly unknown[];
  /** Under which circumstances its conditions hold; its nodes' labels and its edges are apart. */
  readonly conditions: Lineage;
  /** Clauses that OPTIONAL left out, by their number among all. */
  readonly skipped: readonly number[];
}

export type Batch =
  /** `from` is the place, in the plan's list, of the segments in which the rows were found; 0 where nothing is shared. */
  | { readonly kind: 'rows'; readonly from: number; readonly rows: readonly (readonly unknown[])[] }
  /** `index` is the place of the first segment in the plan's list; entries without a match are left out. */
  | {
      readonly kind: 'segments';
      readonly from: number;
      readonly to: number;
      readonly found: readonly SegmentMatches[];
    };

export interface Outcome {
  readonly count: number;
  readonly shortage: Shortage | undefined;
  /** Segments that the first clause goes through, 0 when it does not; and those that this thread searched to the end. */
  readonly segments: number;
  readonly searched: number;
  /** The clause in which it stopped early. */
  readonly stoppedIn: Place | undefined;
  /** Queries of VALUE that had several rows for one outside, and so are null there. */
  readonly several: readonly Place[];
  readonly steps: number;
  /** Milliseconds. */
  readonly time: number;
  /** Per match and part, bindings after each step; empty unless asked for. */
  readonly traces: readonly (readonly (readonly number[])[])[];
}

/** The outcome of a search that did not come to anything. */
export function notSearched(shortage: Shortage): Outcome {
  return {
    count: 0,
    shortage,
    segments: 0,
    searched: 0,
    stoppedIn: undefined,
    several: [],
    steps: 0,
    time: 0,
    traces: [],
  };
}
