import type { Board } from '../model/board.ts';
import { designatorOf } from '../model/designator.ts';
import type { Component, Observation, Photo, Specimen, Teardown, Withdrawal } from '../model/dossier.ts';
import { pinOf, TEARDOWN, thingId } from '../model/ids.ts';
import type { Connection, Net } from '../model/net.ts';
import { stepName, stepNumber } from '../model/photo-region.ts';
import type { SpecimenRow } from '../state/facts.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import { identificationNodes, judgementNodes } from './conclusions.ts';
import { type Inside, insideOf } from './inside.ts';
import {
  agent,
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

// One specimen with all that lies in it. What was seen is an entity that an act of seeing generated; what was concluded is in
// `conclusions.ts`.

/** Everything in a specimen, the specimen first. */
export function specimenNodes(
  link: Linking,
  row: SpecimenRow,
  opened: OpenedSpecimen,
): readonly LinkedNode[] {
  const { id, dossier } = opened;
  const inside = insideOf(link, opened);
  const {
    caseback: _,
    device: __,
    specimen,
    teardown,
    boards,
    subsystems,
    components,
    connections,
    ...more
  } = dossier;
  const { nets = [], observations, identifications, judgements = [], photos, ...own } = more;
  const { visibility, embargoUntil, note, ...rest } = own;
  nothingLeft(rest);
  const here = recordIri(id);
  return [
    {
      id: here,
      ...specimenFields(specimen),
      model: link.to(row.deviceId),
      teardown: inside.at(TEARDOWN),
      note: some([specimen.note, note].flatMap((one) => one ?? [])),
      ...link.marks({ visibility, embargoUntil }),
    },
    teardownNode(inside, thingId(id, TEARDOWN), teardown, here),
    ...boards.map((board) => ({ ...boardNode(inside, board), partOf: here })),
    ...subsystems.map(({ id: local, kind, name, note: said, ...left }) => {
      nothingLeft(left);
      return {
        id: inside.at(local),
        ...typed('Subsystem'),
        name: name ?? kind,
        kindOfThing: kind,
        note: said,
        partOf: here,
      };
    }),
    ...components.map((component) => ({ ...componentNode(inside, component), partOf: here })),
    ...connections.map((connection, i) => connectionNode(inside, connection, i + 1)),
    ...nets.map((net) => ({ ...netNode(inside, net), partOf: here })),
    ...photos.map((photo) => ({ ...photoNode(inside, photo), partOf: here })),
    ...observations.map((observation) => ({ ...observationNode(inside, observation), partOf: here })),
    ...identificationNodes(inside, identifications),
    ...judgementNodes(inside, judgements),
  ];
}

function specimenFields(specimen: Specimen): LinkedNode {
  const { id: _, revision, bought, region, serial, condition, note: __, ...rest } = specimen;
  nothingLeft(rest);
  return {
    ...typed('Specimen'),
    revision,
    bought: dated(bought),
    country: region,
    serialNumber: serial,
    condition,
  };
}

function teardownNode(inside: Inside, id: string, teardown: Teardown, specimen: string): LinkedNode {
  const { on, by, recordedFrom, place, hazards, steps, note, ...rest } = teardown;
  nothingLeft(rest);
  return {
    id: recordIri(id),
    ...typed('Teardown'),
    used: specimen,
    date: dated(on),
    associatedWith: agent(by),
    recordedFrom,
    place,
    hazard: some(hazards),
    step: some(
      steps.map(({ do: does, tool, minutes, destructive, hazards: dangers, photo, ...left }, i) => {
        nothingLeft(left);
        return {
          id: recordIri(id, stepName(i + 1)),
          type: 'Step',
          does,
          tool,
          minutes,
          destructive,
          hazard: some(dangers),
          shownOn: inside.at(photo),
        };
      }),
    ),
    note,
  };
}

function boardNode({ at }: Inside, board: Board): LinkedNode {
  const { id, name, kind, outline, sides, layers, stackedOn, fullyInventoried, fullyTraced, note, ...rest } =
    board;
  nothingLeft(rest);
  return {
    id: at(id),
    ...typed('Board'),
    name: name ?? id,
    kindOfThing: kind,
    outline,
    componentSide: sides,
    layers,
    stackedOn: at(stackedOn),
    fullyInventoried,
    fullyTraced,
    note,
  };
}

function componentNode({ at, partOf, link }: Inside, component: Component): LinkedNode {
  const {
    id,
    printed,
    board,
    side,
    at: place,
    rotation,
    body: size,
    package: packageName,
    ...more
  } = component;
  const {
    pins: pinCount,
    pinout,
    value,
    fitted,
    marking,
    reading,
    appears,
    subsystem,
    inside,
    note,
    ...rest
  } = more;
  nothingLeft(rest);
  return {
    id: at(id),
    ...typed('Component'),
    designator: designatorOf(id),
    designatorPrinted: printed,
    onBoard: at(board),
    side,
    ...(place && placed(place)),
    rotationDegrees: rotation,
    ...body(size),
    package: packageName,
    pinCount,
    pin: pins(pinout, (one) => partOf(id, one)),
    statedValue: value,
    fitted: fitted === false ? false : undefined,
    marking:
      marking === undefined && reading === undefined
        ? undefined
        : {
            id: partOf(id, 'marking'),
            ...typed('Marking'),
            characters: marking,
            readingProbability: reading,
          },
    appearsAs: link.to(appears),
    inSubsystem: at(subsystem),
    inside: at(inside),
    note,
  };
}

function placed({ x, y, ...rest }: NonNullable<Component['at']>): LinkedNode {
  nothingLeft(rest);
  return { xMillimetres: x, yMillimetres: y };
}

function withdrawalFields({ on, by, reason, ...rest }: Withdrawal): LinkedNode {
  nothingLeft(rest);
  return { ...typed('Withdrawal'), endedAt: on, associatedWith: agent(by), reason };
}

function connectionNode({ at, all, opened }: Inside, connection: Connection, number: number): LinkedNode {
  const { between, medium, bus, lines, pins: mated, basis, note, ...rest } = connection;
  nothingLeft(rest);
  return {
    id: recordIri(opened.id, `connection-${number}`),
    ...typed('Connection'),
    between: between.flatMap((end) => at(end) ?? []),
    medium,
    bus,
    lines,
    matedPins: mated,
    derivedFrom: all(basis),
    note,
  };
}

function netNode({ at, all }: Inside, net: Net): LinkedNode {
  const { id, label, kind, voltage, bus, pins: members, complete, medium, basis, note, ...rest } = net;
  nothingLeft(rest);
  return {
    id: at(id),
    ...typed('Net'),
    name: label ?? id,
    kindOfThing: kind,
    voltage: quantity(voltage),
    bus,
    joins: members.flatMap((written) => {
      const { component, pin } = pinOf(written);
      const member = at(component);
      return member === undefined ? [] : [{ type: 'NetMember', component: member, atPin: pin }];
    }),
    complete,
    medium,
    derivedFrom: all(basis),
    note,
  };
}

function photoNode({ at, partOf, opened }: Inside, photo: Photo): LinkedNode {
  const { id, sha256, file, caption, credit, licence, board, side, points, regions, ...rest } = photo;
  nothingLeft(rest);
  return {
    id: at(id),
    ...typed('Photo'),
    sha256,
    file,
    caption,
    credit,
    licence,
    onBoard: board === undefined ? undefined : at(board),
    side,
    knownPoints: points,
    region: some(
      regions.flatMap(({ of, xywh, polygon, ...left }, i) => {
        nothingLeft(left);
        const shown = at(of) ?? stepAt(opened, of);
        // W3C Media Fragments URI 1.0, section 4.2.2, which has no polygons.
        const region = partOf(id, xywh ? `xywh=percent:${xywh.join(',')}` : `region-${i + 1}`);
        return shown === undefined
          ? []
          : [{ id: region, ...typed('PhotoRegion'), shows: shown, corners: polygon }];
      }),
    ),
  };
}

/** Address of the step that a region names by its place; undefined where the teardown has none there. */
function stepAt({ id, dossier }: OpenedSpecimen, of: string): string | undefined {
  const number = stepNumber(of);
  const isThere = number !== undefined && number <= dossier.teardown.steps.length;
  return isThere ? recordIri(thingId(id, TEARDOWN), of) : undefined;
}

function observationNode(inside: Inside, observation: Observation): LinkedNode {
  const { at, all, partOf, link, opened } = inside;
  const { id, about, kind, text, marking, value, leadsTo, photo, method, on, by, corrects, ...more } =
    observation;
  const { cites, withdrawn, suggestion, note, ...rest } = more;
  nothingLeft(rest);
  const seen = all(about) ?? [];
  // What is read is the marking, where that is on record, rather than the component as a whole.
  const read = about.flatMap((local) => {
    const component = kind === 'marking' ? opened.components.get(local) : undefined;
    return component?.marking === undefined ? (at(local) ?? []) : partOf(component.id, 'marking');
  });
  const shown = at(photo);
  return {
    id: at(id),
    ...typed('Observation'),
    kindOfThing: kind,
    about: seen,
    words: text,
    characters: marking,
    measured: quantity(value),
    leadsTo: all(leadsTo),
    cites: link.toAll(cites),
    revisionOf: at(corrects),
    generatedBy: {
      id: partOf(id, 'seeing'),
      ...typed('Seeing'),
      date: dated(on),
      associatedWith: agent(by),
      method,
      suggestion,
      used: some([...read, ...(shown === undefined ? [] : [shown])]),
    },
    invalidatedAt: withdrawn?.on,
    invalidatedBy: withdrawn && { id: partOf(id, 'withdrawal'), ...withdrawalFields(withdrawn) },
    note,
  };
}
