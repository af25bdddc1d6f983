import {
  type ArgumentNode,
  type DocumentNode,
  type FieldNode,
  type FragmentDefinitionNode,
  type GraphQLNamedType,
  GraphQLObjectType,
  type GraphQLSchema,
  getNamedType,
  getNullableType,
  getOperationAST,
  isInterfaceType,
  isListType,
  isObjectType,
  Kind,
  type SelectionSetNode,
} from 'graphql/index.js';
import { DEFAULT_PAGE } from './page-sizes.ts';

/** Items assumed in a list without pages. */
const ASSUMED_ITEMS = 5;

/** Work of an operation in units of one plain field, given its variables with their defaults. */
export type Cost = (variables: Variables) => number;

type Variables = Readonly<Record<string, unknown>>;

/** One count: its variables, and the fragments already counted, so that each is visited once. */
interface Count {
  readonly variables: Variables;
  readonly fragments: Map<Work, number>;
}

/** A part of a document, read into what its work is. */
type Work = (count: Count) => number;

/**
 * Reads an operation once into a function of its variables. A field costs its weight and what is selected
 * under it; under `nodes` and `edges` of a page, and under the lists of an answer asked for its first so many,
 * that is multiplied by the size asked for, under any other list by a fixed guess. Fields that share a name are
 * counted each time, so the answer is an upper bound. The time it takes grows with the length of the document,
 * however often its fragments are spread.
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
  const work = new Reader(schema, weights, document).selections(operation.selectionSet, root, ONE);
  return (variables) => work({ variables, fragments: new Map() });
}

/** The weight of each field that has one, by `Type.field`: see `@cost` in the schema. */
export function weightsOf(schema: GraphQLSchema): ReadonlyMap<string, number> {
  return new Map(
    objectTypes(schema).flatMap((type) =>
      Object.values(type.getFields()).flatMap((field): [string, number][] => {
        const weight = field.astNode?.directives?.find(({ name }) => name.value === 'cost')?.arguments?.[0]
          .value;
        return weight?.kind === 'IntValue' ? [[`${type.name}.${field.name}`, Number(weight.value)]] : [];
      }),
    ),
  );
}

const objectTypes = (schema: GraphQLSchema) =>
  Object.values(schema.getTypeMap()).filter(
    (type): type is GraphQLObjectType => type instanceof GraphQLObjectType && !type.name.startsWith('__'),
  );

const ONE: Work = () => 1;

/** Why a question of so much work is refused. */
export function tooMuchWork(work: number, limit: number): string {
  return `The query may ask for ${Math.round(work)} fields (each counted as often as its list may have items); at most ${limit} are allowed. Ask for smaller pages or fewer fields.`;
}

class Reader {
  readonly #schema: GraphQLSchema;
  readonly #weights: ReadonlyMap<string, number>;
  readonly #definitions: ReadonlyMap<string, FragmentDefinitionNode>;
  /** Fragments read, by name and by the page they are spread on. */
  readonly #read = new Map<Work, Map<string, Work>>();

  constructor(schema: GraphQLSchema, weights: ReadonlyMap<string, number>, document: DocumentNode) {
    this.#schema = schema;
    this.#weights = weights;
    this.#definitions = new Map(
      document.definitions.flatMap((one) =>
        one.kind === Kind.FRAGMENT_DEFINITION ? [[one.name.value, one] as const] : [],
      ),
    );
  }

  /** @param page size of the page that these fields are selected on; ONE anywhere else */
  selections(set: SelectionSetNode, type: GraphQLNamedType | undefined, page: Work): Work {
    const parts = set.selections.map((selection): Work => {
      switch (selection.kind) {
        case Kind.FIELD:
          return this.#field(selection, type, page);
        case Kind.INLINE_FRAGMENT: {
          const on = selection.typeCondition?.name.value;
          return this.selections(selection.selectionSet, on ? this.#schema.getType(on) : type, page);
        }
        case Kind.FRAGMENT_SPREAD:
          return this.#fragment(selection.name.value, page);
        default:
          return selection satisfies never;
      }
    });
    return (count) => parts.reduce((total, part) => total + part(count), 0);
  }

  #fragment(name: string, page: Work): Work {
    const read = this.#read.get(page) ?? new Map<string, Work>();
    this.#read.set(page, read);
    const known = read.get(name);
    if (known) return known;
    const definition = this.#definitions.get(name);
    if (!definition) return () => 0;
    const on = this.#schema.getType(definition.typeCondition.name.value);
    const whole = this.selections(definition.selectionSet, on, page);
    const once: Work = (count) => {
      const done = count.fragments.get(once) ?? whole(count);
      count.fragments.set(once, done);
      return done;
    };
    read.set(name, once);
    return once;
  }

  #field(node: FieldNode, parent: GraphQLNamedType | undefined, page: Work): Work {
    const name = node.name.value;
    const field = isObjectType(parent) || isInterfaceType(parent) ? parent.getFields()[name] : undefined;
    // Introspection is bounded by its own rule.
    if (!field) return ONE;
    const weight = this.#weights.get(`${parent?.name}.${name}`) ?? 1;
    if (!node.selectionSet) return () => weight;
    const type = getNamedType(field.type);
    const isList = isListType(getNullableType(field.type));
    const sized = field.args.find(({ name: argument }) => argument === 'first' || argument === 'last');
    const usual = isPage(type) ? DEFAULT_PAGE : Number(sized?.defaultValue ?? ASSUMED_ITEMS);
    const size = sizeOf(node.arguments ?? [], usual);
    if (!isList && sized) {
      const below = this.selections(node.selectionSet, type, size);
      return (count) => weight + below(count);
    }
    const items = isList ? (sized || page === ONE ? size : page) : ONE;
    const below = this.selections(node.selectionSet, type, ONE);
    return (count) => weight + items(count) * below(count);
  }
}

/** Size that the arguments of a list ask for. */
function sizeOf(given: readonly ArgumentNode[], usual: number): Work {
  const sizes = given.filter(({ name }) => name.value === 'first' || name.value === 'last');
  if (sizes.length === 0) return () => usual;
  return ({ variables }) =>
    Math.max(
      ...sizes.map(({ value }) => {
        const size = value.kind === Kind.VARIABLE ? variables[value.name.value] : undefined;
        const asked = value.kind === Kind.INT ? Number(value.value) : size;
        return typeof asked === 'number' ? Math.max(0, asked) : usual;
      }),
    );
}

const isPage = (type: GraphQLNamedType | undefined) => type?.name.endsWith('Connection') ?? false;
