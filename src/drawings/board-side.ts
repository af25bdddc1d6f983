import type { Board, SIDES } from '../model/board.ts';
import { cornersOfBody } from '../model/body.ts';
import { compareDesignators, designatorOf } from '../model/designator.ts';
import type { Component } from '../model/dossier.ts';
import { pinOf } from '../model/ids.ts';
import type { Net } from '../model/net.ts';
import { cornersOf, holesOf, type Point } from '../model/outline.ts';
import { isFitted, isUnnamed, likeliestCategory } from '../state/labels.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import { labelIn, labelOn, RIM } from './labels.ts';
import { ASCENT, DESCENT, SIZES, textWidth } from './lettering.ts';
import { drawNets } from './lit-nets.ts';
import { LABEL, OUTLINE, Room } from './room.ts';
import { type Box, boxAround, type Doubt, type Ink, type Shape, type Spot, widened } from './shapes.ts';

// One side of one board to scale.

export type Side = (typeof SIDES)[number];

/** What is picked on a board, by local ids. */
export interface Lit {
  readonly components: ReadonlySet<string>;
  readonly nets: readonly Net[];
}

export const NOTHING_LIT: Lit = { components: new Set(), nets: [] };

/** Axis of the board about which it was turned to show its other side: a board is turned over its long edge. */
export type Hinge = 'x' | 'y';

/** A picture of all that a side's extent has, seen from straight above. */
export interface PictureBeneath {
  readonly href: string;
  /** 0 to 1. */
  readonly strength: number;
}

/** A side of a board, read for drawing. */
export interface BoardSide {
  readonly specimen: OpenedSpecimen;
  readonly board: Board;
  readonly side: Side;
  readonly hinge: Hinge;
  readonly lit: Lit;
  /** Components with a place on this side, large ones first; bodies, and places alone. */
  readonly placed: readonly Component[];
  /** A photo of this side that lies beneath the drawing. */
  readonly picture?: PictureBeneath;
  /** The box around outline and bodies of both sides, mm of the board. */
  readonly extent: {
    readonly left: number;
    readonly bottom: number;
    readonly length: number;
    readonly width: number;
  };
}

/** Certain from 0.95 on, as everywhere; likely from even odds on. */
const CERTAIN = 0.95;
/** On a side with more components than this, passives get no leader lines. */
const MOST_LED = 150;
const LONGEST_LEADER = 16;

/** Components on a board, by designator. */
export function componentsOn(specimen: OpenedSpecimen, board: Board): readonly Component[] {
  return specimen.dossier.components
    .filter((one) => one.board === board.id)
    .sort((a, b) => compareDesignators(designatorOf(a.id), designatorOf(b.id)));
}

/** Side of a component: as recorded, else the only one of its board that carries components. */
export function sideOf({ side }: Component, { sides }: Board): Side | undefined {
  return side ?? (sides.length === 1 ? sides[0] : undefined);
}

/**
 * Reads a side of a board.
 * @returns undefined where neither outline nor any place is recorded
 */
export function boardSide(
  specimen: OpenedSpecimen,
  board: Board,
  side: Side,
  lit: Lit,
): BoardSide | undefined {
  const all = componentsOn(specimen, board);
  const corners = [
    ...(board.outline ? cornersOf(board.outline) : []),
    ...all.flatMap((one) => cornersOfBody({ ...one, side: sideOf(one, board) }) ?? []),
  ];
  if (corners.length === 0) return undefined;
  const { left, right, top, bottom } = boxAround(corners);
  const extent = { left, bottom: top, length: right - left, width: bottom - top };
  const edges = board.outline ? boxAround(cornersOf(board.outline)) : { left, right, top, bottom };
  const isWide = edges.right - edges.left >= edges.bottom - edges.top;
  const placed = all
    .filter((one) => one.at && sideOf(one, board) === side)
    .sort((a, b) => areaOf(b) - areaOf(a));
  return { specimen, board, side, hinge: isWide ? 'x' : 'y', lit, placed, extent };
}

const areaOf = ({ body }: Component) => (body ? body.length * body.width : 0);

/** A side as drawn. */
export interface DrawnSide {
  readonly shapes: readonly Shape[];
  /** Local ids of components whose label found no room. */
  readonly unlabelled: readonly string[];
  /** Names of lit nets that found no room. */
  readonly unlabelledNets: readonly string[];
}

/**
 * Draws a side.
 * @param at left upper corner of its extent on the sheet
 * @param scale millimetres of the sheet for one of the board
 * @param frame where labels may lie
 * @param hatchOf hatch of a subsystem, by its local id
 */
export function drawSide(
  view: BoardSide,
  at: Spot,
  scale: number,
  frame: Box,
  hatchOf: ReadonlyMap<string, number>,
): DrawnSide {
  const { board, side, lit, placed } = view;
  const onSheet = mapping(view, at, scale);
  const room = new Room(frame);
  const shapes: Shape[] = [...pictureShapes(view, at, scale)];

  if (board.outline) {
    const rings = [cornersOf(board.outline), ...holesOf(board.outline)].map((ring) => ring.map(onSheet));
    const stroke = { ink: 'ink', width: 0.3 } as const;
    shapes.push(
      ...(view.picture
        ? [casingOf(rings, stroke.width), { kind: 'area' as const, of: board.id, rings, stroke }]
        : [{ kind: 'area' as const, of: board.id, rings, fill: { ink: 'board' as const }, stroke }]),
    );
    for (const ring of rings)
      for (const [i, corner] of ring.entries()) room.takeLine(corner, ring[(i + 1) % ring.length], OUTLINE);
  }

  const bodies = placed.map((component) => {
    const corners = (cornersOfBody({ ...component, side }) as readonly Point[]).map(onSheet);
    return { component, corners, box: boxAround(corners) };
  });
  for (const { component, corners, box } of bodies) {
    shapes.push(...bodyShapes(view, component, corners, onSheet, scale, hatchOf));
    if (component.body && !holds(box, bodies)) room.takeBox(box, component.id);
    else if (component.body)
      for (const [i, corner] of corners.entries())
        room.takeLine(corner, corners[(i + 1) % corners.length], OUTLINE);
    else room.takeBox(widened(box, CROSS), component.id);
  }

  const nets = litNets(view, onSheet);
  for (const { net, pieces } of nets) for (const [from, to] of pieces) room.takeLine(from, to, netOwner(net));
  shapes.push(...nets.flatMap((one) => one.shapes));

  const labels: Shape[] = [];
  const unlabelledNets: string[] = [];
  for (const { net, pieces, ink } of nets) {
    const label = netLabel(room, net, pieces, ink);
    if (label) labels.push(...label);
    else if (pieces.length > 0) unlabelledNets.push(nameOfNet(net));
  }
  const unlabelled: string[] = [];
  for (const { component, corners, box } of [...bodies].sort(
    (a, b) => importance(view, b.component) - importance(view, a.component),
  )) {
    const isLit = lit.components.has(component.id);
    const isLed = bodies.length <= MOST_LED || isLit || importance(view, component) >= 2;
    const shape = labelIn(room, {
      of: component.id,
      text: designatorOf(component.id),
      isBold: isLit,
      ...(isFitted(component) ? {} : { ink: 'faint' as const }),
      corners: component.body ? corners : crossAround(corners[0]),
      holdsOthers: holds(box, bodies),
      reach: isLed ? LONGEST_LEADER : 0,
    });
    if (shape) labels.push(...shape);
    else unlabelled.push(component.id);
  }
  labels.push(...subsystemLabels(view, bodies, room));
  return { shapes: [...shapes, ...labels], unlabelled: unlabelled.sort(compareDesignators), unlabelledNets };
}

/** The photo beneath a side, on all of its extent. */
function pictureShapes({ picture, extent, board }: BoardSide, at: Spot, scale: number): readonly Shape[] {
  if (!picture) return [];
  const [width, height] = [extent.length * scale, extent.width * scale];
  return [{ kind: 'picture', of: board.id, at, width, height, ...picture }];
}

/** Width of the paper beside a line on a photo, mm: without it a line is lost on dark ground. */
const CASING = 0.3;

function casingOf(rings: readonly (readonly Spot[])[], width: number): Shape {
  return { kind: 'area', rings, stroke: { ink: 'paper', width: width + CASING } };
}

/** Half the size of the cross that marks a place whose body was not measured, mm. */
const CROSS = 0.7;

function crossAround([x, y]: Spot): readonly Spot[] {
  return [
    [x - CROSS, y - CROSS],
    [x + CROSS, y + CROSS],
  ];
}

interface Body {
  readonly component: Component;
  readonly corners: readonly Spot[];
  readonly box: Box;
}

/** Whether the middle of another body lies in a box: a shield, a module with its lid off. */
function holds(box: Box, bodies: readonly Body[]): boolean {
  return bodies.some(({ box: other }) => {
    if (other.right - other.left >= box.right - box.left) return false;
    const [x, y] = [(other.left + other.right) / 2, (other.top + other.bottom) / 2];
    return x > box.left && x < box.right && y > box.top && y < box.bottom;
  });
}

/** From the board as seen from its top side to the sheet. */
export function mapping(
  { extent: { left, bottom, length, width }, side, hinge }: BoardSide,
  [x, y]: Spot,
  scale: number,
): (point: Point) => Spot {
  const isTurned = side === 'bottom';
  return ([px, py]) => [
    x + scale * (isTurned && hinge === 'y' ? left + length - px : px - left),
    y + scale * (isTurned && hinge === 'x' ? py - bottom : bottom + width - py),
  ];
}

/** Lit before others, chips and connectors before passives, both before what the board itself has and empty places. */
function importance({ specimen, lit }: BoardSide, component: Component): number {
  if (lit.components.has(component.id)) return 4;
  const weights = specimen.named.get(component.id);
  if (!weights || !isFitted(component) || (weights.get('BoardFeature') ?? 0) >= 0.5) return 0;
  if ((weights.get('Passive') ?? 0) >= 0.5) return 1;
  return (weights.get('Shield') ?? 0) >= 0.5 ? 2 : 3;
}

/** How sure it is what a component is, see {@link Doubt}. */
export function doubtOf(specimen: OpenedSpecimen, { id }: Component): Doubt {
  const weights = specimen.labels.get(id);
  if (!weights || isUnnamed(weights)) return 'unknown';
  return (likeliestCategory(weights)?.probability ?? 0) >= CERTAIN ? 'certain' : 'likely';
}

function bodyShapes(
  view: BoardSide,
  component: Component,
  corners: readonly Spot[],
  onSheet: (point: Point) => Spot,
  scale: number,
  hatchOf: ReadonlyMap<string, number>,
): readonly Shape[] {
  const { specimen, lit, side } = view;
  const { id, body, subsystem } = component;
  const isLit = lit.components.has(id);
  const ink: Ink = isLit ? 'picked-0' : isFitted(component) ? 'ink' : 'pale';
  if (!body) {
    const [[x, y]] = corners;
    const stroke = { ink, width: isLit ? 0.4 : 0.2 };
    return [
      {
        kind: 'line',
        of: id,
        points: [
          [x - CROSS, y],
          [x + CROSS, y],
        ],
        stroke,
      },
      {
        kind: 'line',
        of: id,
        points: [
          [x, y - CROSS],
          [x, y + CROSS],
        ],
        stroke,
      },
    ];
  }
  // What lies on a photo is drawn in lines alone, so that the photo shows.
  const plain = (fill: Ink) => (view.picture ? {} : { ink: fill });
  const casing = view.picture ? [casingOf([corners], isLit ? 0.55 : 0.2)] : [];
  if (!isFitted(component)) {
    return [
      ...casing,
      { kind: 'area', of: id, rings: [corners], fill: plain('paper'), stroke: { ink, width: 0.15 } },
      { kind: 'line', points: [corners[0], corners[2]], stroke: { ink, width: 0.12 } },
    ];
  }
  const hatch = subsystem === undefined ? undefined : hatchOf.get(subsystem);
  const doubt = doubtOf(specimen, component);
  const shapes: Shape[] = [
    ...casing,
    {
      kind: 'area',
      of: id,
      rings: [corners],
      fill: hatch === undefined ? plain('body') : { ...plain('paper'), hatch },
      stroke: { ink, width: isLit ? 0.55 : 0.2, ...(doubt === 'certain' ? {} : { doubt }) },
    },
  ];
  const inset =
    Math.min(body.length, body.width) / 2 - Math.min(0.9 / scale, Math.min(body.length, body.width) / 4);
  if (hasFirstPinMark(view, component)) {
    const spot = firstPin(component, side, inset);
    shapes.push({ kind: 'disc', at: onSheet(spot), radius: 0.3, fill: { ink: isLit ? ink : 'ink' } });
  }
  return shapes;
}

/** Fewest pins of what gets a mark of its first pin. */
const FEWEST_PINS = 4;

/** Kinds of things of which it says nothing where their first pin is. */
const WITHOUT_FIRST_PIN = ['Passive', 'Connector', 'BoardFeature', 'Shield'];

/** Whether the first pin is marked: of chips with several pins whose rotation is recorded. */
export function hasFirstPinMark({ specimen }: Pick<BoardSide, 'specimen'>, component: Component): boolean {
  const { id, rotation, body, pins, pinout } = component;
  const pinCount = pins ?? pinout?.length ?? 0;
  const weights = specimen.named.get(id);
  return (
    isFitted(component) &&
    body !== undefined &&
    rotation !== undefined &&
    pinCount >= FEWEST_PINS &&
    !WITHOUT_FIRST_PIN.some((term) => (weights?.get(term) ?? 0) >= 0.5)
  );
}

/** The left upper corner of a body at rotation 0, seen from its own side, as a point of the board. */
function firstPin({ at, body, rotation = 0 }: Component, side: Side, inset: number): Point {
  if (!at || !body) throw new Error('a first pin is marked on a placed body alone');
  const lesser = Math.min(body.length, body.width) / 2;
  const [x, y] = [-(body.length / 2 - (lesser - inset)), body.width / 2 - (lesser - inset)];
  const turn = (rotation * Math.PI) / 180;
  // Seen from the bottom x runs the other way.
  const [across, along] = [x * Math.cos(turn) - y * Math.sin(turn), x * Math.sin(turn) + y * Math.cos(turn)];
  return [at.x + (side === 'bottom' ? -across : across), at.y + along];
}

const netOwner = (net: Net) => `net ${net.id}`;

/** Name of a net as the dossier has it. */
export const nameOfNet = ({ label, id }: Net) => label ?? id;

/** Components of a net that have a place on a board, each once, in the order of the net. */
export function placesOfNet(
  { specimen, board }: Pick<BoardSide, 'specimen' | 'board'>,
  net: Net,
): readonly Component[] {
  const ids = new Set(net.pins.map((pin) => pinOf(pin).component));
  return [...ids].flatMap((id) => {
    const component = specimen.components.get(id);
    return component?.board === board.id && component.at ? [component] : [];
  });
}

/** Lit nets: the shortest tree between their components, whichever side those are on; rings on the other side. */
function litNets(view: BoardSide, onSheet: (point: Point) => Spot) {
  const nets = view.lit.nets.map((net, i) => ({
    net,
    ink: `picked-${1 + (i % 5)}` as const,
    members: placesOfNet(view, net).map((component) => ({
      id: component.id,
      at: onSheet([component.at?.x ?? 0, component.at?.y ?? 0]),
      isHere: sideOf(component, view.board) === view.side,
    })),
  }));
  const drawn = drawNets(nets.map(({ net, ink, members }) => ({ id: net.id, ink, members })));
  return nets.map(({ net, ink }, i) => ({ net, ink, ...drawn[i] }));
}

/** The name of a lit net on one of its own lines, where no other line and no body is, else at the end of a leader from one. */
function netLabel(
  room: Room,
  net: Net,
  pieces: readonly (readonly [Spot, Spot])[],
  ink: Ink,
): readonly Shape[] | undefined {
  const text = nameOfNet(net);
  const label = { of: net.id, owner: netOwner(net), text, isBold: true, ink };
  const spots = [...pieces]
    .sort((a, b) => lengthOf(b) - lengthOf(a))
    .flatMap(([[x1, y1], [x2, y2]]) =>
      [0.5, 0.35, 0.65, 0.2, 0.8].map((share): Spot => [x1 + (x2 - x1) * share, y1 + (y2 - y1) * share]),
    );
  for (const spot of spots) {
    const shapes = labelOn(room, label, spot);
    if (shapes) return shapes;
  }
  for (const spot of spots) {
    const shapes = labelIn(room, { ...label, corners: [spot], reach: LONGEST_LEADER });
    if (shapes) return shapes;
  }
  return undefined;
}

const lengthOf = ([[x1, y1], [x2, y2]]: readonly [Spot, Spot]) => Math.hypot(x2 - x1, y2 - y1);

/** Names of subsystems on the largest of their components, under the designator, where they fit. */
function subsystemLabels({ specimen }: BoardSide, bodies: readonly Body[], room: Room): readonly Shape[] {
  const size = SIZES.label;
  const height = (ASCENT + DESCENT) * size;
  const named = new Set<string>();
  return bodies.flatMap(({ component, box, corners }): readonly Shape[] => {
    const { subsystem } = component;
    if (subsystem === undefined || named.has(subsystem) || !component.body || corners.length === 0) return [];
    const text = nameOfSubsystem(specimen, subsystem);
    const width = textWidth(text, size);
    if (box.right - box.left < width + 1 || box.bottom - box.top < 2 * height + 0.8) return [];
    const [left, middle] = [(box.left + box.right - width) / 2, (box.top + box.bottom) / 2];
    for (const top of [middle + height / 2 + 0.3, middle - height * 1.5 - 0.3]) {
      const own = { left, right: left + width, top, bottom: top + height };
      if (own.top < box.top || own.bottom > box.bottom || !room.isFree(own, component.id)) continue;
      room.takeBox(own, `${LABEL}${component.id}`);
      named.add(subsystem);
      return [
        { kind: 'text', of: subsystem, at: [left, top + ASCENT * size], text, size, ink: 'faint', rim: RIM },
      ];
    }
    return [];
  });
}

/** What a subsystem is called: its name, else its kind. */
export function nameOfSubsystem({ dossier }: OpenedSpecimen, id: string): string {
  const found = dossier.subsystems.find((one) => one.id === id);
  return found?.name ?? found?.kind ?? id;
}
