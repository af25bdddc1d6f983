import { instant } from '../../model/fields.ts';
import { VISIBILITIES, type Visible } from '../../model/visibility.ts';
import { quoted, UsageError } from '../frame/exit.ts';
import { choice, readBy } from '../frame/options.ts';

/** Who may see what a command records. */
export const VISIBILITY_OPTIONS = {
  visibility: choice('VISIBILITY', VISIBILITIES, {
    help: 'who may see it: all, the desk alone (draft), or all from an instant on (embargoed; default: whoever sees what it stands in)',
  }),
  embargoUntil: readBy(
    'INSTANT',
    'until when readers do not see it, such as 2026-12-15T09:00:00Z; means --visibility embargoed',
    instantIn,
  ),
};

/** @throws UsageError for an embargo without an end, or an end without an embargo */
export function visibilityFrom({ visibility, embargoUntil }: Visible): Visible {
  if (visibility === 'embargoed' && embargoUntil === undefined)
    throw new UsageError('--visibility embargoed needs an end; give it with --embargo-until');
  if (embargoUntil !== undefined) {
    if (visibility !== undefined && visibility !== 'embargoed')
      throw new UsageError(
        `--embargo-until does not go with --visibility ${visibility}; give one of the two`,
      );
    return { visibility: 'embargoed', embargoUntil };
  }
  return visibility === undefined ? {} : { visibility };
}

function instantIn(written: string, option: string): string {
  if (instant.safeParse(written).success) return written;
  throw new UsageError(
    `${option} is ${quoted(written)}; write an instant as 2026-12-15T09:00:00Z (ISO 8601 with zone)`,
  );
}
