import type { Span, Syntax } from '../../language/ast.ts';
import { children } from '../../language/children.ts';
import { MOST_CLAUSES, MOST_ELEMENTS, MOST_QUANTIFIED } from '../../language/limits.ts';
import type { Rule } from '../rule.ts';

/** How many of something a text may have, and what to do when it has more. */
interface Bound {
  readonly what: string;
  readonly most: number;
  readonly fix: string;
  readonly counts: readonly Syntax['kind'][];
}

const BOUNDS: readonly Bound[] = [
  {
    what: 'node and edge patterns',
    most: MOST_ELEMENTS,
    fix: 'Ask for parts of the pattern, one after the other.',
    counts: ['node-pattern', 'edge-pattern'],
  },
  {
    what: 'quantified paths',
    most: MOST_QUANTIFIED,
    fix: 'Write paths of a known length without a quantifier, or ask for parts of the pattern.',
    counts: ['quantified-path', 'questioned-path'],
  },
  {
    what: 'MATCH clauses and subqueries',
    most: MOST_CLAUSES,
    fix: 'Write several paths in one MATCH, with commas between them.',
    counts: ['match', 'exists'],
  },
];

/** Number of the bound that counts a kind of node. */
const BOUND_OF: ReadonlyMap<Syntax['kind'], number> = new Map(
  BOUNDS.flatMap(({ counts }, i) => counts.map((kind) => [kind, i] as const)),
);

/** Implementation-defined: what can be planned within a moment. */
export const sizes: Rule = {
  sentence: 'A text has no more patterns, quantified paths and clauses than can be planned within a moment.',
  check({ query, report }) {
    const counts = BOUNDS.map(() => 0);
    const excess: (Span | undefined)[] = BOUNDS.map(() => undefined);
    const visit = (node: Syntax): void => {
      const bound = BOUND_OF.get(node.kind);
      if (bound !== undefined && ++counts[bound]! > BOUNDS[bound]!.most) excess[bound] ??= node.span;
      for (const child of children(node)) visit(child);
    };
    visit(query);
    BOUNDS.forEach(({ what, most, fix }, i) => {
      const span = excess[i];
      if (span)
        report('too-large', span, `The text has ${counts[i]} ${what}; at most ${most} are planned. ${fix}`);
    });
  },
};
