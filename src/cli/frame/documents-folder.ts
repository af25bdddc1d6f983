import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { documentIds } from '../../api-schema/document-id.ts';
import { mistakesOfDocument } from '../../api-schema/question.ts';
import { CasebackError, type Problem } from '../../model/problems.ts';
import { systemTrouble } from '../../text/system-trouble.ts';

/** Documents that a service takes from a folder, and bytes of each; it keeps them in memory. */
const MOST = 1_000;
const LARGEST = 2 ** 20;

/**
 * The documents of a folder by their identifiers: each file whose name ends in `.graphql` is one, held to the schema.
 * @throws CasebackError BAD_INPUT for a folder that cannot be read or has none; BAD_FILE with everything that is wrong in them
 */
export function documentsIn(folder: string): ReadonlyMap<string, string> {
  let names: readonly string[];
  try {
    names = readdirSync(folder).filter((name) => name.endsWith('.graphql'));
  } catch (error) {
    throw new CasebackError('BAD_INPUT', `The folder of documents, ${folder}, ${troubleOf(error)}`);
  }
  if (names.length === 0)
    throw new CasebackError(
      'BAD_INPUT',
      `The folder of documents, ${folder}, has no file that ends in .graphql; put one document in each, or leave the option out`,
    );
  if (names.length > MOST)
    throw new CasebackError(
      'TOO_LARGE',
      `The folder of documents, ${folder}, has ${names.length}; at most ${MOST}`,
    );
  const problems: Problem[] = [];
  const found = new Map<string, string>();
  for (const name of names.toSorted()) {
    const file = join(folder, name);
    const text = textOf(file, problems);
    if (text === undefined) continue;
    for (const { what, line, column } of mistakesOfDocument(text))
      problems.push({
        file,
        what,
        ...(line !== undefined && { line }),
        ...(column !== undefined && { column }),
      });
    for (const [id, known] of documentIds(text)) found.set(id, known);
  }
  if (problems.length > 0)
    throw new CasebackError('BAD_FILE', `Documents in ${folder} have mistakes`, problems);
  return found;
}

function textOf(file: string, problems: Problem[]): string | undefined {
  try {
    if (statSync(file).size > LARGEST) problems.push({ file, what: 'has more than a megabyte' });
    // A byte order mark belongs to the text whose digest is taken.
    else return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(readFileSync(file));
  } catch (error) {
    problems.push({ file, what: error instanceof TypeError ? 'is not UTF-8' : troubleOf(error) });
  }
  return undefined;
}

function troubleOf(error: unknown): string {
  const trouble = systemTrouble(error);
  if (!trouble) throw error;
  return trouble.what;
}
