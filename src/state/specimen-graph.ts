import { MultiGraph } from 'graphology';
import { thingId } from '../model/ids.ts';
import type { OpenedSpecimen } from './specimen.ts';

/**
 * The graph of one opened specimen, in the labels of the design's vocabulary: boards, subsystems, components,
 * observations, photos, and the parts that components may be. Nodes are known by global id and carry `label`;
 * edges carry `label`. CONNECTS is undirected, all others directed. Built when asked for, kept while warm.
 */
export function buildSpecimenGraph({
  id: specimenId,
  dossier,
  joined,
  identified,
}: OpenedSpecimen): MultiGraph {
  const graph = new MultiGraph({ type: 'mixed' });
  const at = (localId: string) => thingId(specimenId, localId);
  const link = (from: string, label: string, to: string, more: object = {}) =>
    graph.addDirectedEdge(from, to, { label, ...more });

  graph.addNode(specimenId, { label: 'Specimen', ...dossier.specimen });
  for (const board of dossier.boards) {
    graph.addNode(at(board.id), { label: 'Board', ...board });
    link(specimenId, 'HAS_BOARD', at(board.id));
  }
  for (const subsystem of dossier.subsystems) {
    graph.addNode(at(subsystem.id), { label: 'Subsystem', ...subsystem });
    link(at(subsystem.id), 'PART_OF', specimenId);
  }
  for (const component of dossier.components) {
    graph.addNode(at(component.id), { label: 'Component', ...component });
  }
  for (const { id, board, subsystem, inside } of dossier.components) {
    if (board) link(at(id), 'ON', at(board));
    if (subsystem) link(at(id), 'PART_OF', at(subsystem));
    if (inside) link(at(id), 'PART_OF', at(inside));
  }
  for (const { between, medium, bus, lines } of joined) {
    graph.addUndirectedEdge(at(between[0]), at(between[1]), { label: 'CONNECTS', medium, bus, lines });
  }
  for (const photo of dossier.photos) graph.addNode(at(photo.id), { label: 'Photo', ...photo });
  for (const observation of dossier.observations) {
    graph.addNode(at(observation.id), { label: 'Observation', ...observation });
  }
  for (const { id, about, photo, corrects } of dossier.observations) {
    for (const thing of about) link(at(id), 'ABOUT', at(thing));
    if (photo) link(at(id), 'SUPPORTED_BY', at(photo));
    if (corrects) link(at(id), 'CORRECTS', at(corrects));
  }
  for (const [component, { candidates, state, basis }] of identified) {
    for (const { part, probability } of candidates) {
      if (part === undefined) continue;
      graph.mergeNode(part, { label: 'Part' });
      link(at(component), 'IDENTIFIED_AS', part, { probability, state, basis });
    }
  }
  return graph;
}
