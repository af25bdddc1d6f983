import type { Expression, Variable } from '../../language/ast.ts';
import { expressionsIn, type Site, type VariableKind } from '../analysis.ts';
import type { CheckContext, Rule } from '../rule.ts';

/** 19.8 to 19.13, syntax rules on the variables of predicates; 20.11 on the source of a property. */
export const elementReferences: Rule = {
  sentence:
    'Predicates on elements are asked of nodes and edges, those on edges of edges; paths have no properties.',
  check(context) {
    for (const site of context.analysis.sites) {
      for (const node of expressionsIn(site.root)) {
        for (const [variable, wanted] of uses(node as Expression)) need(variable, wanted, site, context);
      }
    }
  },
};

type Use = readonly [Variable, readonly VariableKind[]];
const ELEMENT: readonly VariableKind[] = ['node', 'edge', 'value'];
const EDGE: readonly VariableKind[] = ['edge', 'value'];
const NODE: readonly VariableKind[] = ['node', 'value'];

function uses(node: Expression): readonly Use[] {
  switch (node.kind) {
    case 'property':
      return node.object.kind === 'variable' ? [[node.object, ELEMENT]] : [];
    case 'is-labeled':
    case 'property-exists':
      return [[node.element, ELEMENT]];
    case 'is-directed':
      return [[node.edge, EDGE]];
    case 'is-endpoint':
      return [
        [node.node, NODE],
        [node.edge, EDGE],
      ];
    case 'all-different':
    case 'same':
      return node.elements.map((element) => [element, ELEMENT]);
    default:
      return [];
  }
}

function need(
  variable: Variable,
  wanted: readonly VariableKind[],
  site: Site,
  { report }: CheckContext,
): void {
  const known = site.find(variable.name);
  if (!known || wanted.includes(known.kind)) return;
  const words = wanted === ELEMENT ? 'a node or an edge' : wanted === EDGE ? 'an edge' : 'a node';
  const fix = known.kind === 'path' ? '; ELEMENTS(…) gives its nodes and edges' : '';
  report(
    'element-expected',
    variable.span,
    `"${variable.name}" is a ${known.kind}, but ${words} is expected${fix}.`,
  );
}
