import type { InputGraph } from '../../src/structures/graph-store.ts';

// Recurring structures by trying everything: every connected set of edges of every graph, every labelling that its
// nodes allow, every order of its nodes for a canonical name. Shares nothing with the miner but the form of its input.

/** A structure as plain lists; nodes are numbered as it comes. */
export interface Plain {
  readonly labels: readonly number[];
  readonly edges: readonly (readonly [number, number, number])[];
}

export interface Limits {
  readonly minSupport: number;
  readonly minSize: number;
  readonly maxSize: number;
  readonly maxEdges?: number;
}

/** Label of an edge as seen from its other end. */
export type Reverse = (link: number) => number;
const sameBothWays: Reverse = (link) => link;

/** Least text over all orders of the nodes: equal for isomorphic structures and no others. */
export function canonical({ labels, edges }: Plain, reverse: Reverse = sameBothWays): string {
  let least: string | undefined;
  for (const order of permutations(labels.length)) {
    const place = new Map(order.map((node, at) => [node, at]));
    const moved = edges
      .map(([a, b, link]) => {
        const [x, y] = [place.get(a) as number, place.get(b) as number];
        return x < y ? `${x}-${y}:${link}` : `${y}-${x}:${reverse(link)}`;
      })
      .sort();
    const text = `${order.map((node) => labels[node]).join(' ')} | ${moved.join(' ')}`;
    if (least === undefined || text < least) least = text;
  }
  return least as string;
}

const known = new Map<number, readonly (readonly number[])[]>();

function permutations(size: number): readonly (readonly number[])[] {
  const kept = known.get(size);
  if (kept) return kept;
  const all =
    size === 0
      ? [[]]
      : permutations(size - 1).flatMap((rest) =>
          Array.from({ length: size }, (_, at) => [...rest.slice(0, at), size - 1, ...rest.slice(at)]),
        );
  known.set(size, all);
  return all;
}

/** Every structure of a graph within the limits of size, by canonical name. */
export function structuresOf(
  graph: InputGraph,
  { maxSize, maxEdges = Infinity }: Limits,
  reverse: Reverse = sameBothWays,
): Map<string, Plain> {
  const edges = [
    ...new Map(
      graph.edges
        .filter(([a, b]) => a !== b)
        .map(([a, b, link]) => [
          a < b ? `${a} ${b} ${link}` : `${b} ${a} ${reverse(link)}`,
          [a, b, link] as const,
        ]),
    ).values(),
  ];
  const found = new Map<string, Plain>();
  const seen = new Set<string>();
  const nodesOf = (chosen: readonly number[]) => [...new Set(chosen.flatMap((at) => edges[at].slice(0, 2)))];
  const grow = (chosen: readonly number[]) => {
    const key = [...chosen].sort((a, b) => a - b).join(' ');
    if (seen.has(key)) return;
    seen.add(key);
    const nodes = nodesOf(chosen);
    for (const labels of labellings(nodes.map((node) => graph.labels[node]))) {
      const plain = {
        labels,
        edges: chosen.map((at) => {
          const [a, b, link] = edges[at];
          return [nodes.indexOf(a), nodes.indexOf(b), link] as const;
        }),
      };
      found.set(canonical(plain, reverse), plain);
    }
    if (chosen.length === maxEdges) return;
    edges.forEach(([a, b], at) => {
      if (chosen.includes(at) || !(nodes.includes(a) || nodes.includes(b))) return;
      if (nodesOf([...chosen, at]).length <= maxSize) grow([...chosen, at]);
    });
  };
  edges.forEach((_, at) => {
    grow([at]);
  });
  return found;
}

function labellings(choices: readonly (readonly number[])[]): number[][] {
  return choices.reduce<number[][]>(
    (all, own) => all.flatMap((before) => own.map((label) => [...before, label])),
    [[]],
  );
}

/** Frequent structures: canonical name to the groups that have it, in order. */
export function frequentByTrying(
  graphs: readonly InputGraph[],
  limits: Limits,
  reverse: Reverse = sameBothWays,
): Map<string, number[]> {
  const groups = new Map<string, number[]>();
  for (const graph of graphs) {
    for (const name of structuresOf(graph, limits, reverse).keys()) {
      const own = groups.get(name) ?? [];
      if (own.at(-1) !== graph.group) own.push(graph.group);
      groups.set(name, own);
    }
  }
  return new Map([...groups].filter(([, own]) => own.length >= limits.minSupport));
}

/**
 * Those frequent structures that no larger one within the limits, or one with narrower labels, has the same support as:
 * larger ones are found by looking for the smaller in them in every way.
 */
export function closedByTrying(
  graphs: readonly InputGraph[],
  limits: Limits,
  isNarrower: (label: number, than: number) => boolean = () => false,
  reverse: Reverse = sameBothWays,
): Map<string, number[]> {
  const frequent = frequentByTrying(graphs, limits, reverse);
  const plain = new Map<string, Plain>();
  for (const graph of graphs)
    for (const [name, one] of structuresOf(graph, limits, reverse)) plain.set(name, one);
  return new Map(
    [...frequent].filter(([name, groups]) => {
      const own = plain.get(name) as Plain;
      if (own.labels.length < limits.minSize) return false;
      return ![...frequent].some(
        ([other, theirs]) =>
          other !== name &&
          theirs.length === groups.length &&
          liesIn(own, plain.get(other) as Plain, isNarrower, reverse),
      );
    }),
  );
}

function liesIn(
  small: Plain,
  large: Plain,
  isNarrower: (label: number, than: number) => boolean,
  reverse: Reverse,
): boolean {
  if (small.labels.length > large.labels.length || small.edges.length > large.edges.length) return false;
  const place = (to: readonly number[]): boolean => {
    if (to.length === small.labels.length) {
      return small.edges.every(([a, b, link]) =>
        large.edges.some(
          ([x, y, other]) =>
            (x === to[a] && y === to[b] && other === link) ||
            (x === to[b] && y === to[a] && other === reverse(link)),
        ),
      );
    }
    const own = small.labels[to.length];
    return large.labels.some(
      (label, node) =>
        !to.includes(node) && (label === own || isNarrower(label, own)) && place([...to, node]),
    );
  };
  return place([]);
}
