import { COLLECTIONS, recordId } from '../../model/catalogue.ts';
import { longestText, TEXT_SIZES } from '../../model/text-sizes.ts';
import { steeringCharacter } from '../../text/plain-text.ts';
import type { Path, ReadDocument } from '../document/document.ts';
import type { ArchiveRule, DossierRule, Report } from './context.ts';

/** Texts of a dossier have an end, and nothing in them that is not seen. */
export const textsOfDossiersArePlain: DossierRule = (document, report) =>
  checkTexts({ document, report }, document.dossier, undefined, []);

/** Texts of catalogues likewise; what the archive holds already is only cautioned, as rules of dossiers are. */
export const textsOfCataloguesArePlain: ArchiveRule = (documents, held, report) => {
  for (const document of documents) {
    if (document.kind !== 'catalogue') continue;
    for (const collection of COLLECTIONS) {
      document.catalogue[collection].forEach((record, i) => {
        const before = held.record(collection, recordId(collection, record));
        checkTexts({ document, report }, record, before, [collection, i]);
      });
    }
  }
};

interface Reporting {
  readonly document: ReadDocument;
  readonly report: Report;
}

/**
 * Whatever is inside a value, whose depth the schemas bound.
 * @param before what the archive holds in its place
 */
function checkTexts(to: Reporting, value: unknown, before: unknown, path: Path): void {
  if (typeof value === 'string') {
    checkText(to, value, before, path);
  } else if (Array.isArray(value)) {
    const list = Array.isArray(before) ? before : [];
    for (let i = 0; i < value.length; i++) checkTexts(to, value[i], list[i], [...path, i]);
  } else if (typeof value === 'object' && value !== null) {
    const group = (before ?? {}) as Readonly<Record<string, unknown>>;
    for (const [key, inner] of Object.entries(value)) {
      if (key.length > TEXT_SIZES.key || steeringCharacter(key) !== undefined)
        to.report(to.document, path, 'has a field name that is too long or not all seen', 'choose another');
      else checkTexts(to, inner, group[key], [...path, key]);
    }
  }
}

function checkText({ document, report }: Reporting, text: string, before: unknown, path: Path): void {
  const severity = text === before ? 'caution' : 'error';
  const most = longestText(path.findLast((step) => typeof step === 'string'));
  if (text.length > most) {
    const what = `has ${text.length.toLocaleString('en')} characters; at most ${most.toLocaleString('en')} are taken`;
    report(document, path, what, 'shorten it', severity);
  }
  const steering = steeringCharacter(text);
  if (steering !== undefined) {
    const what = `holds the character ${steering}, which is not seen and changes how the text is shown`;
    report(document, path, what, 'delete it, or type the text anew', severity);
  }
}
