import {
  type ASTVisitor,
  type FragmentDefinitionNode,
  GraphQLError,
  Kind,
  type SelectionSetNode,
  type ValidationContext,
  type ValidationRule,
} from 'graphql/index.js';

/**
 * Validation rule: fields are nested at most `limit` levels deep, fragments followed. Introspection fields
 * are not counted; the rule MaxIntrospectionDepthRule of graphql-js bounds them.
 */
export function depthRule(limit: number): ValidationRule {
  return (context: ValidationContext): ASTVisitor => {
    const depths = new Map<string, number>();
    return {
      OperationDefinition(operation) {
        const depth = depthOf(context, operation.selectionSet, depths, new Set());
        if (depth > limit) {
          context.reportError(
            new GraphQLError(
              `The query nests fields ${depth} levels deep; at most ${limit} are allowed. Ask in several queries.`,
              { nodes: operation, extensions: { code: 'OUT_OF_BUDGET' } },
            ),
          );
        }
      },
    };
  };
}

function depthOf(
  context: ValidationContext,
  { selections }: SelectionSetNode,
  depths: Map<string, number>,
  open: Set<string>,
): number {
  let deepest = 0;
  for (const selection of selections) {
    let depth = 0;
    switch (selection.kind) {
      case Kind.FIELD:
        if (selection.name.value.startsWith('__')) break;
        depth = 1 + (selection.selectionSet ? depthOf(context, selection.selectionSet, depths, open) : 0);
        break;
      case Kind.INLINE_FRAGMENT:
        depth = depthOf(context, selection.selectionSet, depths, open);
        break;
      case Kind.FRAGMENT_SPREAD: {
        const fragment = context.getFragment(selection.name.value);
        depth = fragment ? depthOfFragment(context, fragment, depths, open) : 0;
        break;
      }
      default:
        return selection satisfies never;
    }
    deepest = Math.max(deepest, depth);
  }
  return deepest;
}

/** Each fragment is measured once, so that many spreads cost no more than few. */
function depthOfFragment(
  context: ValidationContext,
  fragment: FragmentDefinitionNode,
  depths: Map<string, number>,
  open: Set<string>,
): number {
  const name = fragment.name.value;
  const known = depths.get(name);
  if (known !== undefined) return known;
  // A circle of fragments is reported by a rule of graphql-js; here it must only not run for ever.
  if (open.has(name)) return 0;
  open.add(name);
  const depth = depthOf(context, fragment.selectionSet, depths, open);
  open.delete(name);
  depths.set(name, depth);
  return depth;
}
