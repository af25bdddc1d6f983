import { CasebackError } from '../model/problems.ts';

/** Characters of a name. */
const LONGEST = 100;

/** Names that are no person's: the demo archive is written by `demo`. */
const RESERVED: ReadonlySet<string> = new Set(['demo']);

/**
 * A name as people and the journal bear it: on one line, single blanks, composed (Unicode NFC).
 * @throws CasebackError BAD_INPUT for a text that cannot be a name
 */
export function personName(written: string): string {
  const name = written.normalize('NFC').trim();
  if (name === '')
    throw new CasebackError('BAD_INPUT', 'the name is empty; write the name that the journal shows');
  if (name.length > LONGEST)
    throw new CasebackError('BAD_INPUT', `the name has ${name.length} characters; at most ${LONGEST}`);
  // Controls, and format characters such as those that turn the direction of writing, would make one name look like another.
  if (/[\p{C}\p{Zl}\p{Zp}]/u.test(name) || /[\p{Zs}]{2}|[^\S ]/u.test(name))
    throw new CasebackError(
      'BAD_INPUT',
      'the name has characters that are not seen, or blanks side by side; write letters, digits, marks and single blanks',
    );
  if (RESERVED.has(nameKey(name)))
    throw new CasebackError('BAD_INPUT', `"${name}" is the name of the demo archive; choose another`);
  return name;
}

/** What two spellings of one name have in common, so that nobody gets a name that reads like another's. */
export function nameKey(name: string): string {
  return name.normalize('NFKC').toLowerCase().trim();
}
