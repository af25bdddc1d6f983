import {
  type ArgumentNode,
  type DocumentNode,
  type FieldNode,
  type FragmentDefinitionNode,
  type GraphQLObjectType,
  type GraphQLSchema,
  getNamedType,
  getNullableType,
  getOperationAST,
  isCompositeType,
  isInterfaceType,
  isListType,
  isObjectType,
  Kind,
  type SelectionSetNode,
} from 'graphql/index.js';
import { DEFAULT_PAGE } from '../connections/paginate.ts';

/** Items assumed in a list without pages. */
const ASSUMED_ITEMS = 5;

/** Work of an operation in units of one plain field, given its variables with their defaults. */
export type Cost = (variables: Readonly<Record<string, unknown>>) => number;

/**
 * Reads an operation once into a function of its variables. A field costs its weight and what is selected
 * under it; under a page that is multiplied by the page's size, under any other list by a fixed guess.
 * Fields that share a name are counted each time, so the answer is an upper bound.
 * @returns undefined when the document has no such operation
 */
export function costOf(
  schema: GraphQLSchema,
  weights: ReadonlyMap<string, number>,
  document: DocumentNode,
  operationName: string | undefined,
): Cost | undefined {
  const operation = getOperationAST(document, operationName);
  const root = operation && schema.getRootType(operation.operation);
  if (!operation || !root) return undefined;
  return new Reader(schema, weights, document).selections(operation.selectionSet, root);
}

const sum =
  (costs: readonly Cost[]): Cost =>
  (variables) =>
    costs.reduce((total, cost) => total + cost(variables), 0);

class Reader {
  readonly #schema: GraphQLSchema;
  readonly #weights: ReadonlyMap<string, number>;
  readonly #fragments: ReadonlyMap<string, FragmentDefinitionNode>;
  /** Costs of fragments, each read once. */
  readonly #read = new Map<string, Cost>();

  constructor(schema: GraphQLSchema, weights: ReadonlyMap<string, number>, document: DocumentNode) {
    this.#schema = schema;
    this.#weights = weights;
    this.#fragments = new Map(
      document.definitions.flatMap((one) =>
        one.kind === Kind.FRAGMENT_DEFINITION ? [[one.name.value, one] as const] : [],
      ),
    );
  }

  selections(set: SelectionSetNode, type: unknown): Cost {
    return sum(
      set.selections.map((selection) => {
        switch (selection.kind) {
          case Kind.FIELD:
            return this.#field(selection, type);
          case Kind.INLINE_FRAGMENT: {
            const on = selection.typeCondition?.name.value;
            return this.selections(selection.selectionSet, on ? this.#schema.getType(on) : type);
          }
          case Kind.FRAGMENT_SPREAD:
            return this.#fragment(selection.name.value);
          default:
            return selection satisfies never;
        }
      }),
    );
  }

  #fragment(name: string): Cost {
    const known = this.#read.get(name);
    if (known) return known;
    const fragment = this.#fragments.get(name);
    if (!fragment) return () => 0;
    const cost = this.selections(
      fragment.selectionSet,
      this.#schema.getType(fragment.typeCondition.name.value),
    );
    this.#read.set(name, cost);
    return cost;
  }

  #field(node: FieldNode, parent: unknown): Cost {
    const name = node.name.value;
    const field =
      isObjectType(parent) || isInterfaceType(parent)
        ? (parent as GraphQLObjectType).getFields()[name]
        : undefined;
    // Introspection is bounded by its own rule.
    if (!field) return () => 1;
    const weight = this.#weights.get(`${String(parent)}.${name}`) ?? 1;
    const type = getNamedType(field.type);
    if (!node.selectionSet || !isCompositeType(type)) return () => weight;
    const below = this.selections(node.selectionSet, type);
    const first = field.args.find(({ name }) => name === 'first');
    const items = isListType(getNullableType(field.type))
      ? first
        ? this.#pageSize(node.arguments ?? [], first.defaultValue)
        : // The edges and nodes of a page are counted with the page.
          () => (isPage(String(parent)) ? 1 : ASSUMED_ITEMS)
      : isPage(String(type))
        ? this.#pageSize(node.arguments ?? [])
        : () => 1;
    return (variables) => weight + items(variables) * below(variables);
  }

  /** @param usual the size when none is asked for */
  #pageSize(given: readonly ArgumentNode[], usual: unknown = DEFAULT_PAGE): Cost {
    const sizes = given.filter(({ name }) => name.value === 'first' || name.value === 'last');
    if (sizes.length === 0) return () => Number(usual);
    return (variables) =>
      Math.max(
        ...sizes.map(({ value }) => {
          if (value.kind === Kind.INT) return Math.max(0, Number(value.value));
          if (value.kind !== Kind.VARIABLE) return DEFAULT_PAGE;
          const passed = variables[value.name.value];
          return typeof passed === 'number' ? Math.max(0, passed) : DEFAULT_PAGE;
        }),
      );
  }
}

const isPage = (typeName: string) => typeName.endsWith('Connection');
