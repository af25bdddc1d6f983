/**
 * A graph pattern as the search sees it: nodes, edges and conditions, with the order of the text gone.
 */
import type { Distinct } from './distinct.ts';
import type { LabelTest } from './label-test.ts';
import type { AskBody, Lineage } from './lineage.ts';

/** Where in the query text something stands, in UTF-16 units. */
export interface Place {
  readonly start: number;
  readonly end: number;
}

/** Ways in which an edge may be walked, seen from `from`: a sum of these. */
export const FORWARD = 1;
export const BACKWARD = 2;
export const SIDEWAYS = 4;

export interface PatternNode {
  readonly kind: 'node';
  /** Place of its binding in a row. */
  readonly slot: number;
  /** Undefined when the text gives it no variable. */
  readonly name: string | undefined;
  readonly label: LabelTest | undefined;
  /** True when an earlier clause has bound it. */
  readonly bound: boolean;
  /** Lowest truth of the label expression that counts as a match. */
  readonly leastTruth: number;
  /** For a bound node: labels it has from there, for estimates. */
  readonly known?: LabelTest | undefined;
  readonly place: Place | undefined;
}

export interface PatternEdge {
  readonly kind: 'edge';
  readonly slot: number;
  readonly name: string | undefined;
  readonly label: LabelTest | undefined;
  /** Index into the pattern's nodes. */
  readonly from: number;
  readonly to: number;
  readonly directions: number;
  readonly bound: boolean;
  /** Whether edges that may not be there count: as with `PatternNode.leastTruth`. */
  readonly leastTruth: number;
  readonly place: Place | undefined;
}

/** What a running query knows: what the stages before have bound. */
export interface RowState {
  /** Element (node or edge number) per slot; -1 not bound, -2 null. */
  readonly row: Int32Array;
  /** Value per slot, for slots that hold no single element: lists, paths, computed values. */
  readonly values: unknown[];
  /** Per inner query (EXISTS and the like): whether it has a match for the row. */
  readonly inner: (() => boolean)[];
  /** The same for queries of VALUE: the value. */
  readonly answers: (() => unknown)[];
  /** Under which circumstances the body of an EXISTS has a match for the row. */
  readonly bodyLineage: AskBody;
  readonly parameters: Readonly<Record<string, unknown>>;
}

/** A truth that must hold of the elements in some slots. */
export interface Condition {
  /** Slots of elements of this pattern that it reads; earlier clauses' slots are not listed. */
  readonly slots: readonly number[];
  /** Fraction of the bindings that are thought to pass, for the join order. */
  readonly selectivity: number;
  readonly place: Place | undefined;
  /** Set when the condition is that a property of a node equals a string, boolean or number. */
  readonly equals?:
    | {
        readonly slot: number;
        readonly key: string;
        readonly storage: 'string' | 'boolean' | 'number';
        /** As the graph stores it: the number of a string (-1 when nothing holds it), 0 or 1, a number itself. */
        readonly value: number;
      }
    | undefined;
  /** Set when the condition is EXISTS (or its negation): the number of its body, and the answer that passes. */
  readonly exists?:
    | {
        readonly number: number;
        readonly wanted: boolean;
      }
    | undefined;
  /** The test, when the row holds the slots. Only true passes (unknown does not). */
  readonly test: (state: RowState) => boolean;
  /** Under which circumstances a row that passes the test holds; undefined when it holds whatever is true of uncertain labels. */
  readonly lineage?: ((state: RowState) => Lineage) | undefined;
  /** The same as JavaScript source, when the generator can write it. */
  readonly emit?: ((scope: EmitScope) => string | undefined) | undefined;
}

/** What an emitted condition may name. */
export interface EmitScope {
  /** JavaScript variable that holds the element of a slot. */
  element(slot: number): string;
  /** Makes a constant (table, string list, number) available to the code; answers its variable. */
  constant(value: unknown): string;
  /** A variable name that is not in use. */
  fresh(): string;
}

export interface Pattern {
  readonly nodes: readonly PatternNode[];
  readonly edges: readonly PatternEdge[];
  /** Edges that are bound already and only take part in `distinct` and in conditions. */
  readonly held: readonly PatternEdge[];
  readonly conditions: readonly Condition[];
  /** Which elements must differ; slots of the whole MATCH, also in the pattern of a part. */
  readonly distinct: Distinct;
}
