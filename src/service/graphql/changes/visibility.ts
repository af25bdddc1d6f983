import { VISIBILITIES, type Visible } from '../../../model/visibility.ts';
import { type EnumName, enumWord } from '../words.ts';

/**
 * Who may see something, as an input says it, in the words of a record.
 * @throws CasebackError BAD_INPUT for another word
 */
export function visibilityIn({
  visibility,
  embargoUntil,
}: {
  readonly visibility?: EnumName<(typeof VISIBILITIES)[number]> | null | undefined;
  readonly embargoUntil?: string | null | undefined;
}): Visible {
  return {
    ...(visibility == null ? {} : { visibility: enumWord(VISIBILITIES, visibility) }),
    ...(embargoUntil == null ? {} : { embargoUntil }),
  };
}
