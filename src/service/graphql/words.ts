import type { SUBSYSTEM_KINDS } from '../../model/dossier.ts';
import { termFix } from '../../model/near-term.ts';
import { CasebackError } from '../../model/problems.ts';
import { meaningOf } from '../../model/taxonomy.ts';

// The archive writes kinds as plain words (`rigid-flex`), GraphQL wants names without hyphens (`RIGID_FLEX`).

/** The GraphQL name of a word of the archive. */
export type EnumName<W extends string> = W extends `${infer A}${'-' | ' '}${infer B}`
  ? `${Uppercase<A>}_${EnumName<B>}`
  : Uppercase<W>;

/** Names already made; the words are few, and each answer needs them many times. */
const names = new Map<string, string>();

/** The GraphQL name of a word of the archive; undefined stays undefined. */
export function enumName<W extends string | undefined>(word: W): W extends string ? EnumName<W> : undefined {
  type Name = W extends string ? EnumName<W> : undefined;
  if (word === undefined) return undefined as Name;
  let name = names.get(word);
  if (name === undefined) {
    name = word.toUpperCase().replaceAll(/[- ]/gu, '_');
    names.set(word, name);
  }
  return name as Name;
}

/** The word of the archive that a GraphQL name stands for. */
export function enumWord<W extends string>(words: readonly W[], name: EnumName<W>): W {
  const word = words.find((one) => enumName(one) === name);
  if (word === undefined) throw new CasebackError('BAD_INPUT', `"${name}" is not one of ${words.join(', ')}`);
  return word;
}

/**
 * The term itself when the taxonomy holds it, or when none is given.
 * @throws CasebackError BAD_INPUT with near terms
 */
export function knownTerm<T extends string | null | undefined>(term: T, argument: string): T {
  if (typeof term === 'string' && meaningOf(term) === undefined) {
    const fix = termFix(term) ?? 'the field "taxonomy" lists them';
    throw new CasebackError(
      'BAD_INPUT',
      `${argument}: "${term}" is not a term of the component taxonomy; ${fix}`,
    );
  }
  return term;
}

/** The kind of a subsystem as counts name it, where `none` stands for components in no named one. */
export function subsystemKind(kind: string): EnumName<(typeof SUBSYSTEM_KINDS)[number]> | null {
  return kind === 'none' ? null : enumName(kind as (typeof SUBSYSTEM_KINDS)[number]);
}

/** @throws CasebackError BAD_INPUT when the number of items asked for is not one that a list can have */
export function bounded(argument: string, value: number, maximum: number, minimum = 1): number {
  if (value < minimum || value > maximum)
    throw new CasebackError('BAD_INPUT', `${argument} is ${value}; it must be ${minimum} to ${maximum}`);
  return value;
}

/**
 * The one field given of those of which exactly one is wanted. This is `@oneOf` of the GraphQL specification, checked
 * here because compiled documents do not, and because arguments and fields of outputs are chosen between likewise.
 * @throws CasebackError BAD_INPUT that names what was given and what may be
 */
export function onlyGiven<I extends object, F extends keyof I & string>(
  argument: string,
  input: I,
  fields: readonly F[],
): F {
  const given = fields.filter((name) => input[name] !== null && input[name] !== undefined);
  if (given.length === 1) return given[0];
  const what = given.length === 0 ? 'nothing is given' : `${listed(given, 'and')} are given`;
  throw new CasebackError('BAD_INPUT', `${argument}: ${what}; give exactly one of ${listed(fields, 'and')}`);
}

const listed = (names: readonly string[], last: string) =>
  names.length === 1 ? names[0] : `${names.slice(0, -1).join(', ')} ${last} ${names.at(-1)}`;

/** Characters of a pattern. */
const LONGEST_PATTERN = 20_000;

/** The text of a pattern. @throws CasebackError TOO_LARGE */
export function checkLength(argument: string, text: string): string {
  if (text.length <= LONGEST_PATTERN) return text;
  throw new CasebackError(
    'TOO_LARGE',
    `${argument} has ${text.length} characters; at most ${LONGEST_PATTERN}`,
  );
}
