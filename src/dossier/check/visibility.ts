import type { DossierRule } from './context.ts';

/** An embargo has an end, and an end belongs to an embargo. */
export const embargoesEnd: DossierRule = (document, report) => {
  const { visibility, embargoUntil } = document.dossier;
  if (visibility === 'embargoed' && embargoUntil === undefined) {
    report(
      document,
      ['visibility'],
      'is embargoed without an end',
      'add embargoUntil: "2026-12-15T09:00:00Z"',
    );
  }
  if (visibility !== 'embargoed' && embargoUntil !== undefined) {
    report(
      document,
      ['embargoUntil'],
      `has no effect while visibility is ${visibility}`,
      'write visibility: embargoed',
    );
  }
};
