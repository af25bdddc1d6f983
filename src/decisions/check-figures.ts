import type { SEEN_UNITS } from '../design-checks/bound-names.ts';
import { FOLLOWS_LIT } from '../design-checks/display-power.ts';
import type { Board } from '../model/board.ts';
import type { Component, Device } from '../model/dossier.ts';
import { areaOf, extentOf } from '../model/outline.ts';
import type { Quantity } from '../model/quantity.ts';
import { valueIn } from '../model/quantity.ts';
import { lineage, TERMS } from '../model/taxonomy.ts';
import type { LabelWeights } from '../state/labels.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';

// Figures that follow from what was seen of a device, for the inputs of design checks.

type Seen<K extends keyof typeof SEEN_UNITS> = keyof (typeof SEEN_UNITS)[K];
type Figures<K extends keyof typeof SEEN_UNITS> = Readonly<Record<Seen<K>, number | undefined>>;

/** Body of a component, its longer side as length, mm, mm², mm³, and of a display the share of its power that follows the lit elements. */
export function figuresOfComponent(
  { body, pins }: Component,
  labels: LabelWeights | undefined,
): Figures<'component'> {
  const area = body && body.length * body.width;
  return {
    bodyLength: body && Math.max(body.length, body.width),
    bodyWidth: body && Math.min(body.length, body.width),
    bodyHeight: body?.height,
    bodyArea: area,
    bodyVolume: area !== undefined && body?.height !== undefined ? area * body.height : undefined,
    pins,
    followsLit: likeliestOf(FOLLOWS_LIT, labels),
  };
}

/** What a table says of the likeliest of its terms, if that is more likely than not. */
function likeliestOf(
  table: Readonly<Record<string, number>>,
  labels: LabelWeights | undefined,
): number | undefined {
  const [best] = [...(labels ?? [])]
    .filter(([term, weight]) => Object.hasOwn(table, term) && weight > 0.5)
    .sort(([, a], [, b]) => b - a);
  return best && table[best[0]];
}

/** A board: mm, mm²; its length along x and width along y, those of the box around an outline given by its corners. */
export function figuresOfBoard(board: Board, specimen: OpenedSpecimen): Omit<Figures<'board'>, 'colours'> {
  const { outline } = board;
  const extent = outline && extentOf(outline);
  return {
    area: outline && areaOf(outline),
    length: extent?.length,
    width: extent?.width,
    sides: board.sides.length,
    components: placedOn(specimen).filter((one) => one.board === board.id).length,
  };
}

/** Kinds of light source, such as green, red and infrared. */
const COLOURS = TERMS.filter((term) => lineage(term)[1] === 'Emitter');

/**
 * Kinds of light source that a board more likely than not carries, for each the component that most likely is one, and how
 * sure that is. A package with two green dies counts once.
 */
export function coloursOn(
  board: Board,
  specimen: OpenedSpecimen,
): readonly { readonly component: string; readonly probability: number }[] {
  const on = specimen.fitted.filter((one) => one.board === board.id);
  return COLOURS.flatMap((term) => {
    const [best] = on
      .map(({ id }) => ({ component: id, probability: specimen.labels.get(id)?.get(term) ?? 0 }))
      .sort((a, b) => b.probability - a.probability);
    return best && best.probability > 0.5 ? [best] : [];
  });
}

/** Components that take up room on a board: not those inside a module. */
function placedOn({ counted }: OpenedSpecimen): readonly Component[] {
  return counted.filter(({ board, inside }) => board !== undefined && inside === undefined);
}

/** The opened specimen as a whole; areas are missing as soon as one board or body has none. */
export function figuresOfSpecimen(
  specimen: OpenedSpecimen,
): Omit<Figures<'specimen'>, 'innerLength' | 'innerArea'> {
  const { boards } = specimen.dossier;
  const placed = placedOn(specimen);
  return {
    boards: boards.length,
    components: placed.length,
    // Each side that carries parts counts.
    boardArea: total(boards.map(({ outline, sides }) => outline && areaOf(outline) * sides.length)),
    componentArea: total(placed.map(({ body }) => body && body.length * body.width)),
  };
}

function total(parts: readonly (number | undefined)[]): number | undefined {
  const known = parts.filter((one) => one !== undefined);
  return known.length === parts.length && known.length > 0 ? known.reduce((a, b) => a + b, 0) : undefined;
}

/** The device as sold: g, mm, mm², mm³, its sides as those of a box around it. */
export function figuresOfDevice({
  mass,
  dimensions,
}: Device): Readonly<Record<Seen<'device'>, Quantity | undefined>> {
  const mm = (quantity: Quantity | undefined) => quantity && valueIn(quantity, 'mm');
  const [length, width, height] = [dimensions?.length, dimensions?.width, dimensions?.height].map(mm);
  const in_ = (value: number | undefined, unit: string) =>
    value === undefined ? undefined : { value, unit };
  const area = length !== undefined && width !== undefined ? length * width : undefined;
  return {
    mass,
    length: dimensions?.length,
    width: dimensions?.width,
    height: dimensions?.height,
    area: in_(area, 'mm2'),
    volume: in_(area !== undefined && height !== undefined ? area * height : undefined, 'mm3'),
  };
}

/** Room inside the shell, as far as it is known: between what is seen to fit and what the shell measures outside. */
export interface InnerRoom {
  /** mm, along the longest side. */
  readonly innerLength: Quantity | undefined;
  /** mm², flat. */
  readonly innerArea: Quantity | undefined;
}

/**
 * Nobody records the inside of a shell. It holds the largest rigid board and is smaller than its outside, so the room is
 * somewhere between the two; undefined where either is not known. A flexible circuit may lie bent and tells nothing.
 */
export function innerRoom(specimen: OpenedSpecimen, device: Device): InnerRoom {
  const outside = figuresOfDevice(device);
  const boards = specimen.dossier.boards.flatMap(({ kind, outline }) => {
    if (kind.includes('flex') || !outline) return [];
    const { length, width } = extentOf(outline);
    return [{ length: Math.max(length, width), area: areaOf(outline) }];
  });
  const sides = [outside.length, outside.width].flatMap((one) => (one ? [valueIn(one, 'mm')] : []));
  return {
    innerLength: between(
      boards.map(({ length }) => length),
      sides.length > 0 ? Math.max(...sides) : undefined,
      'mm',
    ),
    innerArea: between(
      boards.map(({ area }) => area),
      outside.area && valueIn(outside.area, 'mm2'),
      'mm2',
    ),
  };
}

/** From the greatest of what fits to what it fits in. */
function between(
  fitting: readonly number[],
  outside: number | undefined,
  unit: string,
): Quantity | undefined {
  if (outside === undefined) return undefined;
  const least = Math.max(0, ...fitting.filter((one) => one <= outside));
  return least === 0
    ? undefined
    : { value: (least + outside) / 2, unit, ...(least < outside && { plusMinus: (outside - least) / 2 }) };
}

/** Distance in mm of the centres of two components in the plane of one board, whatever their sides; undefined for others. */
export function distanceBetween(a: Component, b: Component): number | undefined {
  if (!a.at || !b.at || a.board === undefined || a.board !== b.board) return undefined;
  return Math.hypot(a.at.x - b.at.x, a.at.y - b.at.y);
}
