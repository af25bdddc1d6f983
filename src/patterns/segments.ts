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
import type { Condition, IsOneOf } from '../nets/conditions.ts';
import { type LinksByWorld, linksByWorld } from '../nets/links-by-world.ts';
import { busOf } from '../nets/signal-paths.ts';
import type { PartOf } from '../state/pins.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import { readBits, writtenBits } from '../statistics/bits.ts';
import { type Alternatives, alternativesIn } from './worlds.ts';

// What the pattern engine sees of the archive, in the labels of the design's vocabulary: a segment for each
// specimen, which answers are grouped by, and one for each maker, product line and part, which others point to.
// Lengths on boards are numbers in mm; parameters are numbers in the unit of schema/taxonomy.yaml.

const NO_LABELS: ReadonlyMap<string, number> = new Map();

/**
 * Segment of one specimen.
 * @param device given when the device's node belongs here
 * @param partOf parts of the catalogue, for their pins
 * @param alternatives what its doubtful components may be, by local id
 */
export function specimenSegment(
  specimen: OpenedSpecimen,
  deviceId: string,
  device: Device | undefined,
  partOf: PartOf,
  alternatives: ReadonlyMap<string, Alternatives> = alternativesIn(
    specimen,
    (part) => partOf(part)?.categories,
  ),
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
  const left = addNets(specimen, partOf, alternatives, at, nodes, edges);
  const unworked = Object.fromEntries(
    SORTS.flatMap((sort) => (left[sort] > 0 ? [[LEFT + sort, left[sort]]] : [])),
  );
  const properties = { ...specimenProperties(specimen), ...unworked };
  nodes.push({ id, labels: ['Specimen'], properties });
  return { nodes, edges };
}

/**
 * Nets with their pins, and what follows from them (`nets/`), in every world.
 * @returns probability of combinations that were not worked out
 */
function addNets(
  specimen: OpenedSpecimen,
  partOf: PartOf,
  alternatives: ReadonlyMap<string, Alternatives>,
  at: (localId: string) => string,
  nodes: NodeInput[],
  edges: EdgeInput[],
): LinksByWorld['left'] {
  const { likeliest, joins, sharedNets, feeds, paths, buses, left } = linksByWorld(
    specimen,
    alternatives,
    partOf,
  );
  for (const conductor of likeliest.wiring.conductors) {
    const { at: place, net, voltage, members } = conductor;
    if (!net) continue;
    const { id, label, kind, complete } = net;
    const bus = kind === 'signal' ? busOf([conductor]) : net.bus;
    const rail = likeliest.rails.get(place);
    nodes.push({
      id: at(id),
      labels: ['Net'],
      properties: { id, name: label, kind, voltage, bus, rail, complete, members: members.length },
    });
  }
  const join = (
    label: string,
    [source, target]: readonly [string, string],
    when: Condition,
    properties: Properties,
    directed = false,
  ) =>
    edges.push({
      source: at(source),
      target: at(target),
      label,
      directed,
      uncertain: when !== true,
      properties: { ...properties, ...condition(when, at) },
    });
  for (const { link, when } of joins) {
    const { component, net, pin, name, function: means } = link;
    join('JOINS', [net, component], when, { pin, name, function: means }, true);
  }
  for (const { link, when } of sharedNets) {
    const { ends, lines, bus, net } = link;
    join('SHARES_NET', ends, when, { lines, bus, net });
  }
  for (const { link, when } of paths) {
    const { ends, lines, bus, through, ways, crosses } = link;
    const passed = ways[0].through.length;
    join('SIGNAL_PATH', ends, when, { lines, bus, through: listed(through), passed, crosses });
  }
  for (const { link, when } of buses)
    join('SHARES_BUS', link.ends, when, { lines: link.lines, bus: link.bus });
  for (const { link, when } of feeds) {
    const { source, load, voltage, output, supply, switched, through } = link;
    const properties = {
      voltage,
      output,
      supply,
      switched,
      through: listed(through),
      passed: through.length,
    };
    join('FEEDS', [source, load], when, properties, true);
  }
  return left;
}

/** Property that no text can name: what components have to be for an edge to be there. */
const WHEN = 'when: ';
/** Properties of a specimen that no text can name: probability that its links of a sort differ from those in the graph. */
const LEFT = 'left: ';
const SORTS = ['signal', 'supply'] as const;
/** Labels of the links that may differ. */
const LABELS = { signal: ['SHARES_NET', 'SHARES_BUS', 'SIGNAL_PATH'], supply: ['FEEDS'] } as const;

function condition(when: Condition, at: (localId: string) => string): Properties {
  if (when === true) return {};
  return {
    [WHEN]: JSON.stringify(when.map((all) => all.map(({ id, bits }) => [at(id), writtenBits(bits)]))),
  };
}

/**
 * When an edge that follows from nets is there, by ids of the graph and bit sets of what these may be: one of the lists holds, which
 * asks all that is in it.
 */
export function whenOf(edge: Pick<MatchedEdge, 'property'>): readonly (readonly IsOneOf[])[] {
  const when = edge.property(WHEN);
  return typeof when === 'string'
    ? (JSON.parse(when) as [string, number | string][][]).map((all) =>
        all.map(([id, written]) => ({ id, bits: readBits(written) })),
      )
    : [[]];
}

/**
 * Upper bound of the probability that links between components of a specimen that a text asks for differ from those in the graph.
 * @param asks whether the text asks for edges of some labels
 * @param property of the specimen
 */
export function leftOf(
  asks: (labels: readonly string[]) => boolean,
  property: (key: string) => unknown,
): number {
  const left = SORTS.reduce((sum, sort) => {
    const own = property(LEFT + sort);
    return typeof own === 'number' && asks(LABELS[sort]) ? sum + own : sum;
  }, 0);
  return Math.min(1, left);
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
    case 'listMappings':
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
