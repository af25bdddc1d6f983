import { citationText, sourceItem } from '../citation/csl.ts';
import type { Feed, Maker, NamedPattern, Part, ProductLine, Source } from '../model/catalogue.ts';
import { partIdOf } from '../model/catalogue.ts';
import type { Device } from '../model/dossier.ts';
import type { ListMapping } from '../model/list-mapping.ts';
import { PARAMETERS } from '../model/taxonomy.ts';
import type { Visible } from '../model/visibility.ts';
import {
  body,
  dated,
  type LinkedNode,
  type Linking,
  nothingLeft,
  pins,
  quantity,
  some,
  typed,
} from './nodes.ts';
import { recordIri } from './places.ts';

// Records of the catalogue.

export function makerNode(link: Linking, maker: Maker): LinkedNode {
  const { id, name, makes, country, invented, note, visibility, embargoUntil, ...rest } = maker;
  nothingLeft(rest);
  return {
    id: recordIri(id),
    ...typed('Maker'),
    name,
    makes,
    country,
    invented,
    note,
    ...link.marks({ visibility, embargoUntil }),
  };
}

export function productLineNode(link: Linking, line: ProductLine): LinkedNode {
  const { id, name, maker, note, visibility, embargoUntil, ...rest } = line;
  nothingLeft(rest);
  return {
    id: recordIri(id),
    ...typed('ProductLine'),
    name,
    maker: link.to(maker),
    note,
    ...link.marks({ visibility, embargoUntil }),
  };
}

/** @param marks who may see it by itself */
export function deviceNode(link: Linking, device: Device, marks: Visible): LinkedNode {
  const { id, name, maker, productLine, released, bodySite, mass, dimensions, ...more } = device;
  const { price, ingress, regulatoryIds, succeeds, invented, note, ...rest } = more;
  nothingLeft(rest);
  return {
    id: recordIri(id),
    ...typed('Device'),
    name,
    manufacturer: link.to(maker),
    inLine: link.to(productLine),
    released: dated(released),
    bodySite,
    mass: quantity(mass),
    ...(dimensions && sizes(dimensions)),
    priceAtRelease: price && priceNode(price),
    ingress,
    identifier: some(
      regulatoryIds.map(({ scheme, id: given, ...left }) => {
        nothingLeft(left);
        return { type: 'schema:PropertyValue', propertyId: scheme, textValue: given };
      }),
    ),
    succeeds: link.toAll(succeeds),
    invented,
    note,
    ...link.marks(marks),
  };
}

function priceNode({ amount, currency, ...rest }: NonNullable<Device['price']>): LinkedNode {
  nothingLeft(rest);
  return { type: 'schema:PriceSpecification', price: amount, currency };
}

function sizes({ length, width, height, ...rest }: NonNullable<Device['dimensions']>): LinkedNode {
  nothingLeft(rest);
  return { length: quantity(length), width: quantity(width), height: quantity(height) };
}

export function partNode(link: Linking, part: Part): LinkedNode {
  const { number, maker, name, categories, package: packageName, pins: pinCount, pinout, ...more } = part;
  const { body: size, markings, introduced, discontinued, relabels, parameters, note, ...marked } = more;
  const { visibility, embargoUntil, ...rest } = marked;
  nothingLeft(rest);
  const id = partIdOf(part);
  return {
    id: recordIri(id),
    ...typed('Part'),
    partNumber: number,
    manufacturer: link.to(maker),
    name: name ?? number,
    kind: link.toAll(categories),
    package: packageName,
    pinCount,
    pin: pins(pinout, (one) => recordIri(id, one)),
    ...body(size),
    knownMarking: some(markings),
    released: dated(introduced),
    discontinued: dated(discontinued),
    relabels: link.to(relabels),
    parameter: some(Object.entries(parameters).flatMap(([name, value]) => parameterNode(name, value))),
    note,
    ...link.marks({ visibility, embargoUntil }),
  };
}

function parameterNode(name: string, value: Part['parameters'][string] | undefined): readonly LinkedNode[] {
  if (value === undefined) return [];
  const named = { propertyId: name, note: PARAMETERS.get(name)?.is };
  if (typeof value === 'object') return [{ ...quantity(value, 'schema:PropertyValue'), ...named }];
  if (typeof value === 'number')
    return [{ type: 'schema:PropertyValue', ...named, value, unitCode: 'UCUM:1' }];
  return [{ type: 'schema:PropertyValue', ...named, textValue: value }];
}

export function sourceNode(link: Linking, source: Source): LinkedNode {
  const { id, kind, title, url, licence, accessed, note, visibility, embargoUntil, ...rest } = source;
  nothingLeft(rest);
  return {
    id: recordIri(id),
    ...typed('Source'),
    kindOfThing: kind,
    name: title,
    // As text: not every address that people write is an IRI.
    address: url,
    licence,
    accessed: dated(accessed),
    citation: citationText(sourceItem(source)),
    note,
    ...link.marks({ visibility, embargoUntil }),
  };
}

export function patternNode(link: Linking, pattern: NamedPattern): LinkedNode {
  const { id, name, idea, scope, text, reasons, against, strength, check, note, ...marked } = pattern;
  const { visibility, embargoUntil, ...rest } = marked;
  nothingLeft(rest);
  return {
    id: recordIri(id),
    ...typed('Pattern'),
    name,
    idea,
    scope,
    patternText: text,
    possibleReason: some(reasons),
    against: some(against),
    strength,
    check,
    note,
    ...link.marks({ visibility, embargoUntil }),
  };
}

export function feedNode(link: Linking, feed: Feed): LinkedNode {
  const { id, title, question, variables, rows, maxAge, origins, note, visibility, embargoUntil, ...rest } =
    feed;
  nothingLeft(rest);
  return {
    id: recordIri(id),
    ...typed('Feed'),
    name: title,
    question,
    variables: Object.keys(variables).length > 0 ? variables : undefined,
    rows,
    maxAgeSeconds: maxAge,
    origin: some(origins),
    note,
    ...link.marks({ visibility, embargoUntil }),
  };
}

export function listMappingNode(link: Linking, mapping: ListMapping): LinkedNode {
  const { id, title, columns, sheet, headingRow, decimal, unit, note, visibility, embargoUntil, ...rest } =
    mapping;
  nothingLeft(rest);
  return {
    id: recordIri(id),
    ...typed('ListMapping'),
    name: title,
    columns,
    sheet,
    headingRow,
    decimalSign: decimal,
    lengthUnit: unit,
    note,
    ...link.marks({ visibility, embargoUntil }),
  };
}
