import type { Leaf } from '../design-checks/binding.ts';
import { PARAMETER_UNITS, SEEN_UNITS } from '../design-checks/bound-names.ts';
import type { Board } from '../model/board.ts';
import { type Part, partIdOf } from '../model/catalogue.ts';
import { type Component, type Device, deviceIdOf } from '../model/dossier.ts';
import { isInside, lastOfId, thingId } from '../model/ids.ts';
import { type Quantity, valueIn } from '../model/quantity.ts';
import { fallenIn } from '../model/standing.ts';
import { lineage } from '../model/taxonomy.ts';
import type { PatternMatch } from '../patterns/answer.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import {
  coloursOn,
  distanceBetween,
  figuresOfBoard,
  figuresOfComponent,
  figuresOfDevice,
  figuresOfSpecimen,
  type InnerRoom,
  innerRoom,
} from './check-figures.ts';

/** One figure of the graph, and what supports it. */
export interface Figure {
  readonly quantity: Quantity;
  /** Where it came from, such as `capacity of akkerby/YBAP311326, which BT1 is identified as`. */
  readonly from: string;
  /** Global ids. */
  readonly supportedBy: readonly string[];
  /** Components whose identification it depends on, with its probability; empty for what was seen. */
  readonly identified: ReadonlyMap<string, number>;
}

const NONE: Figure['identified'] = new Map();

/** Where the figures of one match are looked up. */
export interface Place {
  readonly match: PatternMatch;
  readonly specimen: OpenedSpecimen;
  readonly device: Device;
  readonly partOf: (id: string) => Part | undefined;
}

/** The figure of a property or call, or in words why there is none. */
export function figureOf(leaf: Leaf, place: Place): Figure | string {
  if (leaf.kind === 'property') {
    return leaf.all
      ? sumOfTerm(leaf.owner, leaf.property, place)
      : figureOfOwner(leaf.owner, leaf.property, place);
  }
  const ids = leaf.variables.flatMap((name) => idsOf(name, place));
  if (leaf.name === 'count') {
    const distinct = [...new Set(ids)];
    return seen(distinct.length, '1', `number of ${leaf.variables.join(', ')} in the match`, distinct);
  }
  const [a, b] = leaf.variables.map((name) => componentOf(idsOf(name, place)[0], place));
  const distance = a && b && distanceBetween(a, b);
  return distance === undefined
    ? `the distance of ${leaf.variables.join(' and ')} is not known: they are not placed on one board`
    : seen(distance, 'mm', `distance of ${a?.id} and ${b?.id} on their board`, ids);
}

/** What a variable stands for in this match, first to last. */
function idsOf(variable: string, { match }: Place): readonly string[] {
  return match.bindings.find((one) => one.variable === variable)?.ids ?? [];
}

function localId(id: string, { specimen }: Place): string | undefined {
  return isInside(id, specimen.id) ? lastOfId(id) : undefined;
}

function componentOf(id: string | undefined, place: Place): Component | undefined {
  const local = id === undefined ? undefined : localId(id, place);
  return local === undefined ? undefined : place.specimen.components.get(local);
}

function figureOfOwner(owner: string, property: string, place: Place): Figure | string {
  const { specimen, device, match } = place;
  const bound = match.bindings.some(({ variable }) => variable === owner);
  const [id] = idsOf(owner, place);
  if (bound && id === undefined) return `"${owner}" stands for nothing in this match`;
  if (id === specimen.id || (!bound && owner === 'specimen')) {
    if (property === 'innerLength' || property === 'innerArea') return room(property, place);
    return named(figuresOfSpecimen(specimen), SEEN_UNITS.specimen, property, specimen.id, [specimen.id]);
  }
  if (id === deviceIdOf(specimen.dossier) || (!bound && owner === 'device')) {
    const quantity = (figuresOfDevice(device) as Readonly<Record<string, Quantity | undefined>>)[property];
    const from = `${property} of ${device.id}`;
    return quantity
      ? { quantity, from, supportedBy: [device.id], identified: NONE }
      : `the ${from} is not known`;
  }
  if (!bound) return figureOfTerm(owner, property, place);
  const component = componentOf(id, place);
  if (component) return figureOfComponent(component, property, place);
  const board = specimen.boards.get(localId(id, place) ?? '');
  if (board) {
    return property === 'colours'
      ? colours(board, place)
      : named(figuresOfBoard(board, specimen), SEEN_UNITS.board, property, `board ${board.id}`, [id]);
  }
  const part = place.partOf(id);
  return part ? figureOfPart(part, property, partIdOf(part), [id], NONE) : `nothing is known of ${id}`;
}

function room(property: keyof InnerRoom, { specimen, device }: Place): Figure | string {
  const quantity = innerRoom(specimen, device)[property];
  return quantity
    ? {
        quantity,
        from: `room inside ${device.id}: at least its largest board, less than its outside`,
        supportedBy: [specimen.id, device.id],
        identified: NONE,
      }
    : `the room inside ${device.id} is not known: it takes a rigid board and the outside, both measured`;
}

/** Of the components that are more likely than not of a term, the likeliest that has the figure. */
function figureOfTerm(term: string, property: string, place: Place): Figure | string {
  const figures = figuresOfTerm(term, property, place);
  return figures.find((one) => typeof one !== 'string') ?? figures[0] ?? `no component is known as ${term}`;
}

/** The figures of all of them added up; those that have none are skipped, and their number is given. */
function sumOfTerm(term: string, property: string, place: Place): Figure | string {
  const figures = figuresOfTerm(term, property, place);
  const known = figures.filter((one) => typeof one !== 'string');
  const [first, ...more] = known;
  if (!first) return figures.find((one) => typeof one === 'string') ?? `no component is known as ${term}`;
  const { unit } = first.quantity;
  return {
    quantity: {
      value: more.reduce((sum, one) => sum + valueIn(one.quantity, unit), first.quantity.value),
      unit,
    },
    from: `${property} of ${known.length} of ${figures.length} components known as ${term}, added up`,
    supportedBy: [...new Set(known.flatMap(({ supportedBy }) => supportedBy))],
    identified: new Map(known.flatMap(({ identified }) => [...identified])),
  };
}

function colours(board: Board, { specimen }: Place): Figure | string {
  const found = coloursOn(board, specimen);
  if (found.length === 0) return `no light source is known on board ${board.id}`;
  const ids = found.map(({ component }) => thingId(specimen.id, component));
  return {
    quantity: { value: found.length, unit: '1' },
    from: `colours of light sources on board ${board.id}`,
    supportedBy: [...new Set(ids)],
    identified: new Map(found.map(({ probability }, i) => [ids[i], probability])),
  };
}

/** The figure of each component that is more likely than not of a term, likeliest first, or why it has none. */
function figuresOfTerm(term: string, property: string, place: Place): readonly (Figure | string)[] {
  const { specimen } = place;
  return [...specimen.labels]
    .map(([id, weights]) => ({ id, weight: weights.get(term) ?? 0 }))
    .filter(({ weight }) => weight > 0.5)
    .sort((a, b) => b.weight - a.weight)
    .flatMap(({ id }) => {
      const component = specimen.components.get(id);
      return component && mayStandFor(component, term, place)
        ? [figureOfComponent(component, property, place)]
        : [];
    });
}

/** Whether what a component is identified as, or looks like, is of the term: rivals must not lend their figures. */
function mayStandFor(component: Component, term: string, place: Place): boolean {
  const part = favoured(component, place)?.part;
  const terms = [...(part?.categories ?? []), ...(component.appears ? [component.appears] : [])];
  return terms.length === 0 || terms.some((one) => lineage(one).includes(term));
}

function favoured(component: Component, { specimen, partOf }: Place) {
  const identification = specimen.identified.get(component.id);
  const [best] = (identification?.candidates ?? []).toSorted((a, b) => b.probability - a.probability);
  if (!best) return undefined;
  const part = best.part === undefined ? undefined : partOf(best.part);
  return { part, probability: best.probability, basis: identification?.basis ?? [] };
}

function figureOfComponent(component: Component, property: string, place: Place): Figure | string {
  const { specimen } = place;
  const id = thingId(specimen.id, component.id);
  if (property in SEEN_UNITS.component) {
    const figures = figuresOfComponent(component, specimen.labels.get(component.id));
    return named(figures, SEEN_UNITS.component, property, component.id, [id]);
  }
  const best = favoured(component, place);
  if (!best?.part)
    return `${component.id} is not identified as a part of the catalogue, so its ${property} is not known`;
  const { part, probability, basis } = best;
  const { observations } = specimen.dossier;
  const fallen = fallenIn(observations);
  const standing = observations.filter(({ id: one }) => basis.includes(one) && !fallen.has(one));
  const supportedBy = [id, partIdOf(part), ...standing.map((one) => thingId(specimen.id, one.id))];
  const from = `${partIdOf(part)}, which ${component.id} is identified as`;
  return figureOfPart(part, property, from, supportedBy, new Map([[id, probability]]));
}

function figureOfPart(
  part: Part,
  property: string,
  whose: string,
  supportedBy: readonly string[],
  identified: Figure['identified'],
): Figure | string {
  const unit = PARAMETER_UNITS.get(property);
  const value = (part.parameters as Readonly<Record<string, unknown>>)[property];
  if (unit === undefined || value === undefined) return `the catalogue has no ${property} of ${whose}`;
  const quantity = typeof value === 'number' ? { value, unit } : (value as Quantity);
  return { quantity, from: `${property} of ${whose}`, supportedBy, identified };
}

function named(
  figures: Readonly<Record<string, number | undefined>>,
  units: Readonly<Record<string, string>>,
  property: string,
  whose: string,
  supportedBy: readonly string[],
): Figure | string {
  const value = figures[property];
  return value === undefined
    ? `the ${property} of ${whose} is not known`
    : seen(value, units[property], `${property} of ${whose}`, supportedBy);
}

function seen(value: number, unit: string, from: string, supportedBy: readonly string[]): Figure {
  return { quantity: { value, unit }, from, supportedBy, identified: NONE };
}
