import type { Surrounding } from '../classes/class-pinouts.ts';
import type { NetClues } from '../classes/net-clues.ts';
import { likeliestCategory } from '../state/labels.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import { LEARN_FROM } from './habits.ts';

/** Surroundings of a pin that name no neighbour: who it is has not been counted yet. */
const NAMELESS: ReadonlySet<Surrounding> = new Set([
  'signal',
  'rail',
  'i2c',
  'spi',
  'debug',
  'usb',
  'audio',
  'uart',
]);

/**
 * Categories and buses of what a component is connected to, each neighbour once.
 * @param counted what its nets say, where that is weighed beside: a neighbour whose kind they tell is left out (an inductor,
 *   a crystal, the cell), and so is the bus or supply of one that they reach
 */
export function neighboursOf(
  specimen: OpenedSpecimen,
  designator: string,
  counted?: NetClues,
): readonly { readonly category: string; readonly bus: string | undefined }[] {
  const seen = new Set<string>();
  return (specimen.connections.get(designator) ?? []).flatMap(({ between, bus }) => {
    const other = between[0] === designator ? between[1] : between[0];
    if (seen.has(other)) return [];
    seen.add(other);
    const met = counted?.met(other) ?? [];
    if (met.length > 0 && !met.some((one) => NAMELESS.has(one))) return [];
    const category = plainCategory(specimen, other);
    const isTold = met.some((one) => one !== 'signal');
    return category === undefined ? [] : [{ category, bus: isTold ? undefined : bus }];
  });
}

/** Categories already found, while a specimen stays unpacked: a hub is the neighbour of many. */
const plainCategories = new WeakMap<OpenedSpecimen, Map<string, string | undefined>>();

/** What a component is without much doubt. */
function plainCategory(specimen: OpenedSpecimen, designator: string): string | undefined {
  let known = plainCategories.get(specimen);
  if (!known) {
    known = new Map();
    plainCategories.set(specimen, known);
  }
  if (known.has(designator)) return known.get(designator);
  const weights = specimen.named.get(designator);
  const category = weights && likeliestCategory(weights);
  const plain = category && category.probability >= LEARN_FROM ? category.term : undefined;
  known.set(designator, plain);
  return plain;
}
