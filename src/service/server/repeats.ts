import {
  type DocumentNode,
  type FieldNode,
  type FragmentDefinitionNode,
  GraphQLError,
  Kind,
  type SelectionSetNode,
} from 'graphql/index.js';

// Whether fields of one name at one place can be merged (GraphQL specification, section 5.3.2) is found out by comparing each
// with each, and whatever is below them. So their number is bounded before anything is compared.

/** Pairs of fields with one name at one place, over the whole document: as many are compared in some tens of milliseconds. */
const MOST_PAIRS = 10_000;
/** Fields with those of fragments wherever these are spread. */
const MOST_FIELDS = 20_000;
/** Levels looked at; documents that nest deeper are refused by another rule. */
const DEEPEST = 64;

/** What in a document would take long to compare; undefined where nothing would. */
export function repeatedTooOften(document: DocumentNode): GraphQLError | undefined {
  const fragments = new Map<string, FragmentDefinitionNode>();
  for (const one of document.definitions)
    if (one.kind === Kind.FRAGMENT_DEFINITION) fragments.set(one.name.value, one);
  const count = { pairs: 0, fields: 0 };
  for (const one of document.definitions) {
    const wrong = 'selectionSet' in one ? lookAt([one.selectionSet], fragments, count, 0) : undefined;
    if (wrong !== undefined) return new GraphQLError(wrong, { extensions: { code: 'OUT_OF_BUDGET' } });
  }
  return undefined;
}

/** @param sets everything that is selected at one place */
function lookAt(
  sets: readonly SelectionSetNode[],
  fragments: ReadonlyMap<string, FragmentDefinitionNode>,
  count: { pairs: number; fields: number },
  depth: number,
): string | undefined {
  if (depth > DEEPEST) return undefined;
  const byName = new Map<string, FieldNode[]>();
  const spread = new Set<string>();
  const collect = ({ selections }: SelectionSetNode): void => {
    for (const one of selections) {
      if (one.kind === Kind.FIELD) {
        count.fields++;
        const name = (one.alias ?? one.name).value;
        const fields = byName.get(name);
        if (fields) fields.push(one);
        else byName.set(name, [one]);
      } else if (one.kind === Kind.INLINE_FRAGMENT) collect(one.selectionSet);
      else if (!spread.has(one.name.value)) {
        spread.add(one.name.value);
        const fragment = fragments.get(one.name.value);
        if (fragment) collect(fragment.selectionSet);
      }
    }
  };
  sets.forEach(collect);
  if (count.fields > MOST_FIELDS)
    return `The document has more than ${MOST_FIELDS.toLocaleString('en')} fields with those of its fragments wherever they are spread; ask for fewer`;
  for (const [name, fields] of byName) {
    count.pairs += (fields.length * (fields.length - 1)) / 2;
    if (count.pairs > MOST_PAIRS)
      return `The document asks for "${name.slice(0, 100)}" ${fields.length.toLocaleString('en')} times at one place, or for others likewise; ask once, with everything below it`;
    const below = fields.flatMap(({ selectionSet }) => selectionSet ?? []);
    const wrong = below.length > 0 ? lookAt(below, fragments, count, depth + 1) : undefined;
    if (wrong !== undefined) return wrong;
  }
  return undefined;
}
