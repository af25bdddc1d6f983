import { fixed } from '../../text/rounding.ts';
import type { DossierRule } from './context.ts';

/** Tolerance for rounding and measuring, in mm. */
const SLACK = 0.5;

/** What a module or package holds lies on the same board and within its body. */
export const contentsLieWithinTheirModule: DossierRule = (document, report) => {
  const components = new Map(document.dossier.components.map((one) => [one.id, one]));
  document.dossier.components.forEach(({ id, inside, board, at }, i) => {
    const holder = inside === undefined ? undefined : components.get(inside);
    if (!holder || holder.id === id) return;
    if (board !== undefined && holder.board !== undefined && board !== holder.board) {
      const what = `${id} is inside ${holder.id} but on board "${board}", and ${holder.id} is on "${holder.board}"`;
      report(
        document,
        ['components', i, 'board'],
        what,
        `leave "board" out of ${id}, or correct one of the two`,
      );
      return;
    }
    if (!at || !holder.at || !holder.body) return;
    // However the module is turned, nothing in it lies further from its centre than half its diagonal.
    const reach = Math.hypot(holder.body.length, holder.body.width) / 2 + SLACK;
    const off = Math.hypot(at.x - holder.at.x, at.y - holder.at.y);
    if (off <= reach) return;
    const what = `${id} is inside ${holder.id} but ${fixed(off, 1)} mm from its centre, further than its body reaches`;
    report(
      document,
      ['components', i, 'at'],
      what,
      `check the places of ${id} and ${holder.id}, and the body of ${holder.id}`,
    );
  });
};
