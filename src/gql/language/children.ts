import type { EdgePattern, NodePattern, Syntax } from './ast.ts';

/**
 * The nodes directly below a node, in the order of the text. The one place that knows which fields hold nodes, for
 * whatever walks the tree without caring for every kind.
 */
export function children(node: Syntax): readonly Syntax[] {
  switch (node.kind) {
    case 'name':
    case 'label-name':
    case 'label-wildcard':
    case 'number':
    case 'string':
    case 'boolean':
    case 'null':
    case 'temporal':
    case 'parameter':
    case 'variable':
    case 'case-subject':
      return NONE;
    case 'query':
      return [...node.clauses, node.result, ...node.orderBy, ...some(node.offset, node.limit)];
    case 'match':
      return node.where ? [...node.paths, node.where] : node.paths;
    case 'let':
      return [node.variable, node.value];
    case 'filter':
      return [node.condition];
    case 'for':
      return [node.variable, node.list, ...some(node.position?.variable)];
    case 'page':
      return [...node.orderBy, ...some(node.offset, node.limit)];
    case 'table':
      return [...some(node.input), ...node.parts];
    case 'table-part':
    case 'value-query':
      return [node.query];
    case 'record':
      return node.fields;
    case 'record-field':
      return [node.key, node.value];
    case 'optional':
    case 'exists':
      return node.clauses;
    case 'return':
      return [...(node.items ?? []), ...(node.groupBy ?? [])];
    case 'return-item':
      return some(node.value, node.alias);
    case 'sort-key':
      return [node.value];
    case 'path-alternation':
      return node.branches;
    case 'path-term':
      return node.factors;
    case 'path-pattern':
      return node.variable ? [node.variable, ...node.factors] : node.factors;
    case 'parenthesized-path':
      return [...some(node.variable), ...node.factors, ...some(node.where)];
    case 'quantified-path':
    case 'questioned-path':
      return [node.path];
    case 'node-pattern':
    case 'edge-pattern':
      return inElement(node);
    case 'property-test':
      return [node.key, node.value];
    case 'label-negation':
      return [node.operand];
    case 'label-conjunction':
    case 'label-disjunction':
    case 'logical':
      return node.operands;
    case 'list':
      return node.items;
    case 'property':
      return [node.object, node.key];
    case 'sign':
    case 'not':
    case 'is-null':
    case 'is-truth':
    case 'cast':
      return [node.operand];
    case 'arithmetic':
    case 'concatenation':
    case 'comparison':
      return [node.left, node.right];
    case 'is-labeled':
      return [node.element, node.labels];
    case 'is-directed':
      return [node.edge];
    case 'is-endpoint':
      return [node.node, node.edge];
    case 'in':
      return [node.operand, node.list];
    case 'all-different':
    case 'same':
      return node.elements;
    case 'property-exists':
      return [node.element, node.key];
    case 'case':
      return [...some(node.subject), ...node.branches, ...some(node.otherwise)];
    case 'case-branch':
      return [...node.conditions, node.result];
    case 'trim':
      return some(node.character, node.source);
    case 'call':
      return node.arguments;
    case 'aggregate':
      return some(node.argument, node.fraction);
    default:
      return node satisfies never;
  }
}

/** A node, found level by level and so without recursion, that lies more than `limit` levels below the root. */
export function tooDeep(root: Syntax, limit: number): Syntax | undefined {
  let level: readonly Syntax[] = [root];
  for (let depth = 0; level.length > 0; depth++) {
    if (depth > limit) return level[0];
    level = level.flatMap(children);
  }
  return undefined;
}

/** What most texts have most of, so without lists in between. */
function inElement({ variable, labels, properties, where }: NodePattern | EdgePattern): readonly Syntax[] {
  const inside: Syntax[] = [];
  if (variable) inside.push(variable);
  if (labels) inside.push(labels);
  inside.push(...properties);
  if (where) inside.push(where);
  return inside;
}

const NONE: readonly Syntax[] = [];

function some(...nodes: readonly (Syntax | undefined)[]): readonly Syntax[] {
  return nodes.filter((node) => node !== undefined);
}
