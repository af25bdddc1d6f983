/** Whether the value of an expression is surely a node or an edge, as far as the text shows: then patterns can go on from it. */
import type { Aggregate, Expression } from '../language/ast.ts';

export type ElementKind = 'node' | 'edge';

/** What a variable holds: its kind, and that of the items when it is a list. */
export interface Held {
  readonly kind: ElementKind | 'path' | 'value';
  /** Whether it is a list of what `kind` says. */
  readonly isGroup: boolean;
  readonly items: ElementKind | undefined;
}

export type FindHeld = (name: string) => Held | undefined;

/** The kind of the element that an expression gives, when it never gives anything else but null. */
export function elementKindOf(node: Expression, find: FindHeld): ElementKind | undefined {
  if (node.kind === 'variable') {
    const held = find(node.name);
    return held && !held.isGroup && (held.kind === 'node' || held.kind === 'edge') ? held.kind : undefined;
  }
  return agreed(node, (part) => elementKindOf(part, find));
}

/** The kind of the items of the list that an expression gives, when none is ever anything else but null. */
export function itemKindOf(node: Expression, find: FindHeld): ElementKind | undefined {
  switch (node.kind) {
    case 'variable': {
      const held = find(node.name);
      if (!held) return undefined;
      return held.isGroup && (held.kind === 'node' || held.kind === 'edge') ? held.kind : held.items;
    }
    case 'list':
      return common(node.items, (item) => elementKindOf(item, find));
    case 'concatenation':
      return common([node.left, node.right], (part) => itemKindOf(part, find));
    case 'aggregate':
      return collectedKind(node, find);
    default:
      return agreed(node, (part) => itemKindOf(part, find));
  }
}

/** COLLECT_LIST over rows, or along a group variable, whose name stands for one item in it. */
function collectedKind({ name, argument }: Aggregate, find: FindHeld): ElementKind | undefined {
  if (name !== 'COLLECT_LIST' || !argument) return undefined;
  return elementKindOf(argument, (inner) => {
    const held = find(inner);
    return held && { ...held, isGroup: false };
  });
}

/** Of expressions that give one of several values. */
function agreed(
  node: Expression,
  kindOf: (part: Expression) => ElementKind | undefined,
): ElementKind | undefined {
  switch (node.kind) {
    case 'case':
      return common(
        [...node.branches.map(({ result }) => result), ...(node.otherwise ? [node.otherwise] : [])],
        kindOf,
      );
    case 'call':
      if (node.name === 'COALESCE') return common(node.arguments, kindOf);
      return node.name === 'NULLIF' && node.arguments[0] ? kindOf(node.arguments[0]) : undefined;
    default:
      return undefined;
  }
}

function common(
  parts: readonly Expression[],
  kindOf: (part: Expression) => ElementKind | undefined,
): ElementKind | undefined {
  const kinds = new Set(parts.filter(({ kind }) => kind !== 'null').map(kindOf));
  return kinds.size === 1 ? [...kinds][0] : undefined;
}
