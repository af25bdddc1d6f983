import type { Path, ReadDocument } from '../document/document.ts';
import type { ArchiveRule, Report } from './context.ts';

/** An embargo has an end, and an end belongs to an embargo: of dossiers, devices and publications. */
export const embargoesEnd: ArchiveRule = (documents, _held, report) => {
  for (const document of documents) {
    if (document.kind === 'dossier') checkEmbargo(document, [], document.dossier, report);
    else
      for (const collection of ['devices', 'publications'] as const)
        document.catalogue[collection].forEach((record, i) =>
          checkEmbargo(document, [collection, i], record, report),
        );
  }
};

function checkEmbargo(
  document: ReadDocument,
  path: Path,
  { visibility, embargoUntil }: { readonly visibility: string; readonly embargoUntil?: string },
  report: Report,
): void {
  if (visibility === 'embargoed' && embargoUntil === undefined) {
    const fix = 'add its end, such as embargoUntil: 2026-12-15T09:00:00Z';
    report(document, [...path, 'visibility'], 'is embargoed without an end', fix);
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
