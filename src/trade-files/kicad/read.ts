import type { Ring } from '../../model/board.ts';
import { cornersOfRing, extentOf, type Point } from '../../model/outline.ts';
import {
  type DesignBoard,
  type DesignComponent,
  type DesignNet,
  type DesignPin,
  Findings,
  quoted,
  type TradeFile,
  tidy,
  tidyAngle,
} from '../board-design.ts';
import { closedLoops, type Loop, mapOutline, outlineOf, point, ringOf, type Segment } from '../outline.ts';
import { valueAndFitted } from '../table/cells.ts';
import { type Field, headingMeaning } from '../table/headings.ts';
import { drawingOf, numbersOf } from './drawings.ts';
import { areNumbered, directionOf, pinName, plainText } from './pin-names.ts';
import { childOf, type Form, firstValue, readForm } from './s-expression.ts';

// KiCad board files (`.kicad_pcb`), S-expressions of versions 5 to 9, after "S-Expression File Formats" of KiCad's developer
// documentation and, for version 5, from memory. Y points down there and up here.

/** Copper, fills and what else a board file holds that tells nothing of components and nets. */
const SKIPPED: ReadonlySet<string> = new Set([
  'segment',
  'via',
  'zone',
  'general',
  'setup',
  'gr_text',
  'gr_text_box',
  'dimension',
  'image',
  'target',
  'group',
  'generated',
  'embedded_files',
  'model',
  'fp_text_box',
  'teardrops',
  'net_class',
  'title_block',
  'primitives',
  'options',
  'points',
  'tstamp',
  'uuid',
]);
const EDGE = 'Edge.Cuts';

/** Reads a KiCad board file. */
export function readKicadBoard(text: string, file: string, findings = new Findings(file)): TradeFile {
  const form = readForm(text, SKIPPED, findings);
  if (!form) return findings.result('kicad', []);
  if (form.name !== 'kicad_pcb') {
    findings.problem(form.line, `is a ${quoted(form.name)}, not a board`, 'give the .kicad_pcb file');
    return findings.result('kicad', []);
  }
  findings.understood.push(versionSentence(form));
  const nets = new Nets(form);
  const footprints = form.children.filter(({ name }) => name === 'footprint' || name === 'module');
  const edges: Segment[] = [];
  const loops: Loop[] = [];
  for (const child of form.children) collectEdges(child, (x, y) => [x, y], edges, loops, findings);
  const components: DesignComponent[] = [];
  const isNumbered = areNumbered(
    footprints.flatMap(({ children }) =>
      children.map((pad) => ({ number: pad.values[0] ?? '', written: firstValue(pad, 'pinfunction') ?? '' })),
    ),
  );
  let unnamed = 0;
  for (const footprint of footprints) {
    const frame = frameOf(footprint, findings);
    if (!frame) continue;
    for (const child of footprint.children) collectEdges(child, frame.toBoard, edges, loops, findings);
    const component = componentOf(footprint, frame, nets, isNumbered, findings);
    if (component) components.push(component);
    else unnamed++;
  }
  if (unnamed > 0) {
    findings.understood.push(
      `${unnamed} ${unnamed === 1 ? 'footprint has' : 'footprints have'} no designator (holes, marks, art) and ${unnamed === 1 ? 'is' : 'are'} left aside`,
    );
  }
  const outline = outlineOf([...loops, ...closedLoops(edges, findings)], findings);
  if (!outline) {
    findings.caution(
      undefined,
      `has no closed outline on ${EDGE}`,
      'measure the board, or give its outline by hand',
    );
  }
  const board: DesignBoard = {
    ...(outline ? { outline } : {}),
    components,
    nets: nets.used(),
    ...layersOf(form),
  };
  return findings.result('kicad', [turnedUp(board)]);
}

function versionSentence(form: Form): string {
  const version = firstValue(form, 'version') ?? 'unknown';
  const [, maker] = form.children.find(({ name }) => name === 'host')?.values ?? [];
  const by = (firstValue(form, 'generator_version') ?? maker)?.replace(/-.*$/u, '');
  return `file version ${version}${by ? `, written by version ${by}` : ''}; lengths in mm, y turned up`;
}

function layersOf(form: Form): { readonly layers?: number } {
  const copper = childOf(form, 'layers')?.children.filter(({ values }) => values[0]?.endsWith('.Cu')) ?? [];
  return copper.length > 0 ? { layers: copper.length } : {};
}

/** Where a footprint lies, still with y down. */
interface Frame {
  readonly at: Point;
  readonly angle: number;
  readonly side: 'top' | 'bottom';
  toBoard(x: number, y: number): Point;
}

function frameOf(footprint: Form, findings: Findings): Frame | undefined {
  const numbers = numbersOf(childOf(footprint, 'at'));
  const [x, y, angle = 0] = numbers ?? [];
  if (x === undefined || y === undefined) {
    findings.problem(footprint.line, 'a footprint has no place "(at x y)"', 'export the board again', 'at');
    return undefined;
  }
  const layer = firstValue(footprint, 'layer');
  const [cos, sin] = [Math.cos((angle * Math.PI) / 180), Math.sin((angle * Math.PI) / 180)];
  return {
    at: [x, y],
    angle,
    side: layer?.startsWith('B.') ? 'bottom' : 'top',
    // Counter-clockwise on the screen, where y points down.
    toBoard: (dx, dy) => [x + dx * cos + dy * sin, y - dx * sin + dy * cos],
  };
}

function componentOf(
  footprint: Form,
  frame: Frame,
  nets: Nets,
  isNumbered: boolean,
  findings: Findings,
): DesignComponent | undefined {
  const said = propertiesOf(footprint);
  const designator = said.get('reference') ?? '';
  if (designator === '' || /[*?~]|^(?:REF|G)\*/u.test(designator) || designator.startsWith('kibuzzard'))
    return undefined;
  const attributes = footprint.children.flatMap(({ name, values }) => (name === 'attr' ? values : []));
  const pins = pinsOf(footprint, frame, nets, isNumbered);
  const body = bodyOf(footprint, findings);
  const written = said.get('value') ?? '';
  const { value, fitted } = valueAndFitted(written === '~' ? '' : written);
  const partNumber = fieldIn(said, 'partNumber');
  const maker = fieldIn(said, 'maker');
  // What the library says of a footprint repeats its name.
  const description = said.get('description');
  const isEmpty =
    fitted === false ||
    attributes.includes('dnp') ||
    isYes(said.get('dnp')) ||
    isYes(said.get('donotpopulate'));
  const [x, y] = body ? frame.toBoard(...body.centre) : frame.at;
  return {
    designator,
    side: frame.side,
    at: [x, y],
    atIs: body ? 'body centre' : 'origin',
    rotation: tidyAngle(frame.angle),
    ...(body ? { body: { length: body.length, width: body.width } } : {}),
    ...(footprint.values[0] ? { footprint: footprint.values[0].replace(/^.*:/u, '') } : {}),
    ...(value === undefined ? {} : { value }),
    ...(partNumber ? { partNumber } : {}),
    ...(maker ? { maker } : {}),
    ...(description ? { description } : {}),
    ...(isEmpty ? { fitted: false } : {}),
    pins,
    line: footprint.line,
  };
}

/** A field among the named texts of a symbol or footprint: designs name these as lists do. */
export function fieldIn(said: ReadonlyMap<string, string>, field: Field): string | undefined {
  return [...said].find(([name]) => {
    const meaning = headingMeaning(name);
    return meaning.kind === 'field' && meaning.field === field;
  })?.[1];
}

/** Texts of a footprint by name, lower-case letters and digits alone: `Reference` and `Value` in either form, and its properties. */
function propertiesOf(footprint: Form): ReadonlyMap<string, string> {
  const said = new Map<string, string>();
  const say = (name: string | undefined, text: string | undefined) => {
    const key = name?.toLowerCase().replace(/[^\p{L}\p{N}]/gu, '') ?? '';
    const tidied = text?.trim();
    if (key !== '' && tidied && !said.has(key)) said.set(key, tidied);
  };
  for (const { name, values } of footprint.children) {
    if (name === 'property') say(values[0], values[1]);
    if (name === 'fp_text' && (values[0] === 'reference' || values[0] === 'value')) say(values[0], values[1]);
  }
  return said;
}

export function isYes(text: string | undefined): boolean {
  return text !== undefined && !/^(?:no|false|0|n)$/iu.test(text);
}

function pinsOf(footprint: Form, frame: Frame, nets: Nets, isNumbered: boolean): readonly DesignPin[] {
  const pins: DesignPin[] = [];
  for (const pad of footprint.children) {
    if (pad.name !== 'pad') continue;
    const [number = '', kind] = pad.values;
    if (number === '' || kind === 'np_thru_hole') continue;
    const [dx, dy] = numbersOf(childOf(pad, 'at')) ?? [];
    const net = nets.keyOf(childOf(pad, 'net'));
    const name = pinName(number, firstValue(pad, 'pinfunction') ?? '', isNumbered);
    const direction = directionOf(firstValue(pad, 'pintype'));
    pins.push({
      number,
      ...(name === undefined ? {} : { name }),
      ...(direction ? { direction } : {}),
      ...(dx === undefined || dy === undefined ? {} : { at: frame.toBoard(dx, dy) }),
      ...(net === undefined ? {} : { net }),
    });
  }
  return pins;
}

/** A mark at a pin is narrower than this, mm, and than this part of the spread of the pads (chosen). */
const MARK_WIDTH = 0.5;
const MARK_OF_SPREAD = 0.25;

/** Box around what is drawn on the fabrication layer, in the footprint's own axes: the body, as KiCad's library draws it. */
function bodyOf(
  footprint: Form,
  findings: Findings,
): { readonly centre: Point; readonly length: number; readonly width: number } | undefined {
  const rings: Ring[] = [];
  for (const child of footprint.children) {
    const layer = firstValue(child, 'layer');
    if (layer !== 'F.Fab' && layer !== 'B.Fab') continue;
    const drawing = drawingOf(child, (x, y) => [x, y], findings);
    for (const { from, to, through } of drawing?.segments ?? [])
      rings.push([point(...from), through ? { to: point(...to), through: point(...through) } : point(...to)]);
    if (drawing?.loop) rings.push(ringOf(drawing.loop));
  }
  if (rings.length === 0) return undefined;
  const corners = rings.flatMap((ring) => cornersOfRing(ring)).map(([x, y]) => point(x, y));
  const { left, bottom, length, width } = extentOf({ points: corners });
  if (length <= 0 || width <= 0) return undefined;
  // Some libraries draw nothing there but a mark at the first pin, which is no body.
  const pads = footprint.children.flatMap(({ name, children }) =>
    name === 'pad' ? children.flatMap((child) => (child.name === 'at' ? [numbersOf(child)] : [])) : [],
  );
  const spread = ([0, 1] as const).map((axis) => {
    const along = pads.flatMap((at) => (at?.[axis] === undefined ? [] : [at[axis]]));
    return along.length > 1 ? Math.max(...along) - Math.min(...along) : 0;
  });
  const isMark = [length, width].some(
    (extent, axis) => extent < MARK_WIDTH && extent < spread[axis] * MARK_OF_SPREAD,
  );
  if (isMark) return undefined;
  return { centre: [left + length / 2, bottom + width / 2], length: tidy(length), width: tidy(width) };
}

function collectEdges(
  form: Form,
  toBoard: (x: number, y: number) => Point,
  edges: Segment[],
  loops: Loop[],
  findings: Findings,
): void {
  if (firstValue(form, 'layer') !== EDGE) return;
  const drawing = drawingOf(form, toBoard, findings);
  if (!drawing) return;
  edges.push(...drawing.segments);
  if (drawing.loop) loops.push(drawing.loop);
}

/** Nets of the file: numbered up to version 9, by name alone after. */
class Nets {
  readonly #labels = new Map<string, string>();
  readonly #used = new Set<string>();

  constructor(board: Form) {
    for (const { name, values } of board.children)
      if (name === 'net' && values[0] !== undefined) this.#labels.set(values[0], values[1] ?? '');
  }

  /** Key of the net that a pad names; undefined for the empty one. */
  keyOf(net: Form | undefined): string | undefined {
    const [first, second] = net?.values ?? [];
    if (first === undefined) return undefined;
    const label =
      second ?? this.#labels.get(first) ?? (/^\d+$/u.test(first) && this.#labels.size > 0 ? '' : first);
    if (label === '') return undefined;
    this.#used.add(label);
    return label;
  }

  used(): readonly DesignNet[] {
    return [...this.#used].map((key) => ({ key, label: plainText(key) }));
  }
}

/** The board with y up, its outline's box starting at (0, 0); with no outline, where the file has it. */
function turnedUp(board: DesignBoard): DesignBoard {
  const { outline } = board;
  const { left, bottom, width } = outline ? extentOf(outline) : { left: 0, bottom: 0, width: 0 };
  const up = ([x, y]: Point): Point => point(x - left, bottom + width - y);
  return {
    ...board,
    ...(outline ? { outline: mapOutline(outline, up) } : {}),
    components: board.components.map((one) => ({
      ...one,
      ...(one.at ? { at: up(one.at) } : {}),
      pins: one.pins.map((pin) => (pin.at ? { ...pin, at: up(pin.at) } : pin)),
    })),
  };
}
