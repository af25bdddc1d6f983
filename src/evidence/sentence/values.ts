import type { Board } from '../../model/board.ts';
import { gapOfBodies } from '../../model/body.ts';
import type { Part } from '../../model/catalogue.ts';
import { readComponentValue } from '../../model/component-value.ts';
import type { Component, Device } from '../../model/dossier.ts';
import { pinOf } from '../../model/ids.ts';
import type { Net } from '../../model/net.ts';
import { areaOf, extentOf } from '../../model/outline.ts';
import { convert, formatQuantity, type Quantity, sameDimension } from '../../model/quantity.ts';
import { writtenUnit } from '../../model/written-unit.ts';
import type { OpenedSpecimen } from '../../state/specimen.ts';
import { tidy } from '../../statistics/tidy.ts';
import { quantitiesIn, type StatedQuantity } from './quantities.ts';

/** A value recorded under a sentence. */
export interface ValueBeneath {
  readonly quantity: Quantity;
  /** What it is, in words with an id. */
  readonly of: string;
  /** Values of the same field of two things may be subtracted or divided; null where that says nothing. */
  readonly field: string | null;
}

/** A component of a specimen, for the distances between two. */
export interface Placed {
  readonly component: Component;
  readonly opened: OpenedSpecimen;
}

const mm = (value: number): Quantity => ({ value: tidy(value), unit: 'mm' });

function sized(
  id: string,
  size: { readonly length: number; readonly width: number; readonly height?: number | undefined } | undefined,
): readonly ValueBeneath[] {
  if (!size) return [];
  const { length, width, height } = size;
  return [
    { quantity: mm(length), of: `length of ${id}`, field: 'length' },
    { quantity: mm(width), of: `width of ${id}`, field: 'width' },
    ...(height === undefined ? [] : [{ quantity: mm(height), of: `height of ${id}`, field: 'height' }]),
  ];
}

/** Mass, size and price of a device. */
export function ofDevice({ id, mass, dimensions, price }: Device): readonly ValueBeneath[] {
  const sizes = Object.entries(dimensions ?? {}).flatMap(([field, quantity]) =>
    quantity ? [{ quantity, of: `${field} of ${id}`, field }] : [],
  );
  return [
    ...(mass ? [{ quantity: mass, of: `mass of ${id}`, field: 'mass' }] : []),
    ...sizes,
    ...(price
      ? [{ quantity: { value: price.amount, unit: '1' }, of: `price of ${id}`, field: 'price' }]
      : []),
  ];
}

/** Parameters and body of a part. */
export function ofPart(id: string, { parameters, body }: Part): readonly ValueBeneath[] {
  const stated = Object.entries(parameters).flatMap(([field, value]) =>
    isQuantity(value) ? [{ quantity: value, of: `${field} of ${id}`, field }] : [],
  );
  return [...stated, ...sized(id, body)];
}

function isQuantity(value: unknown): value is Quantity {
  return typeof value === 'object' && value !== null && 'value' in value && 'unit' in value;
}

/** Extent and area of a board. */
export function ofBoard(id: string, { outline }: Board): readonly ValueBeneath[] {
  if (!outline) return [];
  const extent = extentOf(outline);
  const [width, length] = [extent.length, extent.width].sort((a, b) => a - b);
  return [
    ...sized(id, { length, width }),
    { quantity: { value: tidy(areaOf(outline)), unit: 'mm2' }, of: `area of ${id}`, field: 'area' },
  ];
}

/** Voltage of a net. */
export function ofNet(id: string, { voltage }: Net): readonly ValueBeneath[] {
  return voltage ? [{ quantity: voltage, of: `voltage of ${id}`, field: 'voltage' }] : [];
}

/** Body and value of a component, and the voltages of the nets that it is on. */
export function ofComponent(
  id: string,
  { id: local, body, value, marking }: Component,
  { nets }: OpenedSpecimen,
): readonly ValueBeneath[] {
  const read = value === undefined ? undefined : readComponentValue(value);
  const electrical: readonly (readonly [string, number | undefined, string])[] = [
    ['resistance', read?.resistance, 'Ohm'],
    ['capacitance', read?.capacitance, 'F'],
    ['inductance', read?.inductance, 'H'],
    ['frequency', read?.frequency, 'Hz'],
    ['rated voltage', read?.ratedVoltage, 'V'],
  ];
  const on = nets.filter(({ pins }) => pins.some((pin) => pinOf(pin).component === local));
  return [
    ...sized(id, body),
    ...electrical.flatMap(([field, number, unit]) =>
      number === undefined ? [] : [{ quantity: { value: number, unit }, of: `${field} of ${id}`, field }],
    ),
    ...ofMarking(marking, id),
    ...on.flatMap((net) => ofNet(`${net.label ?? net.id} at ${id}`, net)),
  ];
}

/** Numbers with units in a text. @param of what says so */
export function ofText(text: string, of: string): readonly ValueBeneath[] {
  return quantitiesIn(text).map(({ value, low, high, unit }) => {
    const spread = Math.min(value - low, high - value);
    return {
      quantity: Number.isFinite(spread) && spread > 0 ? { value, unit, plusMinus: spread } : { value, unit },
      of: `text of ${of}`,
      field: null,
    };
  });
}

/**
 * Numbers with units that are marked on something: "17 mAh" on a cell. A number with a letter behind it may as well be a date or a lot
 * ("11A"), so that one of a single letter counts with a decimal point alone (chosen: common practice, no source).
 */
export function ofMarking(marking: string | undefined, id: string): readonly ValueBeneath[] {
  if (marking === undefined) return [];
  return marking
    .split('\n')
    .flatMap((line) =>
      quantitiesIn(line).flatMap(({ text, value, unit }) =>
        /^[A-Z]$/iu.test(unit) && !/\d\.\d/u.test(text)
          ? []
          : [{ quantity: { value, unit }, of: `marking of ${id}`, field: null }],
      ),
    );
}

/** Above this many values of a kind no differences are taken: a sentence under which so much lies names none of them. */
const MOST_PAIRED = 40;

/** Distances between the components that a sentence names, from edge to edge and from centre to centre. */
function distances(components: readonly Placed[]): readonly ValueBeneath[] {
  if (components.length > MOST_PAIRED) return [];
  return components.flatMap((a, i) =>
    components.slice(i + 1).flatMap((b) => {
      if (a.opened !== b.opened || a.component.board !== b.component.board) return [];
      const [from, to] = [a.component.at, b.component.at];
      const gap = gapOfBodies(a.component, b.component);
      if (!from || !to || gap === undefined) return [];
      const between = `between ${a.component.id} and ${b.component.id}`;
      return [
        { quantity: mm(gap), of: `gap ${between}`, field: null },
        {
          quantity: mm(Math.hypot(from.x - to.x, from.y - to.y)),
          of: `distance ${between}, centre to centre`,
          field: null,
        },
      ];
    }),
  );
}

/** Differences and relative changes of two values of the same field. */
function changes(values: readonly ValueBeneath[]): readonly ValueBeneath[] {
  if (values.length > MOST_PAIRED * 4) return [];
  return [...Map.groupBy(values, ({ field }) => field)].flatMap(([field, group]) =>
    field === null || group.length > MOST_PAIRED
      ? []
      : group.flatMap((a, i) =>
          group.slice(i + 1).flatMap((b) => {
            if (!sameDimension(a.quantity.unit, b.quantity.unit)) return [];
            const other = convert(b.quantity, a.quantity.unit);
            const difference = Math.abs(a.quantity.value - other.value);
            const of = `${a.of} and ${b.of}`;
            const spread = (a.quantity.plusMinus ?? 0) + (other.plusMinus ?? 0);
            const relative = [a.quantity.value, other.value].flatMap((whole) =>
              whole === 0
                ? []
                : [
                    {
                      quantity: { value: tidy((100 * difference) / Math.abs(whole)), unit: '%' },
                      of: `change between ${of}`,
                      field: null,
                    },
                  ],
            );
            return [
              {
                quantity: { value: tidy(difference), unit: a.quantity.unit, plusMinus: spread },
                of: `difference of ${of}`,
                field: null,
              },
              ...relative,
            ];
          }),
        ),
  );
}

/** How a stated quantity compares with what is recorded. */
export interface Compared {
  /** A value that it fits; undefined where none does. */
  readonly fits: ValueBeneath | undefined;
  /** Values that measure the same thing, nearest first; without differences and distances. */
  readonly same: readonly ValueBeneath[];
}

/** Compares a stated quantity with the values under its sentence, their differences, and distances of its components. */
export function compareQuantity(
  stated: StatedQuantity,
  values: readonly ValueBeneath[],
  components: readonly Placed[],
): Compared {
  const same = values
    .filter(({ quantity }) => sameDimension(quantity.unit, stated.unit))
    .sort((a, b) => distanceTo(stated, a) - distanceTo(stated, b));
  const derived = [...distances(components), ...changes(values)];
  const fits = [...same, ...derived].find(
    ({ quantity }) => sameDimension(quantity.unit, stated.unit) && isWithin(stated, quantity),
  );
  return { fits, same };
}

function distanceTo({ value, unit }: StatedQuantity, { quantity }: ValueBeneath): number {
  const other = convert(quantity, unit).value;
  return Math.abs(
    Math.log(Math.abs(other) + Number.MIN_VALUE) - Math.log(Math.abs(value) + Number.MIN_VALUE),
  );
}

/** Binary fractions must not make 2.85 lie outside 2.8 ± 0.05. */
const ROUNDING = 1e-9;

function isWithin({ low, high, unit }: StatedQuantity, quantity: Quantity): boolean {
  const { value, plusMinus = 0 } = convert(quantity, unit);
  const slack = ROUNDING * Math.max(1, Math.abs(value)) + plusMinus;
  return value + slack >= low && value - slack <= high;
}

/** A value in words: `thickness x/a/o1, 0.6 mm`. */
export function valueText({ quantity, of }: ValueBeneath): string {
  const { unit, ...rest } = quantity;
  return `${of}: ${formatQuantity({ ...rest, unit: '1' })} ${writtenUnit(unit)}`.trim();
}
