/**
 * One MATCH clause, as planned and searched: a pattern of nodes and edges, the quantified paths between its nodes,
 * and the conditions of its path patterns on complete paths.
 */

import type { Conjunction } from '../language/ast.ts';
import type { LabelTest } from './label-test.ts';
import type { Condition, Pattern, Place, RowState } from './pattern.ts';
import type { ResultPlan } from './projection.ts';
import type { ChainRepeat, PathMode, WholePath } from './quantified-path.ts';
import type { Earlier, RepeatSlots } from './scope.ts';
import type { Readings } from './translate-context.ts';

export interface MatchRepeat {
  /** Indices of the pattern nodes at its ends. */
  readonly from: number;
  readonly to: number;
  /** The walk from `from` to `to`, and the one from `to` to `from`. */
  readonly forward: ChainRepeat;
  readonly backward: ChainRepeat;
  readonly edgesDiffer: boolean;
  readonly nodesDiffer: 'no' | 'yes' | 'but ends';
  /** Slots of this match that its conditions read: they have to be bound before. */
  readonly needs: readonly number[];
  /**
   * Set for a path pattern with a search prefix, which is one repeat: whether all of its shortest paths are wanted, and
   * the modes of the whole path. It is walked forward only.
   */
  readonly search: { readonly all: boolean; readonly modes: readonly PathMode[] } | undefined;
  /** Whether it reads nothing but what it binds. */
  readonly alone: boolean;
  /** Slots of nodes whose names stand at several places in it, or also elsewhere. */
  readonly linked: readonly number[];
  /** Slots of elements in it that are bound before. */
  readonly known: readonly number[];
  /** Slots that it binds, besides the nodes at its ends. */
  readonly binds: readonly number[];
  readonly place: Place | undefined;
}

export interface Match {
  readonly pattern: Pattern;
  readonly repeats: readonly MatchRepeat[];
  /** Path patterns, and parenthesised paths with a mode or a variable. */
  readonly paths: readonly WholePath[];
  /** Edges of all path patterns together must differ, and some are in quantified paths. */
  readonly edgesDiffer: boolean;
  /**
   * Set when nodes must differ, from each other and from those of earlier clauses, and some of all these are in
   * quantified paths.
   */
  readonly nodesDiffer: Earlier | undefined;
  /** Conditions on lists and paths, checked last. */
  readonly late: readonly Condition[];
  /**
   * Set when one match can be found in several ways (a path that can be cut into iterations differently): slots that
   * distinguish matches.
   */
  readonly apart: { readonly elements: readonly number[]; readonly values: readonly number[] } | undefined;
  /** Labels of nodes in quantified paths, with the slot of the list of nodes they were asked of. */
  readonly labelledGroups: readonly { readonly slot: number; readonly label: LabelTest }[];
  /** Further names of nodes that earlier clauses have bound: the slot of each, and of the node. */
  readonly aliases: readonly { readonly slot: number; readonly alias: number }[];
  readonly place: Place | undefined;
}

/** Slots of the quantified paths of a match. */
export function repeatSlots({ pattern, repeats }: Match): RepeatSlots[] {
  return repeats.map(({ from, to, forward, linked }) => ({
    from: pattern.nodes[from]!.slot,
    to: pattern.nodes[to]!.slot,
    elements: forward.elementsSlot,
    linked,
  }));
}

/** A clause: one MATCH, clauses that are all matched or leave null, a value by name, or a condition. */
export type PlannableClause =
  | { readonly kind: 'match'; readonly match: Match }
  | {
      readonly kind: 'optional';
      readonly clauses: readonly PlannableClause[];
      /** Set where it is uncertain whether there is a match. */
      readonly readings: Readings | undefined;
      readonly nulls: { readonly elements: readonly number[]; readonly values: readonly number[] };
    }
  | { readonly kind: 'let'; readonly target: Target; readonly value: (state: RowState) => unknown }
  | { readonly kind: 'filter'; readonly condition: Condition }
  | {
      readonly kind: 'for';
      readonly target: Target;
      readonly list: (state: RowState) => unknown;
      readonly position: { readonly slot: number; readonly first: 0 | 1 } | undefined;
    }
  | PlannablePage
  | PlannableTable;

/** The rows of the clauses before, sorted and cut. Comes first. */
export interface PlannablePage extends Pick<ResultPlan, 'orderBy' | 'offset' | 'limit' | 'compare'> {
  readonly kind: 'page';
  readonly clauses: readonly PlannableClause[];
}

/** The rows of queries; see `TableClause`. Comes first. */
export interface PlannableTable {
  readonly kind: 'table';
  readonly input: PlannableTable | undefined;
  readonly parts: readonly PlannablePart[];
  readonly columns: readonly Target[];
}

export interface PlannablePart {
  readonly conjunction: Conjunction | undefined;
  readonly clauses: readonly PlannableClause[];
  readonly result: ResultPlan;
  /** Which column of its own goes to each column of the table. */
  readonly order: readonly number[];
}

/** Where the value of a variable goes: the number of a node or edge into `row`, anything else into `values`. */
export interface Target {
  readonly slot: number;
  readonly isElement: boolean;
}
