import { type DerivedNets, derivedNets } from '../nets/nets.ts';
import type { SpecimenRow } from '../state/facts.ts';
import { CERTAIN } from '../state/labels.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import type { State } from '../state/state.ts';
import type { Relation } from './answer.ts';

/** A component as a structure sees it. */
export interface CircuitComponent {
  readonly designator: string;
  readonly board: string | undefined;
  /** Terms of the taxonomy that hold with probability 0.95 or more, the root left out. */
  readonly certain: readonly string[];
}

/** What joins two components. */
export interface LinkKind {
  readonly relation: Relation;
  readonly bus: string | undefined;
  /** Of traced connections. */
  readonly medium: string | undefined;
}

/** Two components that are joined, by their places in the list; `a` is the source of what has a direction. */
export interface CircuitLink {
  readonly a: number;
  readonly b: number;
  readonly kind: LinkKind;
}

export interface Circuit {
  readonly components: readonly CircuitComponent[];
  readonly links: readonly CircuitLink[];
}

interface Kept extends Pick<OpenedSpecimen, 'learnt'> {
  readonly circuit: Circuit;
}

/** Circuits of specimens, read when first asked for and again after a change; a few kB each. */
export class CircuitIndex {
  readonly #circuits = new WeakMap<SpecimenRow, Kept>();
  /** Components of equal doubt share one list of terms: a few hundred for any archive. */
  readonly #terms = new Map<string, readonly string[]>();
  readonly #kinds = new Map<string, LinkKind>();

  of(state: State, row: SpecimenRow): Circuit {
    let kept = this.#circuits.get(row);
    // What is derived from nets follows what unnamed components may be, too.
    if (!kept || !state.unnamedOf(row).areCurrent(kept.learnt)) {
      const specimen = state.peek(row);
      const nets = derivedNets(specimen, (part) => state.part(part));
      kept = { circuit: this.#read(specimen, nets), learnt: specimen.learnt };
      this.#circuits.set(row, kept);
    }
    return kept.circuit;
  }

  #read(
    { counted, joined, named }: OpenedSpecimen,
    { feeds, paths, sharedNets, buses }: DerivedNets,
  ): Circuit {
    const places = new Map(counted.map(({ id }, at) => [id, at]));
    const links: CircuitLink[] = [];
    const add = (ends: readonly [string, string], relation: Relation, bus?: string, medium?: string) => {
      const [a, b] = ends.map((id) => places.get(id));
      if (a === undefined || b === undefined || a === b) return;
      links.push({ a, b, kind: this.#kind({ relation, bus, medium }) });
    };
    for (const { source, load } of feeds) add([source, load], 'feeds');
    for (const { ends, bus } of paths) add(ends, 'signal-path', bus);
    for (const { ends, bus } of sharedNets) add(ends, 'shares-net', bus);
    for (const { ends, bus } of buses) add(ends, 'shares-bus', bus);
    for (const { between, medium, bus } of joined) add(between, 'connects', bus, medium);
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
      links,
    };
  }

  #shared(terms: readonly string[]): readonly string[] {
    const key = terms.join(' ');
    const kept = this.#terms.get(key) ?? terms;
    this.#terms.set(key, kept);
    return kept;
  }

  #kind(kind: LinkKind): LinkKind {
    const key = `${kind.relation} ${kind.bus ?? ''} ${kind.medium ?? ''}`;
    const kept = this.#kinds.get(key) ?? kind;
    this.#kinds.set(key, kept);
    return kept;
  }
}

const make = () => new CircuitIndex();

/** The index of a state's archive. */
export function circuitIndexOf(state: State): CircuitIndex {
  return state.shared.kept(make);
}
