// Structures that many devices have, and the library of patterns they may go into.

import type { z } from 'zod';
import type { Archive } from '../archive.ts';
import type { NamedPattern, patternSchema } from '../model/catalogue.ts';
import type { Authorship, Entry } from '../model/entry.ts';
import { CasebackError } from '../model/problems.ts';
import type { State } from '../state/state.ts';
import type { Audience } from '../state/visibility/audience.ts';
import type { StructureAnswer, StructureQuestion } from '../structures/answer.ts';
import type { StructureOptions } from '../structures/find-structures.ts';
import { fileRecord } from './file-record.ts';
import { mistakesTold, parseable } from './pattern-mistakes.ts';

/** Structures of components and connections that many visible devices have. @throws CasebackError BAD_INPUT */
export async function structuresOf(
  state: State,
  question: StructureQuestion,
  options: StructureOptions,
): Promise<StructureAnswer> {
  const { findStructures } = await import('../structures/find-structures.ts');
  return findStructures(state, question, options);
}

/**
 * Puts a pattern into the library, journaled with who saved it and why.
 * @throws CasebackError BAD_PATTERN, BAD_INPUT for an invalid record, CONFLICT for an id in use
 */
export function addPattern(
  archive: Archive,
  state: State,
  record: z.input<typeof patternSchema>,
  by: Authorship,
): Promise<{ readonly pattern: NamedPattern; readonly entry: Entry }> {
  return mistakesTold(async () => {
    await parseable(record.text);
    const { newNamedPattern } = await import('../structures/named-pattern.ts');
    const pattern = await newNamedPattern(state, record);
    return { pattern, entry: await savePattern(archive, pattern, by, state.audience) };
  });
}

/**
 * Puts a named pattern into the library; journaled with who and why.
 * @throws CasebackError BAD_FILE when a rule of catalogues is broken, CONFLICT when another has saved the same meanwhile
 */
export async function savePattern(
  archive: Archive,
  pattern: NamedPattern,
  by: Authorship,
  audience: Audience,
): Promise<Entry> {
  const entry = await fileRecord(
    archive,
    { collection: 'patterns', kind: 'pattern', record: pattern },
    by,
    audience,
  );
  if (!entry) throw new CasebackError('CONFLICT', `a pattern "${pattern.id}" is in the library already`);
  return entry;
}
