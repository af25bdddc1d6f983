import type { Row } from '../../export/rows.ts';
import { isMarked, type Visible } from '../../model/visibility.ts';

/** The column that says who may see a record. */
export function visibilityText({ visibility, embargoUntil }: Partial<Visible>): Row {
  return { visible: embargoUntil === undefined ? (visibility ?? '') : `${visibility} until ${embargoUntil}` };
}

/** The same for a list in which few say anything of their own: no column where all is as public as what it stands in. */
export function visibilityColumn(all: readonly Visible[]): (one: Visible) => Row {
  return all.some(isMarked) ? visibilityText : () => ({});
}
