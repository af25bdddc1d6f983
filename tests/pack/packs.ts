import type { Pack } from '../../src/pack/pack.ts';
import { type PackWishes, packOfPublication } from '../../src/questions/packs.ts';
import { PACK_PAGES } from '../../src/service/pages/pack-preview.ts';
import type { State } from '../../src/state/state.ts';

/** A name as long as a sealed one. */
const NAME = 'A'.repeat(64);

/** A pack as the command makes it, of a named state at an instant. */
export function packAt(
  view: State,
  publication: string,
  instant: string,
  wishes: Partial<PackWishes> = {},
): Promise<Pack> {
  return packOfPublication(view, publication, {
    state: { instant, name: NAME },
    pages: PACK_PAGES,
    ...wishes,
  });
}

/** Text of a file of a pack. @throws Error where it has none of that path */
export function textIn({ files }: Pick<Pack, 'files'>, path: string): string {
  const found = files.find((file) => file.path === path);
  if (!found) throw new Error(`the pack has no ${path}`);
  return Buffer.from(found.content).toString('utf8');
}
