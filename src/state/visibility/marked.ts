import { COLLECTIONS, type Publication } from '../../model/catalogue.ts';
import { isMarked, type Visible } from '../../model/visibility.ts';
import type { Facts } from '../facts.ts';

/** Ids of what is draft or under embargo, as a whole or in part, or has a version that stands for it meanwhile. */
export function* markedIn({
  records,
  specimens,
  standingRecords,
  standingSpecimens,
}: Facts): Generator<string> {
  const isHiding = (thing: Visible & { readonly claims?: Publication['claims'] }) =>
    isMarked(thing) || thing.claims?.some(isMarked);
  for (const [id, row] of specimens) if (isMarked(row) || row.marks.some(isMarked)) yield id;
  yield* standingSpecimens.keys();
  for (const collection of COLLECTIONS)
    for (const [id, record] of records[collection]) if (isHiding(record as Visible)) yield id;
  yield* standingRecords.keys();
}
