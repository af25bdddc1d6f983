import { z } from 'zod';
import { type NamedPattern, patternSchema } from '../model/catalogue.ts';
import { CasebackError } from '../model/problems.ts';
import { preparedMatches } from '../pattern-texts/prepared.ts';
import type { State } from '../state/state.ts';
import { significant } from '../text/rounding.ts';
import type { FoundStructure } from './answer.ts';

/**
 * A named pattern that may be put into the library: sound as a record, with an id that no pattern has yet and a text
 * that runs over the archive.
 * @throws CasebackError BAD_INPUT for a record that is not sound, CONFLICT for an id that is taken
 * @throws PatternError when the text cannot be searched for over the archive
 */
export async function newNamedPattern(
  state: State,
  record: z.input<typeof patternSchema>,
): Promise<NamedPattern> {
  const read = patternSchema.safeParse(record);
  if (!read.success) {
    const problems = read.error.issues.map(({ path, message }) => ({ path: path.join('.'), what: message }));
    throw new CasebackError(
      'BAD_INPUT',
      `the pattern has a problem: ${z.prettifyError(read.error)}`,
      problems,
    );
  }
  const { id, text } = read.data;
  requireFreeId(state, id);
  await preparedMatches({ text });
  return read.data;
}

/** @throws CasebackError CONFLICT for an id that a pattern has already */
export function requireFreeId(state: State, id: string): void {
  if (state.pattern(id))
    throw new CasebackError('CONFLICT', `a pattern "${id}" is in the library already; choose another id`);
}

/**
 * What to call a structure that recurs until an editor says what it means: honest about being a finding and not yet a
 * judgement, with a strength that says neither yes nor no.
 * @param devices devices looked into
 */
export function proposedPattern(
  id: string,
  { kinds, words, text, support, chance }: FoundStructure,
  devices: number,
): z.input<typeof patternSchema> {
  const lift =
    chance.lift === null
      ? 'chance was not seen to give it'
      : `${significant(chance.lift, 2)} times as often as chance`;
  return {
    id,
    name: listed(kinds),
    idea: `${words} (found by its recurrence, in ${support} of ${devices} devices).`,
    text,
    reasons: ['Not judged yet: it was found because it recurs.'],
    strength: 0.5,
    note: `When it was found, ${support} of ${devices} devices looked into had it, ${lift}.`,
  };
}

/** `Accelerometer, 2 Emitter and Microcontroller`. */
function listed(kinds: readonly string[]): string {
  const items = [...Map.groupBy([...kinds].sort(), (kind) => kind)].map(([kind, all]) =>
    all.length === 1 ? kind : `${all.length} ${kind}`,
  );
  const last = items.pop() as string;
  return items.length === 0 ? `${last} joined` : `${items.join(', ')} and ${last} joined`;
}
