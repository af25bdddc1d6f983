import type { Dossier } from '../../model/dossier.ts';
import type { Path } from '../tree.ts';
import type { DossierRule } from './context.ts';

export type LocalKind = 'component' | 'board' | 'subsystem' | 'observation' | 'photo';

/** Every local id of a dossier with its kind and the path of its declaration, in the order of the file. */
export function localIds(
  dossier: Dossier,
): readonly { readonly id: string; readonly kind: LocalKind; readonly path: Path }[] {
  const lists = [
    ['boards', 'board'],
    ['subsystems', 'subsystem'],
    ['components', 'component'],
    ['observations', 'observation'],
    ['photos', 'photo'],
  ] as const;
  return lists.flatMap(([list, kind]) =>
    dossier[list].map(({ id }, index) => ({ id, kind, path: [list, index, 'id'] })),
  );
}

/** Inside a dossier every local id is given once, whatever the kind; "teardown" is taken. */
export const localIdsAreUnique: DossierRule = (document, report) => {
  const seen = new Map<string, LocalKind | 'teardown'>([['teardown', 'teardown']]);
  for (const { id, kind, path } of localIds(document.dossier)) {
    const before = seen.get(id);
    if (before === undefined) seen.set(id, kind);
    else if (before === 'component' && kind === 'component') {
      report(document, path, `two components are called "${id}"`, 'give each its own reference designator');
    } else report(document, path, `"${id}" is already the id of a ${before}`, 'choose another id');
  }
};
