import { certainlyBefore } from '../../model/dates.ts';
import type { Path } from '../document/document.ts';
import type { DossierRule } from './context.ts';

/** A specimen is bought, then opened, then looked at, then identified; a correction or withdrawal comes after what it is of. */
export const benchDatesAreInOrder: DossierRule = (document, report) => {
  const { specimen, teardown, observations, identifications } = document.dossier;
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
    const withdrawn = observations[i].withdrawn?.on.slice(0, 10);
    order(on, withdrawn, ['observations', i, 'withdrawn', 'on'], 'withdrawn before it was seen');
  });
  identifications.forEach(({ on, basis, component }, i) => {
    for (const id of basis)
      order(
        seenOn.get(id),
        on,
        ['identifications', i, 'on'],
        `${component} is identified before "${id}", which shows it, was seen`,
      );
  });
};
