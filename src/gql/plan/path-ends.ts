import type { NodePattern, ParenthesizedPath, PathFactor, PathPattern } from '../language/ast.ts';

/** A path pattern by its ends. */
export interface PathEnds {
  /** Parentheses around all of it, from the outside. */
  readonly around: readonly ParenthesizedPath[];
  /** Undefined where the text writes no node at that end. */
  readonly first: NodePattern | undefined;
  readonly last: NodePattern | undefined;
  /** What stands between them. */
  readonly between: readonly PathFactor[];
}

/** The ends of a path pattern that has an edge. */
export function endsOfPath(path: PathPattern): PathEnds {
  const around: ParenthesizedPath[] = [];
  let inner: { readonly factors: readonly PathFactor[] } = path;
  for (;;) {
    const [only, ...others] = inner.factors;
    if (only?.kind !== 'parenthesized-path' || others.length > 0) break;
    around.push(only);
    inner = only;
  }
  const between = [...inner.factors];
  const node = (factor: PathFactor | undefined) => (factor?.kind === 'node-pattern' ? factor : undefined);
  const first = node(between[0]);
  if (first) between.shift();
  const last = node(between.at(-1));
  if (last) between.pop();
  return { around, first, last, between };
}

/** Whether a piece of path is a node, with or without parentheses. */
export function isNode(factor: PathFactor): boolean {
  return (
    factor.kind === 'node-pattern' || (factor.kind === 'parenthesized-path' && factor.factors.every(isNode))
  );
}
