import type { EdgeInput, MatchedEdge, NodeInput, Properties, SegmentInput } from '../gql/gql.ts';
import type { Board, Outline } from '../model/board.ts';
import { cornersOfBody } from '../model/body.ts';
import {
  type CatalogueRecord,
  type Collection,
  type Maker,
  type Part,
  type ProductLine,
  recordId,
} from '../model/catalogue.ts';
import { yearOf } from '../model/dates.ts';
import { designatorOf } from '../model/designator.ts';
import type { Component, Device } from '../model/dossier.ts';
import { thingId } from '../model/ids.ts';
import { areaOf, depthInside, extentOf } from '../model/outline.ts';
import { type Quantity, valueIn } from '../model/quantity.ts';
import { PARAMETERS } from '../model/taxonomy.ts';
import { type Need, needsOfFeed, needsOfPath } from '../nets/needs.ts';
import { derivedNets } from '../nets/nets.ts';
import { busOf } from '../nets/signal-paths.ts';
import type { PartOf } from '../state/pins.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';

// What the pattern engine sees of the archive, in the labels of the design's vocabulary: a segment for each
// specimen, which answers are grouped by, and one for each maker, product line and part, which others point to.
// Lengths on boards are numbers in mm; parameters are numbers in the unit of schema/taxonomy.yaml.

const NO_LABELS: ReadonlyMap<string, number> = new Map();

/**
 * Segment of one specimen.
 * @param device given when the device's node belongs here
 * @param partOf parts of the catalogue, for their pins
 */
export function specimenSegment(
  specimen: OpenedSpecimen,
  deviceId: string,
  device: Device | undefined,
  partOf: PartOf,
): SegmentInput {
  const { id, dossier, labels, identified } = specimen;
  // One string for each id: the engine looks ids up by the string, which is quicker for one it has seen.
  const ids = new Map<string, string>();
  const at = (localId: string) => {
    let known = ids.get(localId);
    if (known === undefined) {
      known = thingId(id, localId);
      ids.set(localId, known);
    }
    return known;
  };
  const nodes: NodeInput[] = [];
  const edges: EdgeInput[] = [];
  const link = (source: string, label: string, target: string, properties?: Properties) =>
    edges.push({ source, label, target, directed: true, properties });

  if (device) addDevice(device, nodes, link);
  nodes.push({ id, labels: ['Specimen'], properties: specimenProperties(specimen) });
  link(id, 'SPECIMEN_OF', deviceId);

  for (const board of dossier.boards) {
    const { id: localId, kind, name, layers, outline } = board;
    const { length, width } = outline ? extentOf(outline) : {};
    const area = outline && areaOf(outline);
    nodes.push({
      id: at(localId),
      labels: ['Board'],
      properties: { id: localId, kind, name, layers, length, width, area },
    });
    link(id, 'HAS_BOARD', at(localId));
    if (board.stackedOn) link(at(localId), 'STACKED_ON', at(board.stackedOn));
  }
  for (const { id: localId, kind, name } of dossier.subsystems) {
    nodes.push({ id: at(localId), labels: ['Subsystem'], properties: { id: localId, kind, name } });
    link(at(localId), 'PART_OF', id);
  }
  for (const component of specimen.fitted) {
    const board = component.board === undefined ? undefined : specimen.boards.get(component.board);
    nodes.push({
      id: at(component.id),
      labels: labels.get(component.id) ?? NO_LABELS,
      properties: componentProperties(id, component, board),
    });
    if (component.board) link(at(component.id), 'ON', at(component.board), { side: component.side });
    if (component.subsystem) link(at(component.id), 'PART_OF', at(component.subsystem));
    if (component.inside) link(at(component.id), 'PART_OF', at(component.inside));
    const identification = identified.get(component.id);
    for (const { part, probability } of identification?.candidates ?? []) {
      if (part !== undefined && probability > 0) {
        edges.push({
          source: at(component.id),
          label: 'IDENTIFIED_AS',
          target: part,
          uncertain: probability < 1,
          properties: { probability, state: identification?.state },
        });
      }
    }
  }
  for (const { between, medium, bus, lines } of specimen.joined) {
    const [source, target] = between.map(at);
    edges.push({ source, target, label: 'CONNECTS', directed: false, properties: { medium, bus, lines } });
  }
  addNets(specimen, partOf, at, nodes, edges);
  return { nodes, edges };
}

/** Nets with their pins, and what follows from them (`nets/`). */
function addNets(
  specimen: OpenedSpecimen,
  partOf: PartOf,
  at: (localId: string) => string,
  nodes: NodeInput[],
  edges: EdgeInput[],
): void {
  const { wiring, sharedNets, feeds, rails, paths, buses } = derivedNets(specimen, partOf);
  const { labels } = specimen;
  for (const conductor of wiring.conductors) {
    const { at: place, net, voltage, members } = conductor;
    if (!net) continue;
    const { id, label, kind, complete } = net;
    const bus = kind === 'signal' ? busOf([conductor]) : net.bus;
    const rail = rails.get(place);
    nodes.push({
      id: at(id),
      labels: ['Net'],
      properties: { id, name: label, kind, voltage, bus, rail, complete, members: members.length },
    });
    for (const { role, number, name, function: means } of members) {
      edges.push({
        source: at(id),
        target: at(role.id),
        label: 'JOINS',
        directed: true,
        properties: { pin: number, name, function: means },
      });
    }
  }
  const join = (
    label: string,
    [a, b]: readonly [string, string],
    properties: Properties,
    needs: readonly Need[] = [],
  ) =>
    edges.push({
      source: at(a),
      target: at(b),
      label,
      directed: false,
      uncertain: needs.length > 0,
      properties: { ...properties, ...needed(needs, at) },
    });
  for (const { ends, lines, bus, net } of sharedNets) join('SHARES_NET', ends, { lines, bus, net });
  for (const path of paths) {
    const { ends, lines, bus, through, ways, crosses } = path;
    const passed = ways[0].through.length;
    const properties = { lines, bus, through: listed(through), passed, crosses };
    join('SIGNAL_PATH', ends, properties, needsOfPath(path, labels));
  }
  for (const { ends, lines, bus } of buses) join('SHARES_BUS', ends, { lines, bus });
  for (const feed of feeds) {
    const { source, load, voltage, output, supply, switched, through } = feed;
    const needs = needsOfFeed(feed, labels);
    edges.push({
      source: at(source),
      target: at(load),
      label: 'FEEDS',
      directed: true,
      uncertain: needs.length > 0,
      properties: {
        voltage,
        output,
        supply,
        switched,
        through: listed(through),
        passed: through.length,
        ...needed(needs, at),
      },
    });
  }
}

/** Property that no text can name: what components have to be for the edge to be there. */
const NEEDS = 'needs: ';

function needed(needs: readonly Need[], at: (localId: string) => string): Properties {
  if (needs.length === 0) return {};
  return { [NEEDS]: JSON.stringify(needs.map((need) => ({ ...need, id: at(need.id) }))) };
}

/** What components have to be, by their ids in the graph, for an edge to be there. */
export function needsOf(edge: MatchedEdge): readonly Need[] {
  const needs = edge.property(NEEDS);
  return typeof needs === 'string' ? (JSON.parse(needs) as Need[]) : [];
}

/** Ids as one text, since patterns compare texts and numbers. */
function listed(ids: readonly string[]): string | undefined {
  return ids.length > 0 ? ids.join(', ') : undefined;
}

function addDevice(
  device: Device,
  nodes: NodeInput[],
  link: (source: string, label: string, target: string) => void,
): void {
  const { id, name, maker, productLine, released, bodySite, mass, price, ingress } = device;
  nodes.push({
    id,
    labels: ['Device'],
    properties: {
      id,
      name,
      released,
      year: yearOf(released),
      bodySite,
      mass: mass && valueIn(mass, 'g'),
      price: price?.amount,
      currency: price?.currency,
      ingress,
    },
  });
  link(id, 'MADE_BY', maker);
  if (productLine) link(id, 'IN_LINE', productLine);
  for (const predecessor of device.succeeds) link(id, 'SUCCEEDS', predecessor);
}

function specimenProperties({ id, dossier }: OpenedSpecimen): Properties {
  const { revision, region, condition } = dossier.specimen;
  return { id, revision, region, condition, openedOn: dossier.teardown.on };
}

function componentProperties(specimen: string, component: Component, on: Board | undefined): Properties {
  const { id, board, side, at, rotation, body, pins, value, marking, note } = component;
  return {
    specimen,
    designator: designatorOf(id),
    board,
    side,
    x: at?.x,
    y: at?.y,
    rotation,
    package: component.package,
    pins,
    length: body?.length,
    width: body?.width,
    height: body?.height,
    value,
    edge: on?.outline && edgeDistance(component, on.outline),
    marking,
    note,
  };
}

/** Distance of a body from the nearest edge of its board, cut-outs included, mm. */
function edgeDistance(component: Component, outline: Outline): number | undefined {
  const corners = cornersOfBody(component);
  return corners && Math.min(...corners.map((corner) => depthInside(outline, corner)));
}

/** Segment of a catalogue record, or undefined for records that patterns do not see. */
export function recordSegment(collection: Collection, record: CatalogueRecord): SegmentInput | undefined {
  const id = recordId(collection, record);
  switch (collection) {
    case 'makers': {
      const { name, country } = record as Maker;
      return ungrouped([{ id, labels: ['Maker'], properties: { id, name, country } }]);
    }
    case 'productLines': {
      const { name, maker } = record as ProductLine;
      const node = { id, labels: ['ProductLine'], properties: { id, name } };
      return ungrouped([node], [{ source: id, label: 'MADE_BY', target: maker }]);
    }
    case 'parts': {
      const { maker, relabels } = record as Part;
      const edges: EdgeInput[] = [{ source: id, label: 'MADE_BY', target: maker }];
      if (relabels) edges.push({ source: id, label: 'RELABELS', target: relabels });
      return ungrouped([{ id, labels: ['Part'], properties: partProperties(record as Part) }], edges);
    }
    // In the segment of its first specimen.
    case 'devices':
    case 'sources':
    case 'publications':
    case 'patterns':
    case 'feeds':
      return undefined;
    default:
      return collection satisfies never;
  }
}

function ungrouped(nodes: readonly NodeInput[], edges: readonly EdgeInput[] = []): SegmentInput {
  return { nodes, edges, grouped: false };
}

function partProperties(part: Part): Properties {
  const { number, name, pins, introduced, parameters, categories } = part;
  const numbers = Object.entries(parameters).map(([parameter, value]) => {
    const unit = PARAMETERS.get(parameter)?.unit;
    return [
      parameter,
      unit ? valueIn(value as Quantity, unit) : (value as string | number | boolean),
    ] as const;
  });
  return {
    number,
    name,
    maker: part.maker,
    package: part.package,
    pins,
    introduced,
    category: categories[0],
    ...Object.fromEntries(numbers),
  };
}
