import { CasebackError } from '../../model/problems.ts';

// The archive writes kinds as plain words (`rigid-flex`), GraphQL wants names without hyphens (`RIGID_FLEX`).

/** Names already made; the words are few, and each answer needs them many times. */
const names = new Map<string, string>();

/** The GraphQL name of a word of the archive; undefined stays undefined. */
export function enumName(word: string | undefined): string | undefined {
  if (word === undefined) return undefined;
  let name = names.get(word);
  if (name === undefined) {
    name = word.toUpperCase().replaceAll('-', '_');
    names.set(word, name);
  }
  return name;
}

/** The word of the archive that a GraphQL name stands for. */
export function enumWord<T extends string>(words: readonly T[], name: string): T {
  const word = words.find((one) => enumName(one) === name);
  if (word === undefined) throw new CasebackError('BAD_INPUT', `"${name}" is none of ${words.join(', ')}`);
  return word;
}

/** SDL of an enum over words of the archive. */
export function enumType<T extends string>(
  name: string,
  description: string,
  meanings: Readonly<Record<T, string>>,
): string {
  const values = Object.entries<string>(meanings).map(
    ([word, meaning]) => `  ${JSON.stringify(meaning)}\n  ${enumName(word)}`,
  );
  return `${JSON.stringify(description)}\nenum ${name} {\n${values.join('\n')}\n}\n`;
}
