import { partIdOf } from '../../model/catalogue.ts';
import { certainlyBefore } from '../../model/dates.ts';
import { circleFrom } from './circle.ts';
import type { ArchiveRule } from './context.ts';
import { recordLookup } from './described.ts';

/** A part is delivered first, then no more; a new label comes after the original, and in no circle. */
export const partsHaveAHistory: ArchiveRule = (documents, held, report) => {
  const partOf = recordLookup('parts', documents, held);
  for (const document of documents) {
    if (document.kind !== 'catalogue') continue;
    document.catalogue.parts.forEach((part, i) => {
      const { introduced, discontinued, relabels } = part;
      if (
        introduced !== undefined &&
        discontinued !== undefined &&
        certainlyBefore(discontinued, introduced)
      ) {
        const what = `last delivered ${discontinued}, before it was first delivered (${introduced})`;
        report(document, ['parts', i, 'discontinued'], what, 'check both dates');
      }
      if (relabels === undefined) return;
      const path = ['parts', i, 'relabels'];
      const id = partIdOf(part);
      const circle = circleFrom(id, (at) => {
        const next = partOf(at)?.relabels;
        return next === undefined ? [] : [next];
      });
      if (circle) {
        const what = `relabelling goes in a circle: ${circle.join(' > ')}`;
        report(document, path, what, 'leave "relabels" out of the original');
      }
      const original = partOf(relabels)?.introduced;
      if (introduced !== undefined && original !== undefined && certainlyBefore(introduced, original)) {
        const what = `first delivered ${introduced}, before the original ${relabels} (${original})`;
        report(document, path, what, 'check both dates and which of the two is the original', 'caution');
      }
    });
  }
};
