import { COLLECTIONS } from '../../model/catalogue.ts';
import type { Visible } from '../../model/visibility.ts';
import type { Path, ReadDocument } from '../document/document.ts';
import type { ArchiveRule, Report } from './context.ts';

/** An embargo has an end, and an end belongs to an embargo, of whatever may be hidden. */
export const embargoesEnd: ArchiveRule = (documents, held, report) => {
  const now = held.today ?? new Date().toISOString();
  const checkEmbargo = (document: ReadDocument, path: Path, one: Visible, report: Report) =>
    checkEnd(document, path, one, now, report);
  for (const document of documents) {
    if (document.kind === 'dossier') {
      checkEmbargo(document, [], document.dossier, report);
      document.dossier.identifications.forEach((one, i) => {
        checkEmbargo(document, ['identifications', i], one, report);
      });
      continue;
    }
    for (const collection of COLLECTIONS)
      document.catalogue[collection].forEach((record, i) => {
        checkEmbargo(document, [collection, i], record, report);
      });
    document.catalogue.publications.forEach(({ claims }, i) => {
      claims.forEach((claim, j) => {
        checkEmbargo(document, ['publications', i, 'claims', j], claim, report);
      });
    });
  }
};

function checkEnd(
  document: ReadDocument,
  path: Path,
  { visibility = 'published', embargoUntil }: Visible,
  now: string,
  report: Report,
): void {
  if (visibility === 'embargoed' && embargoUntil === undefined) {
    const fix = 'add its end, such as embargoUntil: 2026-12-15T09:00:00Z';
    report(document, [...path, 'visibility'], 'is embargoed without an end', fix);
  }
  if (
    visibility === 'embargoed' &&
    embargoUntil !== undefined &&
    embargoUntil.slice(0, 10) < now.slice(0, 10)
  ) {
    const what = `the embargo ended on ${embargoUntil}, so that readers see it`;
    report(
      document,
      [...path, 'embargoUntil'],
      what,
      'write visibility: published, or an end to come',
      'caution',
    );
  }
  if (visibility !== 'embargoed' && embargoUntil !== undefined) {
    const what = `has no effect while visibility is ${visibility}`;
    report(
      document,
      [...path, 'embargoUntil'],
      what,
      'write visibility: embargoed, or leave the end out',
      'caution',
    );
  }
}
