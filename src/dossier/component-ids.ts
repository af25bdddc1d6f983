import { designatorOf } from '../model/designator.ts';
import type { Component, Dossier, Photo } from '../model/dossier.ts';
import { componentId, componentsMeant, parseLocalId, pinId } from '../model/ids.ts';

// Designators are unique on a board. A file says `id: C1, board: main`; a record has one id for each component of a dossier,
// plain while the designator is unambiguous, else with its board. Once given, an id stays: claims and later records speak of it.

/** The components of a dossier, under other ids. */
type Renaming = (component: Component) => string;

/**
 * A dossier just read, with ids that are unique in it: `C1` where one component has that designator, else `main:C1`.
 * References of either spelling follow; one that fits several stays as it is, and a rule tells of it. So does a designator that
 * a component on no board shares with another.
 */
export function withUniqueIds(dossier: Dossier): Dossier {
  const counts = Map.groupBy(dossier.components, ({ id }) => designatorOf(id));
  return renamed(
    dossier,
    ({ id, board }) => {
      const designator = designatorOf(id);
      // One whose id names another board than its own is told of by a rule.
      if (id !== designator && id !== componentId(board, designator)) return id;
      const alike = counts.get(designator) ?? [];
      const isPlain = alike.length === 1 || alike.some((one) => one.board === undefined);
      return isPlain ? designator : componentId(board, designator);
    },
    'as written',
  );
}

/**
 * A dossier with the ids that its components have in the archive: a component of the same designator and board keeps the id
 * under which it was first recorded, so that a second `C1` on another board takes nothing away from the first. Where the
 * archive tells several apart by their boards, so does what is new.
 */
export function withRecordedIds(dossier: Dossier, held: Dossier | undefined): Dossier {
  if (!held) return dossier;
  return renamed(dossier, ({ id, board }) => {
    const designator = designatorOf(id);
    const before = held.components.filter((one) => designatorOf(one.id) === designator);
    const same = before.find((one) => one.board === board);
    if (same) return same.id;
    return before.some((one) => one.id !== designator) ? componentId(board, designator) : id;
  });
}

/** A dossier as a file has it: designators as printed, references with the board where the designator alone fits several. */
export function withPrintedIds(dossier: Dossier): Dossier {
  const counts = Map.groupBy(dossier.components, ({ id }) => designatorOf(id));
  const explicit = renamed(dossier, ({ id, board }) => {
    const designator = designatorOf(id);
    return counts.get(designator)?.length === 1 ? designator : componentId(board, designator);
  });
  const isPrinted = explicit.components.every(({ id }) => id === designatorOf(id));
  if (isPrinted) return explicit;
  return {
    ...explicit,
    components: explicit.components.map((one) => ({ ...one, id: designatorOf(one.id) })),
  };
}

/**
 * The id in the archive of the component that a reference means.
 * @returns the reference itself where it names no component; the ids with their boards where it fits several
 */
export function recordedId(
  components: readonly Component[],
  reference: string,
): string | { readonly choices: readonly string[] } {
  const meant = componentsMeant(components, reference);
  const ids = new Set(meant.map(({ id }) => id));
  if (ids.size < 2) return meant[0]?.id ?? reference;
  return { choices: meant.map(({ id, board }) => componentId(board, designatorOf(id))) };
}

/**
 * The dossier with every component under a new id, and every reference with it; itself where nothing changes.
 * @param references as written by hand, where a designator alone may fit several components; or by id, where it does not
 */
function renamed(dossier: Dossier, idOf: Renaming, references: 'as written' | 'by id' = 'by id'): Dossier {
  const ids = new Map(dossier.components.map((one) => [one, idOf(one)]));
  const isSame = dossier.components.every((one) => ids.get(one) === one.id);
  if (isSame && !speaksOfBoards(dossier)) return dossier;
  const byDesignator = Map.groupBy(dossier.components, ({ id }) => designatorOf(id));
  const byId = new Map(dossier.components.map((one) => [one.id, one]));
  const to = (reference: string): string => {
    const own = references === 'by id' ? byId.get(reference) : undefined;
    const meant = own ? [own] : componentsMeant(byDesignator.get(designatorOf(reference)) ?? [], reference);
    const found = new Set(meant.map((one) => ids.get(one) as string));
    return found.size === 1 ? [...found][0] : reference;
  };
  return mapReferences(
    { ...dossier, components: dossier.components.map((one) => ({ ...one, id: ids.get(one) as string })) },
    to,
  );
}

/** Whether some reference names a board with the component. */
function speaksOfBoards(dossier: Dossier): boolean {
  let found = false;
  mapReferences(dossier, (reference) => {
    const parsed = parseLocalId(reference);
    found ||= parsed?.form === 'component' && parsed.board !== undefined;
    return reference;
  });
  return found;
}

function mapReferences(dossier: Dossier, to: (reference: string) => string): Dossier {
  return {
    ...dossier,
    components: dossier.components.map((one) =>
      one.inside === undefined ? one : { ...one, inside: to(one.inside) },
    ),
    connections: dossier.connections.map((one) => ({
      ...one,
      between: [to(one.between[0]), to(one.between[1])] as [string, string],
    })),
    ...(dossier.nets
      ? { nets: dossier.nets.map((one) => ({ ...one, pins: one.pins.map((pin) => ofPin(pin, to)) })) }
      : {}),
    observations: dossier.observations.map((one) => withReferences(one, to)),
    identifications: dossier.identifications.map((one) => ({ ...one, component: to(one.component) })),
    ...(dossier.judgements
      ? { judgements: dossier.judgements.map((one) => ({ ...one, component: to(one.component) })) }
      : {}),
    photos: dossier.photos.map((one) => withShown(one, to)),
  };
}

/** A photo with the components that its regions show under other ids. */
export function withShown(photo: Photo, to: (reference: string) => string): Photo {
  return { ...photo, regions: photo.regions.map((region) => ({ ...region, of: to(region.of) })) };
}

/** A pin, or a component whose pin is not known, with its component under another id. */
function ofPin(reference: string, to: (component: string) => string): string {
  const parsed = parseLocalId(reference);
  if (parsed?.form !== 'pin') return to(reference);
  return pinId(to(componentId(parsed.board, parsed.designator)), parsed.pin);
}

/** An observation with the components that it names under other ids. */
export function withReferences<
  O extends { readonly about: string[]; readonly leadsTo?: string[] | undefined },
>(observation: O, to: (reference: string) => string): O {
  const { about, leadsTo } = observation;
  return { ...observation, about: about.map(to), ...(leadsTo ? { leadsTo: leadsTo.map(to) } : {}) };
}
