import { isNoDifference, type ReadersDifference } from '../../state/visibility/readers-difference.ts';

/** Ids shown of each list. */
const SHOWN = 5;

/**
 * What a change makes of what readers see, a sentence for each way: `Readers see 3 more: a, b, c`. None where nothing was written.
 * @param would whether the change is only tried out
 */
export function readersSentences(difference: ReadersDifference, would = false): readonly string[] {
  const { added, changed, gone } = difference;
  if (isNoDifference(difference)) return [`Readers ${would ? 'would see' : 'see'} no difference`];
  const [see, lose] = would ? ['would see', 'would no longer see'] : ['see', 'no longer see'];
  return [
    ...(added.length > 0 ? [`Readers ${see} ${added.length} more: ${named(added)}`] : []),
    ...(changed.length > 0 ? [`Readers ${see} ${changed.length} changed: ${named(changed)}`] : []),
    ...(gone.length > 0 ? [`Readers ${lose} ${gone.length}: ${named(gone)}`] : []),
  ];
}

function named(ids: readonly string[]): string {
  const shown = ids.slice(0, SHOWN).join(', ');
  const more = ids.length - SHOWN;
  return more > 0 ? `${shown} and ${more} ${more === 1 ? 'other' : 'others'}` : shown;
}
