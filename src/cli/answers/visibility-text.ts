import type { Row } from '../../export/rows.ts';
import type { Visible } from '../../model/visibility.ts';

/** The column that says who may see a record. */
export function visibilityText({ visibility, embargoUntil }: Partial<Visible>): Row {
  return { visible: embargoUntil === undefined ? (visibility ?? '') : `${visibility} until ${embargoUntil}` };
}
