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
    /** Whether the text gives it a name; without one it goes out for its uncertain labels alone. */
    readonly named: boolean;
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

/** Where the elements of a path are found in a row, in order. */
export type PathPart =
  | { readonly kind: 'element'; readonly slot: number; readonly node: boolean }
  /** Edges and inner nodes of a quantified path; none when it was empty and the nodes around it are the same. */
  | { readonly kind: 'walked'; readonly slot: number };

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

export type ChainItem = ChainNode | ChainEdge | ChainRepeat;
