import { resolve } from '../../state/resolve.ts';
import { type LocalThing, localThing, type OpenedSpecimen } from '../../state/specimen.ts';
import type { View } from '../../state/view.ts';
import {
  claimSource,
  deviceSource,
  makerSource,
  partSource,
  patternSource,
  productLineSource,
  publicationSource,
  sourceSource,
} from './catalogue.ts';
import { componentSource } from './component.ts';
import { possibleDecision } from './decision.ts';
import {
  boardSource,
  observationSource,
  photoSource,
  specimenSource,
  subsystemSource,
  teardownSource,
} from './specimen.ts';

/**
 * Whatever visible thing has a global id, or null. Whether a pattern fits a device takes work: ask {@link ifItStands} of
 * the answer.
 */
export function findNode(view: View, id: string) {
  const found = resolve(view, id);
  switch (found?.kind) {
    case undefined:
      return null;
    case 'Device':
      return deviceSource(view, found.thing);
    case 'Maker':
      return makerSource(view, found.thing);
    case 'ProductLine':
      return productLineSource(view, found.thing);
    case 'Publication':
      return publicationSource(view, found.thing);
    case 'Pattern':
      return patternSource(view, found.thing);
    case 'Source':
      return sourceSource(view, found.thing);
    case 'Part':
      return partSource(view, found.thing);
    case 'Claim':
      return claimSource(view, found.publication, found.thing);
    case 'Decision':
      return possibleDecision(view, id);
    case 'Specimen': {
      const opened = view.specimen(id);
      return opened ? specimenSource(view, opened) : null;
    }
    case 'Component':
    case 'Board':
    case 'Observation':
    case 'Photo':
    case 'Subsystem':
    case 'Teardown':
      return insideSource(view, found.opened, found);
    default:
      return found satisfies never;
  }
}

/** The component, board, observation, photo, subsystem or teardown with a local id, or null. */
export function findInside(view: View, opened: OpenedSpecimen, localId: string) {
  const found = localThing(opened, localId);
  return found ? insideSource(view, opened, found) : null;
}

function insideSource(view: View, opened: OpenedSpecimen, found: LocalThing) {
  switch (found.kind) {
    case 'Component':
      return componentSource(view, opened, found.thing);
    case 'Board':
      return boardSource(view, opened, found.thing);
    case 'Observation':
      return observationSource(view, opened, found.thing);
    case 'Photo':
      return photoSource(view, opened, found.thing);
    case 'Subsystem':
      return subsystemSource(view, opened, found.thing);
    case 'Teardown':
      return teardownSource(view, opened);
    default:
      return found satisfies never;
  }
}

/** Things with the given local ids; ids that name nothing are left out. */
export function findAllInside(view: View, opened: OpenedSpecimen, localIds: readonly string[]) {
  return localIds.flatMap((id) => findInside(view, opened, id) ?? []);
}
