import type {
  MatchClause,
  ParenthesizedPath,
  PathFactor,
  PathMode,
  QuantifiedPath,
} from '../../language/ast.ts';
import type { CheckContext, Rule } from '../rule.ts';

/** 16.7, syntax rules on <quantified path primary>, and 16.11 <graph pattern quantifier> (from memory). */
export const quantifiers: Rule = {
  sentence:
    'A quantifier counts up, repeats at least one edge, is not inside another, and without upper bound needs edges or nodes that may not repeat.',
  check(context) {
    for (const clause of context.analysis.matches) {
      for (const { factors, mode, search } of clause.paths) {
        const isSearched = search !== undefined && search !== 'ALL';
        for (const factor of factors)
          look(factor, { clause, modes: [mode], isSearched, repeated: undefined }, context);
      }
    }
  },
};

interface Place {
  readonly clause: MatchClause;
  /** Path modes that apply here. */
  readonly modes: readonly (PathMode | undefined)[];
  /** Whether the path pattern has ANY or SHORTEST, which ends on every cycle. */
  readonly isSearched: boolean;
  /** The quantified or questioned path around. */
  readonly repeated: PathFactor | undefined;
}

function look(factor: PathFactor, place: Place, context: CheckContext): void {
  switch (factor.kind) {
    case 'node-pattern':
    case 'edge-pattern':
      return;
    case 'parenthesized-path':
      for (const inner of factor.factors)
        look(inner, { ...place, modes: [...place.modes, factor.mode] }, context);
      return;
    case 'questioned-path':
    case 'quantified-path':
      if (factor.kind === 'quantified-path') bounds(factor, place, context);
      if (fewest(factor.path) === 0) {
        context.report(
          'quantified-path',
          factor.span,
          'What is repeated holds no edge; a quantifier repeats edges.',
        );
      }
      look(factor.path, { ...place, repeated: factor }, context);
      return;
    case 'path-alternation':
      for (const branch of factor.branches) for (const inner of branch.factors) look(inner, place, context);
      return;
    default:
      factor satisfies never;
  }
}

function bounds(
  factor: QuantifiedPath,
  { clause, modes, isSearched, repeated }: Place,
  { report }: CheckContext,
): void {
  const { min, max, span } = factor;
  if (max !== undefined && min > max) {
    report(
      'quantifier-bounds',
      span,
      `The lower bound ${min} is above the upper bound ${max}; write {${max},${min}}.`,
    );
  } else if (max === 0) {
    report('quantifier-bounds', span, 'The upper bound is 0; leave the path out instead.');
  }
  if (repeated) {
    report(
      'quantified-path',
      span,
      'A quantifier cannot be inside another; write out the inner path, or put a single quantifier around both.',
    );
  }
  const restricted = isSearched || modes.some((mode) => mode !== undefined && mode !== 'WALK');
  if (max === undefined && clause.mode === 'REPEATABLE ELEMENTS' && !restricted) {
    report(
      'unbounded-quantifier',
      span,
      'Without an upper bound there would be endless walks around every cycle; give one, such as {1,8}, or put TRAIL, SIMPLE, ACYCLIC or ANY SHORTEST before the path.',
    );
  }
}

/** Whether one repetition surely holds an edge: fewest edges, counting quantified ones once. */
function fewest(path: PathFactor | ParenthesizedPath): number {
  switch (path.kind) {
    case 'node-pattern':
      return 0;
    case 'edge-pattern':
      return 1;
    case 'parenthesized-path':
      return path.factors.reduce((sum, factor) => sum + fewest(factor), 0);
    case 'quantified-path':
      return path.min === 0 ? 0 : fewest(path.path);
    case 'questioned-path':
      return 0;
    case 'path-alternation':
      return Math.min(
        ...path.branches.map(({ factors }) => factors.reduce((sum, factor) => sum + fewest(factor), 0)),
      );
    default:
      return path satisfies never;
  }
}
