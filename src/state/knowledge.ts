import type { MultiDirectedGraph } from 'graphology';
import {
  type CatalogueRecord,
  type Collection,
  claimIdOf,
  type Part,
  type ProductLine,
  type Publication,
  recordId,
} from '../model/catalogue.ts';
import { type Device, type Dossier, deviceIdOf, specimenIdOf } from '../model/dossier.ts';
import { TEARDOWN, thingId } from '../model/ids.ts';

// The knowledge layer: one graphology graph of what stands above single components. A node is known by its
// global id and carries `label`; one that is named before it is described carries label `Unknown`.
// Edges a node sends out belong to it: describing it again replaces them and touches nothing else.

const LABELS: { readonly [C in Collection]: string } = {
  makers: 'Maker',
  productLines: 'ProductLine',
  devices: 'Device',
  parts: 'Part',
  sources: 'Source',
  publications: 'Publication',
  patterns: 'Pattern',
};

/** Ids of the things that a node is linked from by edges of a label, such as the claims `SUPPORTED_BY` an observation. */
export function linkedFrom(graph: MultiDirectedGraph, id: string, label: string): readonly string[] {
  if (!graph.hasNode(id)) return [];
  return graph
    .inEdges(id)
    .filter((edge) => graph.getEdgeAttribute(edge, 'label') === label)
    .map((edge) => graph.source(edge));
}

type Link = readonly [label: string, target: string];

export function putRecord(graph: MultiDirectedGraph, collection: Collection, record: CatalogueRecord): void {
  const id = recordId(collection, record);
  const { name, title } = record as { name?: string; title?: string };
  describe(graph, id, LABELS[collection], name ?? title ?? id, linksOf(collection, record));
  if (collection === 'publications') {
    for (const claim of (record as Publication).claims) {
      const claimId = claimIdOf({ id }, claim);
      describe(
        graph,
        claimId,
        'Claim',
        claim.sentence,
        claim.supportedBy.map((on) => ['SUPPORTED_BY', on] as const),
      );
    }
  }
}

function linksOf(collection: Collection, record: CatalogueRecord): readonly Link[] {
  switch (collection) {
    case 'productLines':
      return [['MADE_BY', (record as ProductLine).maker]];
    case 'parts': {
      const { maker, relabels } = record as Part;
      return [['MADE_BY', maker], ...(relabels ? [['RELABELS', relabels] as const] : [])];
    }
    case 'publications':
      return (record as Publication).claims.map((claim) => [
        'ASSERTS',
        claimIdOf(record as Publication, claim),
      ]);
    case 'devices':
    case 'makers':
    case 'sources':
    case 'patterns':
      return [];
    default:
      return collection satisfies never;
  }
}

export function putDevice(graph: MultiDirectedGraph, device: Device): void {
  describe(graph, device.id, 'Device', device.name, [
    ['MADE_BY', device.maker],
    ...(device.productLine ? [['IN_LINE', device.productLine] as const] : []),
    ...device.succeeds.map((id) => ['SUCCEEDS', id] as const),
  ]);
}

/** The specimen and its teardown. Which parts it may hold stands in the state's `holders`. */
export function putSpecimen(graph: MultiDirectedGraph, dossier: Dossier): void {
  const id = specimenIdOf(dossier);
  const teardown = thingId(id, TEARDOWN);
  describe(graph, id, 'Specimen', id, [
    ['SPECIMEN_OF', deviceIdOf(dossier)],
    ['OPENED_IN', teardown],
    ...citedBy(dossier).map((cited) => ['CITES', cited] as const),
  ]);
  describe(graph, teardown, 'Teardown', `Opened ${dossier.teardown.on}`, []);
}

/** Sentences and sources that observations and identifications lean on. */
function citedBy({ observations, identifications }: Dossier): readonly string[] {
  const cited = [...observations, ...identifications].flatMap(({ cites = [] }) => cites);
  return [...new Set(cited)];
}

/** Makes or renews a node and replaces the edges it sends out. */
function describe(
  graph: MultiDirectedGraph,
  id: string,
  label: string,
  name: string,
  links: readonly Link[],
): void {
  graph.mergeNode(id, { label, name });
  for (const edge of graph.outEdges(id)) graph.dropEdge(edge);
  for (const [edgeLabel, target] of links) link(graph, id, edgeLabel, target);
}

function link(graph: MultiDirectedGraph, from: string, label: string, to: string): void {
  if (!graph.hasNode(to)) graph.addNode(to, { label: 'Unknown', name: to });
  graph.addEdge(from, to, { label });
}

export type KnowledgeLabel = (typeof LABELS)[Collection] | 'Specimen' | 'Teardown' | 'Claim';
