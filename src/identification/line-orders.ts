import type { MarkingText } from '../model/marking.ts';
import { readable } from './marking-model.ts';

// Lines of a marking are not always written down as the catalogue lists them: a package is read upside down or from its date
// code on, and makers print their letters, a plant or a country above or below what is listed. Each way of taking the lines is
// an alternative with a share; the rest is as listed.

/** How often lines are written down in another order, and how often one is none of those listed (common practice, no source). */
const OTHER_ORDER = 0.04;
const ONE_MORE = 0.04;
/** Of more lines than this only the order as it is, turned round and without one end are looked at. */
const MANY_LINES = 4;

/** One way to take the lines of a marking. */
export interface LineOrder {
  readonly marking: MarkingText;
  /** Natural logarithm of its share. */
  readonly log: number;
}

/** Ways to take the lines of a marking, that in which they were written first; the shares sum to 1 at most. */
export function lineOrdersOf(marking: MarkingText): readonly LineOrder[] {
  const lines = marking.filter((line) => readable([line]).length > 0);
  const count = lines.length;
  if (count < 2) return [{ marking, log: 0 }];
  const places = [...lines.keys()];
  const orders = count > MANY_LINES ? [places.toReversed()] : ordersOf(places);
  const without = (count > MANY_LINES ? [0, count - 1] : places)
    .map((left) => places.filter((place) => place !== left))
    .filter((kept) => kept.some((place) => lines[place].some(({ options }) => options.length > 0)));
  const of = (all: readonly (readonly number[])[], share: number) =>
    all.map((kept) => ({
      marking: kept.map((place) => lines[place]),
      log: Math.log(share / all.length),
    }));
  return [
    { marking: lines, log: Math.log(1 - OTHER_ORDER - ONE_MORE) },
    ...of(orders, OTHER_ORDER),
    ...of(without, ONE_MORE),
  ];
}

/** Turned round, two neighbours changed, or one end put to the other. */
function ordersOf(places: readonly number[]): readonly (readonly number[])[] {
  const swapped = places.slice(1).map((_, at) => {
    const order = [...places];
    [order[at], order[at + 1]] = [order[at + 1], order[at]];
    return order;
  });
  const all = [
    places.toReversed(),
    ...swapped,
    [...places.slice(1), places[0]],
    [places[places.length - 1], ...places.slice(0, -1)],
  ];
  return [...new Map(all.map((order) => [order.join(' '), order])).values()];
}
