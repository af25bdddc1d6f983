/**
 * Label weights and the label hierarchy.
 */
import { GraphInputError, type LabelHierarchy, type LabelInput } from './input.ts';

/** Every ancestor of every label, nearest first. Throws when the hierarchy has a cycle. */
export function ancestorsOf(hierarchy: LabelHierarchy): ReadonlyMap<string, readonly string[]> {
  const done = new Map<string, readonly string[]>();
  const open = new Set<string>();
  const visit = (label: string): readonly string[] => {
    const known = done.get(label);
    if (known) return known;
    if (open.has(label)) throw new GraphInputError(`The label hierarchy has a cycle through ${label}`);
    open.add(label);
    const found = new Set<string>();
    for (const parent of hierarchy[label] ?? []) {
      found.add(parent);
      for (const above of visit(parent)) found.add(above);
    }
    open.delete(label);
    const list = [...found];
    done.set(label, list);
    return list;
  };
  for (const label of Object.keys(hierarchy)) visit(label);
  return done;
}

/**
 * The labels of a node with their weights, super-labels included. A weight the caller gives stands. A missing
 * super-label gets the sum of the weights of its given sub-labels that no other given sub-label of it lies under,
 * capped at 1: alternatives for one thing exclude each other, so their probabilities add.
 */
export function expandLabels(
  labels: readonly LabelInput[],
  ancestors: ReadonlyMap<string, readonly string[]>,
): Map<string, number> {
  const given = new Map<string, number>();
  for (const entry of labels) {
    const label = typeof entry === 'string' ? entry : entry.label;
    const weight = typeof entry === 'string' ? 1 : entry.weight;
    if (!(weight >= 0 && weight <= 1))
      throw new GraphInputError(`Weight ${weight} of label ${label} is not within 0 and 1`);
    if (weight > 0) given.set(label, weight);
  }
  if (ancestors.size === 0) return given;
  const all = new Map(given);
  const added = new Map<string, string[]>();
  for (const label of given.keys()) {
    for (const above of ancestors.get(label) ?? []) {
      if (given.has(above)) continue;
      const below = added.get(above);
      if (below) below.push(label);
      else added.set(above, [label]);
    }
  }
  for (const [above, below] of added) {
    let sum = 0;
    for (const label of below) {
      const covered = below.some((other) => ancestors.get(label)?.includes(other));
      if (!covered) sum += given.get(label)!;
    }
    // Sums such as 0.7 + 0.2 + 0.1 must reach 1 in spite of rounding.
    all.set(above, sum > 1 - 1e-12 ? 1 : sum);
  }
  return all;
}
