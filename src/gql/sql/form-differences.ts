import type { Form, Stretch } from './forms.ts';
import { namesOfLabels } from './label-sql.ts';

// What must differ in a form: edges of a trail, nodes of an acyclic or simple path, and all edges or nodes where matches are of
// different ones. Answers pairs; what writes them knows by what each is bound.

/** A condition that two things differ, to be written when both are bound. */
export interface Differing {
  readonly links?: readonly [number, number];
  readonly places?: readonly [number, number];
  /** A place or the inside of a hop on either side. */
  readonly nodes?: readonly [Side, Side];
}

export type Side = { readonly place: number } | { readonly hop: number };

/** Which elements of a form must not be the same. */
export class Differences {
  readonly #form: Form;
  readonly #edges: boolean;
  readonly #nodes: boolean;

  /** @param all whether all edges of the form differ, and all nodes, whatever its paths ask */
  constructor(form: Form, all: { readonly edges: boolean; readonly nodes: boolean }) {
    this.#form = form;
    this.#edges = all.edges;
    this.#nodes = all.nodes;
  }

  /** Every pair that must differ. */
  pairs(): readonly Differing[] {
    return [...this.#differingEdges(), ...this.#differingNodes()];
  }

  #stretches(): readonly { readonly stretch: Stretch; readonly mode: string }[] {
    return this.#form.restricted.map(({ stretch, mode }) => ({ stretch, mode }));
  }

  #linksIn({ first, last }: Stretch): number[] {
    return this.#form.links.flatMap(({ from }, at) => (from >= first && from < last ? [at] : []));
  }

  #differingEdges(): Differing[] {
    const groups = [
      ...(this.#edges ? [this.#form.links.map((_, at) => at)] : []),
      ...this.#stretches().flatMap(({ stretch, mode }) => (mode === 'TRAIL' ? [this.#linksIn(stretch)] : [])),
    ];
    const pairs = new Map<string, Differing>();
    for (const group of groups)
      group.forEach((a, i) => {
        for (const b of group.slice(0, i))
          if (!this.#cannotBeOne(a, b)) pairs.set(`${a} ${b}`, { links: [b, a] });
      });
    return [...pairs.values()];
  }

  /** Whether two edge patterns ask for different labels, of which an edge has one. */
  #cannotBeOne(a: number, b: number): boolean {
    const [one, other] = [this.#form.links[a]!, this.#form.links[b]!];
    if (one.kind === 'hop' || other.kind === 'hop') return false;
    const [x, y] = [namesOfLabels(one.pattern.labels), namesOfLabels(other.pattern.labels)];
    return x !== undefined && y !== undefined && !x.some((name) => y.includes(name));
  }

  /** Whether no edge comes twice in a hop. */
  isTrail(hop: number): boolean {
    const { from } = this.#form.links[hop]!;
    return (
      this.#edges ||
      this.#stretches().some(
        ({ stretch, mode }) => mode === 'TRAIL' && from >= stretch.first && from < stretch.last,
      )
    );
  }

  /** Whether no node comes twice in a hop. */
  isAcyclic(hop: number): boolean {
    const { from } = this.#form.links[hop]!;
    return (
      this.#nodes ||
      this.#stretches().some(
        ({ stretch, mode }) =>
          (mode === 'ACYCLIC' || mode === 'SIMPLE') && from >= stretch.first && from < stretch.last,
      )
    );
  }

  #differingNodes(): Differing[] {
    const pairs = new Map<string, Differing>();
    const add = (a: Side, b: Side): void => {
      pairs.set(JSON.stringify([a, b]), { nodes: [a, b] });
    };
    const sidesOf = (stretch: Stretch): Side[] => [
      ...this.#form.places.flatMap((_, place) =>
        place >= stretch.first && place <= stretch.last ? [{ place }] : [],
      ),
      ...this.#linksIn(stretch).flatMap((at) => (this.#form.links[at]!.kind === 'hop' ? [{ hop: at }] : [])),
    ];
    for (const { stretch, mode } of this.#stretches()) {
      if (mode !== 'ACYCLIC' && mode !== 'SIMPLE') continue;
      const sides = sidesOf(stretch);
      sides.forEach((a, i) => {
        if ('hop' in a) add(a, a);
        for (const b of sides.slice(0, i)) {
          const ends = 'place' in a && 'place' in b && a.place === stretch.last && b.place === stretch.first;
          if (!(mode === 'SIMPLE' && ends)) add(b, a);
        }
      });
    }
    if (this.#nodes) {
      const classes = this.classes();
      // Places that are one are asked once.
      const sides = this.#form.paths
        .flatMap(sidesOf)
        .filter((side) => 'hop' in side || classes[side.place] === side.place);
      sides.forEach((a, i) => {
        if ('hop' in a) add(a, a);
        for (const b of sides.slice(0, i)) add(b, a);
      });
    }
    return [...pairs.values()];
  }

  /** Places that are one by the names they share, as the number of the first of them. */
  classes(): readonly number[] {
    const classes = this.#form.places.map((_, i) => i);
    const firsts = new Map<string, number>();
    this.#form.places.forEach(({ patterns }, place) => {
      for (const { pattern, scope } of patterns) {
        if (!pattern.variable) continue;
        const name = `${scope} ${pattern.variable.text}`;
        const twin = firsts.get(name);
        if (twin === undefined) firsts.set(name, place);
        else {
          const [from, to] = [classes[place]!, classes[twin]!];
          classes.forEach((one, i) => {
            if (one === from) classes[i] = to;
          });
        }
      }
    });
    return classes;
  }
}
