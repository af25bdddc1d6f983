import {
  type ASTVisitor,
  GraphQLError,
  OperationTypeNode,
  type ValidationContext,
  type ValidationRule,
} from 'graphql/index.js';
import { TEXT_SIZES } from '../../model/text-sizes.ts';

/** Sizes inside one request. */
export const SIZES = {
  /** Characters of a text, in a question; files of an import are as long as a body may be. */
  text: TEXT_SIZES.many,
  /** Items of a list in the variables. */
  items: 10_000,
  /** Characters of a name or alias. */
  name: 200,
  /** Fields under another name than their own. */
  aliases: 500,
} as const;

/** The fields of an input that hold a file: as text, or its bytes in base64. */
const FILE_FIELDS: ReadonlySet<string | undefined> = new Set(['text', 'content']);

/** Validation rule: names, aliases and texts of a document are of a size that an answer or a message can hold. */
export const sizeRule: ValidationRule = (context: ValidationContext): ASTVisitor => {
  let aliases = 0;
  let isQuery = true;
  const refuse = (what: string) =>
    context.reportError(new GraphQLError(what, { extensions: { code: 'TOO_LARGE' } }));
  return {
    OperationDefinition({ operation }) {
      isQuery = operation !== OperationTypeNode.MUTATION;
    },
    Name({ value }) {
      if (value.length > SIZES.name) {
        refuse(`A name has ${value.length} characters; at most ${SIZES.name}`);
        return false;
      }
      return undefined;
    },
    Field({ alias }) {
      if (alias && ++aliases === SIZES.aliases + 1)
        refuse(`The document has more than ${SIZES.aliases} aliases`);
    },
    StringValue({ value }) {
      if (isQuery && value.length > SIZES.text) refuse(tooLong(value.length));
    },
  };
};

const tooLong = (length: number) =>
  `A text has ${length.toLocaleString('en')} characters; at most ${SIZES.text.toLocaleString('en')}`;

/**
 * What in the variables of an operation is too large; undefined where nothing is. Looked at before their types are, since that
 * takes longer.
 * @param mayHoldFiles whether a field that holds a file may be longer than other texts
 */
export function tooLargeIn(
  variables: Readonly<Record<string, unknown>>,
  mayHoldFiles: boolean,
): GraphQLError | undefined {
  const what = found(variables, undefined, mayHoldFiles);
  return what === undefined ? undefined : new GraphQLError(what, { extensions: { code: 'TOO_LARGE' } });
}

function found(value: unknown, field: string | undefined, mayHoldFiles: boolean): string | undefined {
  if (typeof value === 'string') {
    const isFile = mayHoldFiles && FILE_FIELDS.has(field);
    return value.length > SIZES.text && !isFile ? tooLong(value.length) : undefined;
  }
  if (Array.isArray(value)) {
    if (value.length > SIZES.items)
      return `A list has ${value.length.toLocaleString('en')} items; at most ${SIZES.items.toLocaleString('en')}`;
    return first(value, (item) => found(item, field, mayHoldFiles));
  }
  if (typeof value !== 'object' || value === null) return undefined;
  return first(Object.entries(value), ([name, inner]) => found(inner, name, mayHoldFiles));
}

function first<T>(items: readonly T[], look: (item: T) => string | undefined): string | undefined {
  for (const item of items) {
    const what = look(item);
    if (what !== undefined) return what;
  }
  return undefined;
}
