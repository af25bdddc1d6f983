/**
 * A quantified path as a chain of steps.
 */
import type { Condition } from './pattern.ts';

export type PathMode = 'walk' | 'trail' | 'simple' | 'acyclic';

export interface ChainNode {
  readonly kind: 'node';
  readonly slot: number;
  /** True at the second mention of a variable: the node has to be the same. */
  readonly again: boolean;
  /** Per node kind, 0 for those that do not fit. */
  readonly table: Uint8Array | undefined;
  readonly conditions: readonly Condition[];
}

export interface ChainEdge {
  readonly kind: 'edge';
  readonly slot: number;
  readonly again: boolean;
  /** Accepted adjacency codes in the direction of the walk. */
  readonly codes: readonly number[];
  readonly conditions: readonly Condition[];
}

export interface ChainRepeat {
  readonly kind: 'repeat';
  readonly items: readonly ChainItem[];
  readonly least: number;
  /** May be Infinity. */
  readonly most: number;
  /** Conditions on a complete iteration. */
  readonly conditions: readonly Condition[];
  /**
   * Slots inside, and the slot each has outside. `inside` is what is read there: an element, or a value (a list of
   * an inner repeat).
   */
  readonly groups: readonly {
    readonly inner: number;
    readonly outer: number;
    /** Content inside: an element, a list (which goes into the list outside item by item), or a path. */
    readonly holds: 'element' | 'list' | 'path';
  }[];
  /** Paths inside one iteration: modes to keep, path variables to set. */
  readonly paths: readonly WholePath[];
  /** Slot that receives the elements walked in all iterations, or -1. */
  readonly elementsSlot: number;
  /** For `?`: variables stay single elements, null when there is no iteration, instead of lists. */
  readonly optional: boolean;
}

/** `( … | … )` and `( … |+| … )`: one of the branches. */
export interface ChainChoice {
  readonly kind: 'choice';
  readonly branches: readonly (readonly ChainItem[])[];
  /** Slot that receives the number of the branch. */
  readonly tagSlot: number;
  /** Slot that receives the elements walked, as with `ChainRepeat`. */
  readonly elementsSlot: number;
}

/** Where the elements of a path are found in a row, in order. `named`: whether a name of the text is bound there. */
export type PathPart = { readonly slot: number; readonly named?: boolean } & (
  | { readonly kind: 'element'; readonly node: boolean }
  /** Edges and inner nodes of a quantified path; none when it was empty and the nodes around it are the same. */
  | { readonly kind: 'walked' }
);

export interface WholePath {
  readonly mode: PathMode;
  readonly parts: readonly PathPart[];
  /** Slot of the path variable, or -1. */
  readonly slot: number;
  /** Whether the mode must be checked for the complete path (distinctness of pairs does not imply it). */
  readonly check: boolean;
  /** Whether this is a path pattern of the MATCH, not a path inside one. */
  readonly top: boolean;
}

export type ChainItem = ChainNode | ChainEdge | ChainRepeat | ChainChoice;

/** Slots that are bound by some items, those of repeats inside included. */
export interface Inside {
  readonly elements: readonly number[];
  readonly values: readonly number[];
}

/** @param paths paths inside one iteration of the items */
export function insideOf(items: readonly ChainItem[], paths: readonly WholePath[] = []): Inside {
  const elements = new Set<number>();
  const values = new Set<number>();
  const named = (list: readonly WholePath[]) => {
    for (const { slot } of list) if (slot >= 0) values.add(slot);
  };
  const visit = (list: readonly ChainItem[]): void => {
    for (const item of list) {
      if (item.kind === 'choice') {
        values.add(item.tagSlot).add(item.elementsSlot);
        item.branches.forEach(visit);
      } else if (item.kind === 'repeat') {
        values.add(item.elementsSlot);
        for (const { outer, holds } of item.groups)
          (item.optional && holds === 'element' ? elements : values).add(outer);
        visit(item.items);
        named(item.paths);
      } else elements.add(item.slot);
    }
  };
  visit(items);
  named(paths);
  return { elements: [...elements], values: [...values] };
}
