import type { SpecimenRow } from '../state/facts.ts';
import { CERTAIN } from '../state/labels.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import type { State } from '../state/state.ts';

/** A component as a structure sees it. */
export interface CircuitComponent {
  readonly designator: string;
  readonly board: string | undefined;
  /** Terms of the taxonomy that hold with probability 0.95 or more, the root left out. */
  readonly certain: readonly string[];
}

/** A connection between two components, by their places in the list. */
export interface CircuitLink {
  readonly a: number;
  readonly b: number;
  readonly medium: string;
  readonly bus: string | undefined;
}

export interface Circuit {
  readonly components: readonly CircuitComponent[];
  readonly links: readonly CircuitLink[];
}

/** Circuits of specimens, read when first asked for and again after a change; a few kB each. */
export class CircuitIndex {
  readonly #circuits = new WeakMap<SpecimenRow, Circuit>();
  /** Components of equal doubt share one list of terms: a few hundred for any archive. */
  readonly #terms = new Map<string, readonly string[]>();

  of(state: State, row: SpecimenRow): Circuit {
    let circuit = this.#circuits.get(row);
    if (!circuit) {
      circuit = this.#read(state.peek(row));
      this.#circuits.set(row, circuit);
    }
    return circuit;
  }

  #read({ counted, joined, named }: OpenedSpecimen): Circuit {
    const places = new Map(counted.map(({ id }, at) => [id, at]));
    return {
      components: counted.map(({ id, board }) => ({
        designator: id,
        board,
        certain: this.#shared(
          [...(named.get(id) ?? [])].flatMap(([term, probability]) =>
            probability >= CERTAIN && term !== 'Component' ? [term] : [],
          ),
        ),
      })),
      links: joined.flatMap(({ between, medium, bus }) => {
        const [a, b] = between.map((id) => places.get(id));
        return a === undefined || b === undefined || a === b ? [] : [{ a, b, medium, bus }];
      }),
    };
  }

  #shared(terms: readonly string[]): readonly string[] {
    const key = terms.join(' ');
    const kept = this.#terms.get(key) ?? terms;
    this.#terms.set(key, kept);
    return kept;
  }
}

const make = () => new CircuitIndex();

/** The index of a state's archive. */
export function circuitIndexOf(state: State): CircuitIndex {
  return state.home.kept(make);
}
