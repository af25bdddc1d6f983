import { COLLECTIONS, type DeviceRecord, described, recordId } from '../../model/catalogue.ts';
import { specimenIdOf } from '../../model/dossier.ts';
import type { Path, ReadDocument } from '../document/document.ts';
import { same } from '../document/same.ts';
import type { ArchiveRule, Held } from './context.ts';
import { KIND_WORDS } from './words.ts';

interface Declared {
  readonly word: string;
  readonly content: unknown;
  readonly document: ReadDocument;
  readonly path: Path;
}

/**
 * One space of ids: a maker, product line, part, device, source, publication or pattern shares its id with nothing else,
 * and what two files say about one id is the same.
 */
export const globalIdsAreUnique: ArchiveRule = (documents, held, report) => {
  const seen = new Map<string, Declared>();
  const declare = (id: string, now: Declared) => {
    const { word, document, path } = now;
    const before = seen.get(id);
    const kindBefore = before?.word ?? kindHeld(held, id);
    if (kindBefore !== undefined && kindBefore !== word) {
      report(document, path, `"${id}" is already the id of a ${kindBefore}`, 'choose another id');
    } else if (before && word === 'specimen') {
      report(
        document,
        path,
        `specimen "${id}" is also in ${placeOf(before)}`,
        'give each specimen its own id',
      );
    } else if (before && before.document === document) {
      report(document, path, `${word} "${id}" is also at ${placeOf(before)}`, 'describe it once');
    } else if (before && !same(before.content, now.content)) {
      report(document, path, `${word} "${id}" is described differently at ${placeOf(before)}`, fixFor(word));
    }
    if (!before) seen.set(id, now);
  };
  for (const document of documents) {
    if (document.kind === 'catalogue') {
      for (const collection of COLLECTIONS) {
        document.catalogue[collection].forEach((record, i) => {
          const path = [collection, i];
          declare(recordId(collection, record), {
            word: KIND_WORDS[collection],
            content: collection === 'devices' ? described(record as DeviceRecord) : record,
            document,
            path,
          });
        });
      }
      continue;
    }
    const { dossier } = document;
    const { device } = dossier;
    if (typeof device !== 'string') {
      declare(device.id, { word: 'device', content: device, document, path: ['device'] });
    }
    declare(specimenIdOf(dossier), {
      word: 'specimen',
      content: dossier,
      document,
      path: ['specimen', 'id'],
    });
  }
};

function fixFor(word: string): string {
  return word === 'device'
    ? 'describe it in one place and write only its id in the others'
    : 'describe it once';
}

function placeOf({ document, path }: Declared): string {
  return `${document.file}:${document.locate(path).line}`;
}

/** What the archive has under an id. Its content may change, so only the kind counts. */
function kindHeld(held: Held, id: string): string | undefined {
  const collection = COLLECTIONS.find((one) => held.record(one, id) !== undefined);
  return collection && KIND_WORDS[collection];
}
