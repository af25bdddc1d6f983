// Packs of publications for readers. The code is loaded on first use.

import type { PackContents, PackPages, PackSettings } from '../pack/contents.ts';
import type { Pack } from '../pack/pack.ts';
import type { PhotoFiles } from '../pack/photos.ts';
import type { PackState } from '../pack/statement.ts';
import type { State } from '../state/state.ts';
import { chartSourceOf } from './charts.ts';
import { archiveCitation } from './citation.ts';

/** What whoever makes a pack decides. */
export interface PackWishes {
  readonly state: PackState;
  readonly pages: PackPages;
  readonly licence?: string | undefined;
  readonly photos?: PhotoFiles | undefined;
}

/**
 * The pack of a publication.
 * @throws CasebackError NOT_FOUND when nothing visible has the id, OUT_OF_BUDGET or UNAVAILABLE of a drawing; the signal's reason
 */
export async function packOfPublication(
  view: State,
  publication: string,
  wishes: PackWishes,
  signal?: AbortSignal,
): Promise<Pack> {
  const { packOf } = await import('../pack/pack.ts');
  return packOf(view, publication, settingsOf(view, wishes), signal);
}

/** What the pack of a publication would hold. @throws CasebackError NOT_FOUND; the signal's reason */
export async function contentsOfPack(
  view: State,
  publication: string,
  wishes: PackWishes,
  signal?: AbortSignal,
): Promise<PackContents> {
  const { contentsOf } = await import('../pack/contents.ts');
  return contentsOf(view, publication, settingsOf(view, wishes), signal);
}

function settingsOf(view: State, wishes: PackWishes): PackSettings {
  const { instant } = wishes.state;
  return {
    ...wishes,
    source: chartSourceOf(view, instant.slice(0, 10)),
    archive: archiveCitation(view, instant),
  };
}
