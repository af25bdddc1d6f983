/** Single node and edge patterns of the text. */
import type { EdgePattern, Expression, NodePattern, PathMode, PropertyTest } from '../language/ast.ts';
import { conjuncts } from './free-names.ts';
import { BACKWARD, FORWARD, SIDEWAYS } from './pattern.ts';
import type { WholePath } from './quantified-path.ts';

/** What property list and WHERE of an element ask, as conditions on a variable. */
export function testsOf(pattern: NodePattern | EdgePattern, variable: string): Expression[] {
  const tests = pattern.properties.map(
    ({ key, value, span }: PropertyTest): Expression => ({
      kind: 'comparison',
      operator: '=',
      left: { kind: 'property', object: { kind: 'variable', name: variable, span }, key, span },
      right: value,
      span,
    }),
  );
  return [...tests, ...conjuncts(pattern.where)];
}

/** Ways in which an edge may be walked. */
export function directionsOf({ direction }: EdgePattern): number {
  switch (direction) {
    case 'right':
      return FORWARD;
    case 'left':
      return BACKWARD;
    case 'undirected':
      return SIDEWAYS;
    case 'left-or-undirected':
      return BACKWARD | SIDEWAYS;
    case 'undirected-or-right':
      return SIDEWAYS | FORWARD;
    case 'left-or-right':
      return BACKWARD | FORWARD;
    case 'any':
      return FORWARD | BACKWARD | SIDEWAYS;
    default:
      return direction satisfies never;
  }
}

export function chainMode(mode: PathMode | undefined): WholePath['mode'] {
  switch (mode) {
    case undefined:
    case 'WALK':
      return 'walk';
    case 'TRAIL':
      return 'trail';
    case 'SIMPLE':
      return 'simple';
    case 'ACYCLIC':
      return 'acyclic';
    default:
      return mode satisfies never;
  }
}
