import { certainlyBefore } from '../../model/dates.ts';
import type { Path } from '../document/document.ts';
import type { DossierRule } from './context.ts';

/** A specimen is bought, then opened, then looked at; a correction comes after what it corrects. */
export const benchDatesAreInOrder: DossierRule = (document, report) => {
  const { specimen, teardown, observations } = document.dossier;
  const order = (before: string | undefined, after: string | undefined, path: Path, what: string) => {
    if (before === undefined || after === undefined || !certainlyBefore(after, before)) return;
    report(document, path, `${what}: ${after} lies before ${before}`, 'check both dates');
  };
  order(specimen.bought, teardown.on, ['teardown', 'on'], 'opened before it was bought');
  const seenOn = new Map(observations.map(({ id, on }) => [id, on]));
  observations.forEach(({ on, kind, corrects }, i) => {
    const path = ['observations', i, 'on'];
    // What shows from outside may be seen before the specimen is opened.
    if (kind !== 'condition' && kind !== 'x-ray' && kind !== 'appearance' && kind !== 'measurement') {
      order(teardown.on, on, path, 'seen before the specimen was opened');
    }
    if (corrects !== undefined) order(seenOn.get(corrects), on, path, `seen before what it corrects`);
  });
};
