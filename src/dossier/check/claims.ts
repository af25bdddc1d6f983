import { certainlyBefore } from '../../model/dates.ts';
import { specimenIdOf } from '../../model/dossier.ts';
import { specimenNamed } from '../../model/ids.ts';
import type { ArchiveRule } from './context.ts';

/** Inside a publication every claim has its own id; evidence comes before publication. */
export const claimsStandOnEarlierEvidence: ArchiveRule = (documents, _held, report) => {
  const openedOn = new Map<string, string>();
  for (const document of documents) {
    if (document.kind === 'dossier')
      openedOn.set(specimenIdOf(document.dossier), document.dossier.teardown.on);
  }
  for (const document of documents) {
    if (document.kind !== 'catalogue') continue;
    document.catalogue.publications.forEach((publication, i) => {
      const seen = new Set<string>();
      publication.claims.forEach(({ id, supportedBy }, j) => {
        const path = ['publications', i, 'claims', j];
        if (seen.has(id))
          report(document, [...path, 'id'], `"${id}" is already the id of a claim`, 'choose another');
        seen.add(id);
        supportedBy.forEach((on, k) => {
          const at = [...path, 'supportedBy', k];
          const opened = openedOn.get(specimenNamed(on));
          if (
            publication.published === undefined ||
            opened === undefined ||
            !certainlyBefore(publication.published, opened)
          )
            return;
          const what = `published ${publication.published}, but is supported by a specimen opened ${opened}`;
          report(document, at, what, 'check both dates', 'caution');
        });
      });
    });
  }
};
