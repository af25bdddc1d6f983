/**
 * Variables of a query and the places of their bindings in a row.
 */

import type { ElementKind, Held } from '../expression/element-kind.ts';
import type { LabelTest } from './label-test.ts';
import type { RowState } from './pattern.ts';

/** What a variable is bound to. */
export type Binding =
  /** A node or edge in `row[slot]`; -2 when it may be and is null. */
  | {
      readonly kind: 'node' | 'edge';
      readonly slot: number;
      /** Labels that the element is known to have, for estimates. */
      readonly label?: LabelTest | undefined;
    }
  /** A list, iteration by iteration, in `values[slot]`: of elements, or of what `of` names. */
  | { readonly kind: 'group'; readonly slot: number; readonly of: Binding }
  /** Nodes and edges in turn, in `values[slot]`. */
  | { readonly kind: 'path'; readonly slot: number }
  /** A computed value in `values[slot]`: of LET, a return item, an aggregate. */
  | {
      readonly kind: 'value';
      readonly slot: number;
      /** For a list: what its items are, as far as the text shows. */
      readonly items?: ElementKind | undefined;
      /** Calculates it once more, when it depends on labels: what it is under other circumstances. */
      readonly again?: ((state: RowState) => unknown) | undefined;
    };

/** Slots of a quantified path: the nodes at its ends, and the elements it walked. */
export interface RepeatSlots {
  readonly from: number;
  readonly to: number;
  readonly elements: number;
  /** Slots of nodes whose names it has inside, so that a node there may be the one in the slot. */
  readonly linked: readonly number[];
}

/** What the clauses before one have bound. */
export interface Earlier {
  /** Slots of the nodes of their patterns. */
  readonly nodes: ReadonlySet<number>;
  readonly repeats: readonly RepeatSlots[];
}

/** Hands out slots; `row` and `values` share the numbering. */
export class Slots {
  count = 0;
  take(): number {
    return this.count++;
  }
}

export class Scope {
  readonly slots: Slots;
  readonly #outer: Scope | undefined;
  readonly #own = new Map<string, Binding>();

  constructor(slots: Slots, outer?: Scope) {
    this.slots = slots;
    this.#outer = outer;
  }

  inner(): Scope {
    return new Scope(this.slots, this);
  }

  /** Another scope in the same surroundings. */
  beside(): Scope {
    return new Scope(this.slots, this.#outer);
  }

  find(name: string): Binding | undefined {
    return this.#own.get(name) ?? this.#outer?.find(name);
  }

  owns(name: string): boolean {
    return this.#own.has(name);
  }

  set(name: string, binding: Binding): void {
    this.#own.set(name, binding);
  }

  /** What a variable holds; see `expression/element-kind.ts`. */
  held(name: string): Held | undefined {
    const binding = this.find(name);
    if (binding?.kind !== 'group')
      return binding && { kind: binding.kind, isGroup: false, items: itemsOf(binding) };
    const { kind } = binding.of;
    return { kind: kind === 'group' ? 'value' : kind, isGroup: kind !== 'group', items: undefined };
  }

  /** Variables of this scope and those around it. */
  *visible(): Generator<[string, Binding]> {
    if (this.#outer) yield* this.#outer.visible();
    yield* this.#own;
  }

  /** Variables of this scope alone, in the order in which they were set. */
  own(): IterableIterator<[string, Binding]> {
    return this.#own.entries();
  }
}

function itemsOf(binding: Binding): ElementKind | undefined {
  return binding.kind === 'value' ? binding.items : undefined;
}
