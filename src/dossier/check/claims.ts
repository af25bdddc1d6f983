import { certainlyBefore } from '../../model/dates.ts';
import { specimenIdOf } from '../../model/dossier.ts';
import type { ArchiveRule } from './context.ts';

/** Inside a piece every claim has its own id; evidence comes before publication. */
export const claimsStandOnEarlierEvidence: ArchiveRule = (documents, _held, report) => {
  const openedOn = new Map<string, string>();
  for (const document of documents) {
    if (document.kind === 'dossier')
      openedOn.set(specimenIdOf(document.dossier), document.dossier.teardown.on);
  }
  for (const document of documents) {
    if (document.kind !== 'catalogue') continue;
    document.catalogue.pieces.forEach((piece, i) => {
      const seen = new Set<string>();
      piece.claims.forEach(({ id, restsOn }, j) => {
        const path = ['pieces', i, 'claims', j];
        if (seen.has(id))
          report(document, [...path, 'id'], `"${id}" is already the id of a claim`, 'choose another');
        seen.add(id);
        restsOn.forEach((on, k) => {
          const at = [...path, 'restsOn', k];
          const opened = openedOn.get(on.split('/').slice(0, 2).join('/'));
          if (
            piece.published === undefined ||
            opened === undefined ||
            !certainlyBefore(piece.published, opened)
          )
            return;
          const what = `published ${piece.published}, but rests on a specimen opened ${opened}`;
          report(document, at, what, 'check both dates', 'caution');
        });
      });
    });
  }
};
