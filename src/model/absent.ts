import { didYouMean } from '../text/near.ts';
import { CasebackError } from './problems.ts';

/**
 * That nothing visible has an id, with the nearest ids that something has.
 * @param what such as `device`
 * @param known ids that the asker may see, and no others
 */
export function absent(what: string, id: string, known: Iterable<string>): CasebackError {
  const near = didYouMean(id, known);
  return new CasebackError(
    'NOT_FOUND',
    `No ${what} "${id}" is in the archive${near === undefined ? '' : `; ${near}`}`,
  );
}

/** The ids of things. */
export function* idsOf(things: Iterable<{ readonly id: string }>): Generator<string> {
  for (const { id } of things) yield id;
}
