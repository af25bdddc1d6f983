import { designatorOf } from '../model/designator.ts';
import { TEARDOWN, thingId } from '../model/ids.ts';
import { stepMeant } from '../photos/step-pictures.ts';
import { localThing, type OpenedSpecimen } from '../state/specimen.ts';
import { inPercent } from '../text/rounding.ts';

/** What a region of a photo shows. */
export interface Shown {
  /** Id of the thing, that of the teardown for a step. */
  readonly id: string;
  /** Place of a step in the order, from 1. */
  readonly step?: number;
  /** In a few words: `U3: quistle/QWR4T10 (70 %)`. */
  readonly label: string;
}

/** What a region shows, by the name that it has there; undefined where the dossier has nothing of that name any more. */
export function shownAs(opened: OpenedSpecimen, of: string): Shown | undefined {
  const found = localThing(opened, of);
  if (!found) {
    const step = stepMeant(opened, of);
    const done = step === undefined ? undefined : opened.dossier.teardown.steps[step - 1];
    return done && step !== undefined
      ? { id: thingId(opened.id, TEARDOWN), step, label: `Step ${step}: ${done.do}` }
      : undefined;
  }
  switch (found.kind) {
    case 'Component':
      return { id: found.id, label: componentLabel(opened, found.thing.id) };
    case 'Board':
      return { id: found.id, label: found.thing.name ?? `${found.thing.kind} board ${found.thing.id}` };
    case 'Subsystem':
      return { id: found.id, label: found.thing.name ?? found.thing.kind };
    default:
      return { id: found.id, label: of };
  }
}

/** A component by its designator, with what it is most likely, which is never said without its probability. */
function componentLabel(opened: OpenedSpecimen, id: string): string {
  const component = opened.components.get(id);
  const designator = designatorOf(id);
  if (component?.fitted === false) return `${designator}, not fitted`;
  const [first] = opened.identified.get(id)?.candidates ?? [];
  const what = first && (first.part ?? first.category ?? first.maker);
  if (first && what !== undefined) return `${designator}: ${what} (${shareText(first.probability)})`;
  return component?.appears === undefined
    ? `${designator}, not identified`
    : `${designator}: ${component.appears}`;
}

/** A probability in percent, never rounded to certainty. */
function shareText(probability: number): string {
  if (probability > 0.99 && probability < 1) return 'over 99 %';
  if (probability < 0.01 && probability > 0) return 'under 1 %';
  return `${inPercent(probability)} %`;
}
