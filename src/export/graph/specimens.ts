import { designatorOf } from '../../model/designator.ts';
import type { Candidate, Identification } from '../../model/dossier.ts';
import { componentMeant, pinOf, TEARDOWN, thingId } from '../../model/ids.ts';
import { stepNumber } from '../../model/photo-region.ts';
import type { SpecimenRow } from '../../state/facts.ts';
import { localIdsOf, type OpenedSpecimen } from '../../state/specimen.ts';
import type { State } from '../../state/state.ts';
import { link, shown, withoutId } from './records.ts';
import type { ExportEdge, ExportNode, Loss, Piece } from './things.ts';

// One specimen as nodes and edges: what was seen as it is on record, what was concluded with its probability, and nothing that is
// calculated from either.

/** A specimen with all that lies in it. @throws Error for an id that the state does not have */
export function specimenPiece(state: State, id: string, lose: (loss: Loss) => void): Piece {
  const row = state.specimenRow(id) as SpecimenRow;
  const specimen = state.peek(row);
  const { dossier } = specimen;
  const within = { device: row.deviceId, specimen: id };
  const at = placesIn(specimen);
  const nodes: ExportNode[] = [];
  const edges: ExportEdge[] = [];
  const add = (local: string, kind: string, name: string | undefined, thing: object) =>
    nodes.push({ id: thingId(id, local), kind, name, ...within, details: shown(state, withoutId(thing)) });
  /** An edge inside the dossier. */
  const join = (
    source: string,
    label: string,
    local: string,
    details?: Readonly<Record<string, unknown>>,
  ) => {
    const target = at(local);
    if (target === undefined)
      lose({
        record: source,
        field: label,
        why: `names ${local}, which the dossier does not have; the edge is left out`,
      });
    else edges.push(link(source, label, target, details));
  };

  const {
    caseback: _,
    device: __,
    specimen: unit,
    teardown,
    boards,
    subsystems,
    components,
    ...rest
  } = dossier;
  const { connections, nets = [], observations, identifications, judgements = [], photos, ...own } = rest;
  nodes.push({
    id,
    kind: 'Specimen',
    name: id,
    ...within,
    details: { ...withoutId(unit), ...(Object.keys(own).length > 0 ? { dossier: shown(state, own) } : {}) },
  });
  edges.push(link(id, 'SPECIMEN_OF', row.deviceId));
  add(TEARDOWN, 'Teardown', `teardown of ${id}`, teardown);
  edges.push(link(id, 'OPENED_IN', thingId(id, TEARDOWN)));
  for (const board of boards) {
    add(board.id, 'Board', board.name ?? board.id, board);
    edges.push(link(id, 'HAS_BOARD', thingId(id, board.id)));
    if (board.stackedOn) join(thingId(id, board.id), 'STACKED_ON', board.stackedOn);
  }
  for (const subsystem of subsystems) {
    add(subsystem.id, 'Subsystem', subsystem.name ?? subsystem.kind, subsystem);
    edges.push(link(thingId(id, subsystem.id), 'PART_OF', id));
  }
  for (const component of components) {
    const own = thingId(id, component.id);
    add(component.id, 'Component', designatorOf(component.id), component);
    edges.push(link(own, 'PART_OF', id));
    if (component.board)
      join(own, 'ON', component.board, component.side ? { side: component.side } : undefined);
    if (component.subsystem) join(own, 'IN_SUBSYSTEM', component.subsystem);
    if (component.inside) join(own, 'INSIDE', component.inside);
    if (component.appears) edges.push(link(own, 'APPEARS_AS', component.appears));
  }
  for (const { between, ...connection } of connections) {
    const [source, target] = between.map(at);
    if (source === undefined || target === undefined)
      lose({
        record: id,
        field: 'connections',
        why: `joins ${between.join(' and ')}, of which one is not on record; the edge is left out`,
      });
    else edges.push({ source, label: 'CONNECTS', target, directed: false, details: { ...connection } });
  }
  for (const net of nets) {
    add(net.id, 'Net', net.label ?? net.id, net);
    edges.push(link(thingId(id, net.id), 'PART_OF', id));
    for (const written of net.pins) {
      const { component, pin } = pinOf(written);
      join(thingId(id, net.id), 'JOINS', component, pin === undefined ? undefined : { pin });
    }
  }
  for (const photo of photos) {
    add(photo.id, 'Photo', photo.caption ?? photo.file ?? photo.id, photo);
    edges.push(link(thingId(id, photo.id), 'PART_OF', id));
    for (const { of, ...place } of photo.regions) {
      const step = at(of) === undefined ? stepNumber(of) : undefined;
      if (step !== undefined && step <= teardown.steps.length)
        join(thingId(id, photo.id), 'SHOWS', TEARDOWN, { step, ...place });
      else join(thingId(id, photo.id), 'SHOWS', of, place);
    }
  }
  for (const observation of observations) {
    const own = thingId(id, observation.id);
    add(
      observation.id,
      'Observation',
      observation.text ?? observation.marking ?? observation.kind,
      observation,
    );
    edges.push(link(own, 'PART_OF', id));
    for (const about of observation.about) join(own, 'ABOUT', about);
    for (const end of observation.leadsTo ?? []) join(own, 'LEADS_TO', end);
    if (observation.photo) join(own, 'SHOWN_IN', observation.photo);
    if (observation.corrects) join(own, 'CORRECTS', observation.corrects);
    for (const cited of observation.cites ?? []) edges.push(link(own, 'CITES', cited));
  }
  for (const [i, identification] of identifications.entries())
    edges.push(...identificationEdges(state, specimen, identification, i + 1));
  for (const { component, part, ...judgement } of judgements)
    edges.push(link(at(component) ?? thingId(id, component), 'JUDGED', part, judgement));
  return { nodes, edges };
}

/** Rival candidates, each an edge with its probability; what they leave to 1 stays unknown. */
function identificationEdges(
  state: State,
  specimen: OpenedSpecimen,
  identification: Identification,
  number: number,
): readonly ExportEdge[] {
  const { component, candidates, ...said } = identification;
  const isCurrent = specimen.identified.get(component) === identification;
  return candidates.map((candidate) => {
    const { target, ...more } = targetOf(candidate);
    return {
      source: thingId(specimen.id, component),
      label: 'IDENTIFIED_AS',
      target,
      directed: true,
      probability: candidate.probability,
      details: { identification: number, counts: isCurrent, ...more, ...shown(state, said) },
    };
  });
}

/** The most specific thing that a candidate names. */
function targetOf({ part, category, maker }: Candidate): { readonly target: string } & Partial<Candidate> {
  if (part !== undefined)
    return { target: part, ...(category ? { category } : {}), ...(maker ? { maker } : {}) };
  if (category !== undefined) return { target: category, ...(maker ? { maker } : {}) };
  return { target: maker as string };
}

/** Global ids by what a dossier calls its things, in either spelling. */
function placesIn(specimen: OpenedSpecimen): (local: string) => string | undefined {
  const known = new Set(localIdsOf(specimen));
  return (local) => {
    if (known.has(local)) return thingId(specimen.id, local);
    const { component } = pinOf(local);
    if (local === specimen.id) return specimen.id;
    const meant = componentMeant(specimen.dossier.components, component);
    return meant && thingId(specimen.id, meant.id);
  };
}
