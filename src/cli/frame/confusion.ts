import { readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import type { Archive } from '../../archive.ts';
import { decodeText } from '../../dossier/decode.ts';
import { problemsOf } from '../../dossier/issues.ts';
import { limited } from '../../dossier/limited.ts';
import { readTree } from '../../dossier/tree.ts';
import { type Confusion, confusionOf, confusionSchema } from '../../identification/confusion.ts';
import { setConfusion } from '../../identification/questions.ts';
import { CasebackError, type Problem } from '../../model/problems.ts';
import { systemTrouble } from '../../text/system-trouble.ts';
import { CONFUSION, hasConfusion } from './data-folder.ts';

/**
 * The confusion table to use: the file of the option, else the data folder's own, else undefined.
 * @throws CasebackError BAD_FILE that names file, line, field and fix
 */
export function confusionFor(folder: string, given?: string): Confusion | undefined {
  if (given !== undefined) return readConfusion(given);
  return hasConfusion(folder) ? readConfusion(join(folder, CONFUSION)) : undefined;
}

/** Uses a table instead of the standard one, where there is another. */
export function followConfusion(archive: Archive, confusion: Confusion | undefined): void {
  if (confusion) setConfusion(archive.state('desk'), confusion);
}

function readConfusion(path: string): Confusion {
  const file = relative('.', path).startsWith('..') ? path : relative('.', path);
  let bytes: Uint8Array;
  try {
    bytes = readFileSync(path);
  } catch (error) {
    const trouble = systemTrouble(error);
    if (!trouble) throw error;
    throw refused([{ file, what: trouble.what, fix: 'name a YAML file with a confusion table' }]);
  }
  const decoded = decodeText(bytes, file);
  if ('problem' in decoded) throw refused([decoded.problem]);
  if (decoded.text.trim() === '')
    throw refused([{ file, what: 'is empty', fix: 'begin with a copy of schema/confusions.yaml' }]);
  const read = readTree(decoded.text, file);
  if ('problems' in read) throw refused(read.problems);
  const { tree } = read;
  const value = tree.value(confusionSchema);
  const checked = confusionSchema.safeParse(value);
  const found = checked.success ? [] : problemsOf(checked.error.issues, value, confusionSchema, tree, file);
  const problems = [...tree.problems, ...found];
  if (!checked.success || problems.length > 0) throw refused(problems);
  return confusionOf(checked.data);
}

function refused(problems: readonly Problem[]): CasebackError {
  const count = problems.length === 1 ? '1 problem' : `${problems.length} problems`;
  return new CasebackError('BAD_FILE', `the confusion table has ${count}`, limited(problems));
}
