import { designatorOf } from '../../model/designator.ts';
import type { Dossier } from '../../model/dossier.ts';
import { parseLocalId } from '../../model/ids.ts';
import type { Path } from '../document/document.ts';
import type { DossierRule } from './context.ts';

export type LocalKind = 'component' | 'board' | 'subsystem' | 'net' | 'observation' | 'photo';

/** Every local id of a dossier with its kind and the path of its declaration, in the order of the file. */
export function localIds(
  dossier: Dossier,
): readonly { readonly id: string; readonly kind: LocalKind; readonly path: Path }[] {
  const lists = [
    ['boards', 'board'],
    ['subsystems', 'subsystem'],
    ['components', 'component'],
    ['nets', 'net'],
    ['observations', 'observation'],
    ['photos', 'photo'],
  ] as const;
  return lists.flatMap(([list, kind]) =>
    (dossier[list] ?? []).map(({ id }, index) => ({ id, kind, path: [list, index, 'id'] })),
  );
}

/** A component whose id names a board is on that board. */
export const idsNameTheirBoard: DossierRule = (document, report) => {
  document.dossier.components.forEach(({ id, board }, i) => {
    const parsed = parseLocalId(id);
    if (parsed?.form !== 'component' || parsed.board === undefined || parsed.board === board) return;
    const where = board === undefined ? 'it says of no board that it is on it' : `it is on "${board}"`;
    report(
      document,
      ['components', i, 'id'],
      `"${id}" names board "${parsed.board}", but ${where}`,
      `write id: ${parsed.designator} and board: ${parsed.board}`,
    );
  });
};

/** Inside a dossier every local id is given once, whatever the kind; the specimen's own and "teardown" are taken. */
export const localIdsAreUnique: DossierRule = (document, report) => {
  const seen = new Map<string, { kind: string; path: Path }>([
    ['teardown', { kind: 'teardown', path: ['teardown'] }],
    [document.dossier.specimen.id, { kind: 'specimen', path: ['specimen', 'id'] }],
  ]);
  for (const { id, kind, path } of localIds(document.dossier)) {
    const before = seen.get(id);
    if (before === undefined) {
      seen.set(id, { kind, path });
      continue;
    }
    const { line } = document.locate(before.path);
    if (before.kind === 'component' && kind === 'component') {
      const what = `two components are called "${designatorOf(id)}"; the first is on line ${line}`;
      report(document, path, what, 'give each its own reference designator');
    } else {
      const what = `"${id}" is already the id of the ${before.kind} on line ${line}`;
      report(document, path, what, 'choose another id');
    }
  }
};
