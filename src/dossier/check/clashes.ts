import { COLLECTIONS, recordId } from '../../model/catalogue.ts';
import { specimenIdOf } from '../../model/dossier.ts';
import type { ReadDocument } from '../read.ts';
import type { Path } from '../tree.ts';
import type { ArchiveRule, Held } from './context.ts';

/**
 * One space of ids: a maker, product line, part, device, source, piece or pattern shares its id with nothing else,
 * and what two files say about one id is the same.
 */
export const globalIdsAreUnique: ArchiveRule = (documents, held, report) => {
  const seen = new Map<string, { kind: string; text: string; file: string }>();
  const declare = (document: ReadDocument, path: Path, kind: string, id: string, content: unknown) => {
    const text = JSON.stringify(content);
    const before = seen.get(id) ?? heldAs(held, id);
    if (!before) seen.set(id, { kind, text, file: document.file });
    else if (before.kind !== kind)
      report(document, path, `"${id}" is already the id of a ${before.kind}`, 'choose another id');
    else if (before.text !== undefined && before.text !== text) {
      report(
        document,
        path,
        `"${id}" is described otherwise in ${before.file}`,
        'describe it once, or alike',
      );
    } else if (before.text !== undefined && kind === 'specimen') {
      report(
        document,
        path,
        `specimen "${id}" is also in ${before.file}`,
        'give each specimen of a device its own id',
      );
    }
  };
  for (const document of documents) {
    if (document.kind === 'catalogue') {
      for (const collection of COLLECTIONS) {
        document.catalogue[collection].forEach((record, i) => {
          declare(document, [collection, i], KINDS[collection], recordId(collection, record), record);
        });
      }
    } else {
      const { dossier } = document;
      if (typeof dossier.device !== 'string')
        declare(document, ['device'], 'device', dossier.device.id, dossier.device);
      declare(document, ['specimen', 'id'], 'specimen', specimenIdOf(dossier), dossier);
    }
  }
};

const KINDS = {
  makers: 'maker',
  families: 'product line',
  parts: 'part',
  sources: 'source',
  pieces: 'piece',
  patterns: 'pattern',
} as const;

/** What the archive has under an id. Its content may change, so only the kind counts. */
function heldAs(held: Held, id: string): { kind: string; text?: undefined; file: string } | undefined {
  const file = 'the archive';
  for (const collection of COLLECTIONS)
    if (held.record(collection, id)) return { kind: KINDS[collection], file };
  return held.device(id) ? { kind: 'device', file } : undefined;
}
