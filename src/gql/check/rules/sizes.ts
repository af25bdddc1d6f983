import type { Span, Syntax } from '../../language/ast.ts';
import { children } from '../../language/children.ts';
import { MOST_CLAUSES, MOST_ELEMENTS, MOST_QUANTIFIED } from '../../language/limits.ts';
import type { Rule } from '../rule.ts';

/** How many of something a text may have, and what to do when it has more. */
interface Bound {
  readonly what: string;
  readonly most: number;
  readonly fix: string;
  readonly counts: (node: Syntax) => boolean;
}

const BOUNDS: readonly Bound[] = [
  {
    what: 'node and edge patterns',
    most: MOST_ELEMENTS,
    fix: 'Ask for parts of the pattern, one after the other.',
    counts: ({ kind }) => kind === 'node-pattern' || kind === 'edge-pattern',
  },
  {
    what: 'quantified paths',
    most: MOST_QUANTIFIED,
    fix: 'Write paths of a known length without a quantifier, or ask for parts of the pattern.',
    counts: ({ kind }) => kind === 'quantified-path' || kind === 'questioned-path',
  },
  {
    what: 'MATCH clauses and subqueries',
    most: MOST_CLAUSES,
    fix: 'Write several paths in one MATCH, with commas between them.',
    counts: ({ kind }) => kind === 'match' || kind === 'exists',
  },
];

/** Implementation-defined: what can be planned within a moment. */
export const sizes: Rule = {
  sentence: 'A text has no more patterns, quantified paths and clauses than can be planned within a moment.',
  check({ query, report }) {
    const counts = BOUNDS.map(() => 0);
    const excess: (Span | undefined)[] = BOUNDS.map(() => undefined);
    const visit = (node: Syntax): void => {
      BOUNDS.forEach(({ counts: isCounted, most }, i) => {
        if (isCounted(node) && ++counts[i]! > most) excess[i] ??= node.span;
      });
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
