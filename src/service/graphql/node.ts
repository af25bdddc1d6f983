import { parseDecisionId } from '../../model/ids.ts';
import { decisionById } from '../../questions/decisions.ts';
import { resolve } from '../../state/resolve.ts';
import { type LocalThing, localThing, type OpenedSpecimen } from '../../state/specimen.ts';
import type { State } from '../../state/state.ts';
import { componentSource } from './component-sources.ts';
import { type Seen, viewOf } from './context.ts';
import { idIn, readId, viewAt } from './instants.ts';
import type { Resolvers } from './resolver-types.ts';
import {
  claimSource,
  decisionSource,
  deviceSource,
  feedSource,
  listMappingSource,
  makerSource,
  maybe,
  partSource,
  patternSource,
  productLineSource,
  publicationSource,
  sourceSource,
} from './sources.ts';
import {
  boardSource,
  netSource,
  observationSource,
  photoSource,
  specimenSource,
  subsystemSource,
  teardownSource,
} from './specimens/sources.ts';

/**
 * Whatever visible thing is on record under a global id, or null. A decision is on record nowhere: {@link findThing}
 * finds it.
 */
export function findNode(view: State, id: string) {
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
    case 'Feed':
      return feedSource(view, found.thing);
    case 'ListMapping':
      return listMappingSource(view, found.thing);
    case 'Source':
      return sourceSource(view, found.thing);
    case 'Part':
      return partSource(view, found.thing);
    case 'Claim':
      return claimSource(view, found.publication, found.thing);
    case 'Decision':
      return null;
    case 'Specimen': {
      const opened = view.specimen(id);
      return opened ? specimenSource(view, opened) : null;
    }
    case 'Component':
    case 'Board':
    case 'Observation':
    case 'Photo':
    case 'Subsystem':
    case 'Net':
    case 'Teardown':
      return insideSource(view, found.opened, found);
    default:
      return found satisfies never;
  }
}

/** As {@link findNode}, for ids that may be of a decision too: whether its pattern fits takes work. */
export async function findThing(view: State, id: string) {
  return parseDecisionId(id) ? maybe(view, await decisionById(view, id), decisionSource) : findNode(view, id);
}

/** The component, board, net, observation, photo, subsystem or teardown with a local id, or null. */
export function findInside(view: State, opened: OpenedSpecimen, localId: string) {
  const found = localThing(opened, localId);
  return found ? insideSource(view, opened, found) : null;
}

function insideSource(view: State, opened: OpenedSpecimen, found: LocalThing) {
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
    case 'Net':
      return netSource(view, opened, found.thing);
    case 'Teardown':
      return teardownSource(view, opened);
    default:
      return found satisfies never;
  }
}

/** Things with the given local ids; ids that name nothing are left out. */
export function findAllInside(view: State, opened: OpenedSpecimen, localIds: readonly string[]) {
  return localIds.flatMap((id) => findInside(view, opened, id) ?? []);
}

/** The observations of a specimen with the given local ids. */
export function observationsNamed(view: State, opened: OpenedSpecimen, localIds: readonly string[]) {
  return localIds.flatMap((localId) => {
    const found = localThing(opened, localId);
    return found?.kind === 'Observation' ? [observationSource(view, opened, found.thing)] : [];
  });
}

/** An observation of a specimen by its local id, as a view has it; null where it is not to be seen. */
export function observationIn(view: State, specimenId: string, localId: string) {
  const opened = view.specimen(specimenId);
  return opened ? (observationsNamed(view, opened, [localId])[0] ?? null) : null;
}

/** A component of a specimen by its local id, as a view has it; null where it is not to be seen. */
export function componentIn(view: State, specimenId: string, localId: string) {
  const opened = view.specimen(specimenId);
  const component = opened?.components.get(localId);
  return opened && component ? componentSource(view, opened, component) : null;
}

const id = ({ view, id: recorded }: Seen<{ readonly id: string }>) => idIn(view, recorded);

/** Whatever has an id, and the ids of what is on record by itself; what stands in a dossier brings its own. */
export const node: Resolvers = {
  Query: {
    node: async (root, args, context) => {
      const { id: recorded, instant } = readId(args.id);
      const view = instant === undefined ? viewOf(root, context) : await viewAt(context, instant);
      return findThing(view, recorded);
    },
  },
  Device: { id },
  Maker: { id },
  ProductLine: { id },
  Part: { id },
  Publication: { id },
  Claim: { id },
  Source: { id },
  Pattern: { id },
  Feed: { id },
  ListMapping: { id },
  Decision: { id },
};
