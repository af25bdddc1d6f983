/**
 * In which order the places and links of a form are joined. Engines without statistics of the tables, as those of Parquet files,
 * cannot know that ten thousand components are identified as one part and a dozen stand on one board; so the order is chosen here, by
 * counts of labels and of edges where a mirror has them and by rough ones elsewhere.
 */
import type { EdgePattern, LabelExpression } from '../language/ast.ts';
import type { Form } from './forms.ts';
import { namesOfLabels } from './label-sql.ts';
import type { EdgeCounts, GraphCounts } from './sql-schema.ts';

/** A place that is joined by itself, because nothing leads to it or its node is known, or a link to or between places. */
export type JoinStep =
  | { readonly kind: 'place'; readonly place: number }
  | {
      readonly kind: 'link';
      readonly link: number;
      /** So many edges lead on from a node that those to the wrong nodes should be left out first. */
      readonly isWide: boolean;
    };

export interface OrderSettings {
  readonly counts: GraphCounts | undefined;
  /** For each place the first of those that are one with it. */
  readonly classes: readonly number[];
  /** Whether the node of a place is known outside. */
  readonly isKnown: (place: number) => boolean;
  /** Places and links that must be there before a hop is walked, since conditions of its repetitions read them. */
  readonly readBy: (hop: number) => readonly number[];
}

/** Counts for tables of which nothing is known. */
const ROUGH: GraphCounts = {
  nodes: 100_000,
  labels: {},
  edges: {},
};
const ROUGH_LABEL = 10_000;
/** Edges at a node, on average, from which on a link is wide: there are more components of a part, and less on a board. */
const WIDE = 20;
const ROUGH_EDGES: EdgeCounts = { rows: 100_000, sources: 50_000, targets: 50_000 };

/**
 * All places and links of a form, each once and behind what it needs: a hop behind its first place, an edge behind one of its ends.
 * Everything that edges join is joined before a hop is walked from there.
 */
export function joinOrder(form: Form, settings: OrderSettings): readonly JoinStep[] {
  const { places, links } = form;
  const { classes, isKnown } = settings;
  const counts = settings.counts ?? ROUGH;
  const islands = islandsOf(form, classes);
  const steps: JoinStep[] = [];
  const boundClasses = new Set<number>();
  const boundPlaces = new Set<number>();
  const boundLinks = new Set<number>();
  const doneIslands = new Set<number>();

  const add = (step: JoinStep): void => {
    steps.push(step);
    const at = step.kind === 'place' ? [step.place] : endsOf(form, step.link);
    if (step.kind === 'link') boundLinks.add(step.link);
    for (const place of at) {
      boundPlaces.add(place);
      boundClasses.add(classes[place]!);
    }
    // Places that are one with these filter, and join nothing.
    places.forEach((_, place) => {
      if (!boundPlaces.has(place) && boundClasses.has(classes[place]!)) add({ kind: 'place', place });
    });
  };
  places.forEach((_, place) => {
    if (!boundPlaces.has(place) && isKnown(place)) add({ kind: 'place', place });
  });

  const edgesOf = (island: number): readonly number[] =>
    links.flatMap(({ kind, from }, at) => (kind === 'edge' && islands[from] === island ? [at] : []));
  const hopsInto = (island: number): readonly number[] =>
    links.flatMap(({ kind, from }, at) =>
      kind === 'hop' && islands[from + 1] === island && !boundLinks.has(at) ? [at] : [],
    );
  const join = (island: number): void => {
    doneIslands.add(island);
    const own = places.flatMap((_, place) => (islands[place] === island ? [place] : []));
    const begun = own.some((place) => boundPlaces.has(place));
    const starts = begun ? [undefined] : own;
    const ways = starts.map((start) =>
      greedy(form, edgesOf(island), start, new Set(boundClasses), classes, counts),
    );
    const best = ways.reduce((a, b) => (b.cost < a.cost ? b : a));
    if (best.start !== undefined) add({ kind: 'place', place: best.start });
    for (const link of best.links) add({ kind: 'link', ...link });
  };

  for (;;) {
    const open = [...new Set(islands)].filter((island) => !doneIslands.has(island));
    const hops = links.flatMap((link, at) => (link.kind === 'hop' && !boundLinks.has(at) ? [at] : []));
    if (open.length === 0 && hops.length === 0) return steps;
    const begun = open.find((island) =>
      places.some((_, place) => islands[place] === island && boundPlaces.has(place)),
    );
    const first =
      begun ?? open.find((island) => hopsInto(island).every((at) => islands[links[at]!.from] === island));
    if (first !== undefined) {
      join(first);
      continue;
    }
    const hop = hops.find((at) => boundPlaces.has(links[at]!.from));
    if (hop === undefined) {
      // Hops that lead from one to the other in a circle.
      join(islands[links[hops[0]!]!.from]!);
      continue;
    }
    const needed = settings.readBy(hop).find((place) => !boundPlaces.has(place));
    if (needed === undefined) add({ kind: 'link', link: hop, isWide: false });
    else join(islands[needed]!);
  }
}

/** For each place a number that it has in common with those that edges and names join it to. */
function islandsOf({ places, links }: Form, classes: readonly number[]): readonly number[] {
  const islands = places.map((_, place) => classes[place]!);
  for (const { kind, from } of links) {
    if (kind !== 'edge') continue;
    const [a, b] = [islands[from]!, islands[from + 1]!];
    islands.forEach((one, i) => {
      if (one === b) islands[i] = a;
    });
  }
  return islands;
}

function endsOf({ links }: Form, link: number): readonly [number, number] {
  const { from } = links[link]!;
  return [from, from + 1];
}

/** Links in the order in which each makes the fewest rows, with the sum of the rows on the way. */
function greedy(
  form: Form,
  edges: readonly number[],
  start: number | undefined,
  bound: Set<number>,
  classes: readonly number[],
  counts: GraphCounts,
): {
  readonly start: number | undefined;
  readonly links: readonly { readonly link: number; readonly isWide: boolean }[];
  readonly cost: number;
} {
  let rows = 1;
  if (start !== undefined) {
    rows = nodesAt(form, start, counts);
    bound.add(classes[start]!);
  }
  let cost = rows;
  const left = new Set(edges);
  const order: { readonly link: number; readonly isWide: boolean }[] = [];
  while (left.size > 0) {
    let best: { readonly link: number; readonly factor: number; readonly isWide: boolean } | undefined;
    for (const link of left) {
      const effect = effectOf(form, link, bound, classes, counts);
      if (effect && (!best || effect.factor < best.factor)) best = { link, ...effect };
    }
    // Edges of one island hang together.
    const { link, factor, isWide } = best!;
    left.delete(link);
    order.push({ link, isWide });
    for (const place of endsOf(form, link)) bound.add(classes[place]!);
    rows *= factor;
    cost += rows;
  }
  return { start, links: order, cost };
}

/** By how much a link multiplies the rows, and whether it is wide; undefined when neither of its ends is there yet. */
function effectOf(
  form: Form,
  at: number,
  bound: ReadonlySet<number>,
  classes: readonly number[],
  counts: GraphCounts,
): { readonly factor: number; readonly isWide: boolean } | undefined {
  const link = form.links[at]!;
  if (link.kind !== 'edge') return undefined;
  const [from, to] = endsOf(form, at);
  const [hasFrom, hasTo] = [bound.has(classes[from]!), bound.has(classes[to]!)];
  if (!hasFrom && !hasTo) return undefined;
  const { rows, near, far } = edgesAlong(link.pattern, counts);
  const [fan, reached, next] = hasFrom ? [rows / near, far, to] : [rows / far, near, from];
  if (hasFrom && hasTo) return { factor: Math.min(1, fan / Math.max(1, reached)), isWide: false };
  const passing = Math.min(1, nodesAt(form, next, counts) / Math.max(1, reached));
  return { factor: fan * passing, isWide: fan > WIDE && passing < 0.5 };
}

function nodesAt({ places }: Form, place: number, counts: GraphCounts): number {
  const tests = places[place]!.patterns.flatMap(({ pattern }) => pattern.labels ?? []);
  return Math.max(1, Math.min(counts.nodes, ...tests.map((test) => nodesWith(test, counts))));
}

function nodesWith(labels: LabelExpression, counts: GraphCounts): number {
  switch (labels.kind) {
    case 'label-name':
      return counts.labels[labels.name] ?? (counts === ROUGH ? ROUGH_LABEL : 0);
    case 'label-conjunction':
      return Math.min(...labels.operands.map((one) => nodesWith(one, counts)));
    case 'label-disjunction':
      return labels.operands.reduce((sum, one) => sum + nodesWith(one, counts), 0);
    default:
      return counts.nodes;
  }
}

/** Edges that a pattern may walk along, and the nodes at either end. */
function edgesAlong(
  { labels, direction }: EdgePattern,
  counts: GraphCounts,
): { readonly rows: number; readonly near: number; readonly far: number } {
  const named = namesOfLabels(labels);
  const kinds = named
    ? named.map((name) => counts.edges[name] ?? (counts === ROUGH ? ROUGH_EDGES : undefined))
    : [...Object.values(counts.edges), ...(counts === ROUGH ? [ROUGH_EDGES] : [])];
  let [rows, sources, targets] = [0, 0, 0];
  for (const kind of kinds) {
    rows += kind?.rows ?? 0;
    sources += kind?.sources ?? 0;
    targets += kind?.targets ?? 0;
  }
  [rows, sources, targets] = [Math.max(1, rows), Math.max(1, sources), Math.max(1, targets)];
  if (direction === 'right') return { rows, near: sources, far: targets };
  if (direction === 'left') return { rows, near: targets, far: sources };
  const ends = Math.max(sources, targets);
  return { rows: 2 * rows, near: ends, far: ends };
}
