import { classOf, designatorOf, parseDesignator } from '../../model/designator.ts';
import type { DossierRule } from './context.ts';

/** Class letters are those of IEEE 315 or in common use; of others nothing is known. One caution for all that share them. */
export const lettersAreKnown: DossierRule = (document, report) => {
  const unknown = new Map<string, { readonly at: number; count: number }>();
  document.dossier.components.forEach(({ id }, at) => {
    const letters = parseDesignator(designatorOf(id))?.letters;
    if (letters === undefined || classOf(letters)) return;
    const group = unknown.get(letters);
    if (group) group.count++;
    else unknown.set(letters, { at, count: 1 });
  });
  for (const [letters, { at, count }] of unknown) {
    const near = nearest(letters);
    const all = count > 1 ? ` (${count} components)` : '';
    const what = `"${letters}"${all} stands for nothing in IEEE 315 or in common use${near}`;
    const fix = 'say with "appears" what it plainly is, or write the letters that are printed';
    report(document, ['components', at, 'id'], what, fix, 'caution');
  }
};

/** What the longest known letters stand for that unknown ones begin with. */
function nearest(letters: string): string {
  for (let length = letters.length - 1; length > 0; length--) {
    const first = letters.slice(0, length);
    const known = classOf(first);
    if (known) return `; "${first}" is ${known.meaning} in ${known.source}`;
  }
  return '';
}
