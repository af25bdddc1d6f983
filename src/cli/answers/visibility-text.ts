import type { Row } from '../../export/rows.ts';
import { isMarked, type Visible } from '../../model/visibility.ts';
import type { Recall } from '../../state/facts.ts';

/**
 * The column that says who may see a record.
 * @param recalled who recalled it, where it was and nothing was filed since
 */
export function visibilityText(
  { visibility, embargoUntil }: Partial<Visible>,
  recalled?: Recall['made'],
): Row {
  if (recalled) return { visible: `recalled on ${recalled.on.slice(0, 10)} by ${recalled.by}` };
  return { visible: embargoUntil === undefined ? (visibility ?? '') : `${visibility} until ${embargoUntil}` };
}

/** The same for a list in which few say anything of their own: no column where all is as public as what it stands in. */
export function visibilityColumn(all: readonly Visible[]): (one: Visible) => Row {
  return all.some(isMarked) ? visibilityText : () => ({});
}
