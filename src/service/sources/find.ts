import { localThing, type OpenedSpecimen } from '../../state/specimen.ts';
import type { View } from '../../state/view.ts';
import {
  claimSource,
  deviceSource,
  makerSource,
  maybe,
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
  TEARDOWN,
  teardownSource,
} from './specimen.ts';

/**
 * Whatever visible thing has a global id, or null. Ids say by their form where to look: `device`,
 * `device/specimen`, `device/specimen/U3`, `maker/part`, `publication/claim`, `device:pattern`, and plain ids of records.
 * Whether a pattern fits a device takes work: ask {@link ifItStands} of the answer.
 */
export function findNode(view: View, id: string) {
  const parts = id.split('/');
  if (parts.length === 1) return id.includes(':') ? possibleDecision(view, id) : findRecord(view, id);
  if (parts.length === 2) {
    const opened = view.specimen(id);
    if (opened) return specimenSource(view, opened);
    return maybe(view, view.part(id), partSource) ?? findClaim(view, parts[0], parts[1]);
  }
  const opened = parts.length === 3 ? view.specimen(`${parts[0]}/${parts[1]}`) : undefined;
  return opened ? findInside(view, opened, parts[2]) : null;
}

function findRecord(view: View, id: string) {
  return (
    maybe(view, view.device(id), deviceSource) ??
    maybe(view, view.maker(id), makerSource) ??
    maybe(view, view.productLine(id), productLineSource) ??
    maybe(view, view.publication(id), publicationSource) ??
    maybe(view, view.pattern(id), patternSource) ??
    maybe(view, view.source(id), sourceSource)
  );
}

function findClaim(view: View, publicationId: string, claimId: string) {
  const publication = view.publication(publicationId);
  const claim = publication?.claims.find(({ id }) => id === claimId);
  return publication && claim ? claimSource(view, publication, claim) : null;
}

/** The component, board, observation, photo or subsystem with a local id, or null. */
export function findInside(view: View, opened: OpenedSpecimen, localId: string) {
  const found = localThing(opened, localId);
  switch (found?.kind) {
    case 'Component':
      return componentSource(view, opened, found.thing);
    case 'Board':
      return boardSource(view, opened, found.thing);
    case 'Observation':
      return observationSource(view, opened, found.thing);
    case undefined:
      break;
    default:
      return found satisfies never;
  }
  const { photos, subsystems } = opened.dossier;
  const photo = photos.find(({ id }) => id === localId);
  if (photo) return photoSource(view, opened, photo);
  const subsystem = subsystems.find(({ id }) => id === localId);
  if (subsystem) return subsystemSource(view, opened, subsystem);
  return localId === TEARDOWN ? teardownSource(view, opened) : null;
}

/** Things with the given local ids; ids that name nothing are left out. */
export function findAllInside(view: View, opened: OpenedSpecimen, localIds: readonly string[]) {
  return localIds.flatMap((id) => findInside(view, opened, id) ?? []);
}
