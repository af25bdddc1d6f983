import { likeliestCategory } from '../state/labels.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import { LEARN_FROM } from './habits.ts';

/** Categories and buses of what a component is connected to, each neighbour once. */
export function neighboursOf(
  specimen: OpenedSpecimen,
  designator: string,
): readonly { readonly category: string; readonly bus: string | undefined }[] {
  const seen = new Set<string>();
  return (specimen.connections.get(designator) ?? []).flatMap(({ between, bus }) => {
    const other = between[0] === designator ? between[1] : between[0];
    if (seen.has(other)) return [];
    seen.add(other);
    const category = plainCategory(specimen, other);
    return category === undefined ? [] : [{ category, bus }];
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
