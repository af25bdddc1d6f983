import type { Board } from '../classes/board.ts';
import type { Dossier, Identification } from '../model/dossier.ts';
import { fallenIn, hasBasis } from '../model/standing.ts';
import { type CategoriesOf, currentIdentifications, isFitted, labelWeights } from './labels.ts';

/** A board with the whole of its dossier and identifications. */
export interface DossierBoard extends Board {
  readonly dossier: Dossier;
  readonly identified: ReadonlyMap<string, Identification>;
}

/** What follows from a dossier and the catalogue alone, whatever the archive has taught. */
export function boardOf(dossier: Dossier, categoriesOf: CategoriesOf): DossierBoard {
  const identified = currentIdentifications(dossier);
  const fallen = fallenIn(dossier.observations);
  const stands = ({ basis }: { readonly basis: readonly string[] }) => hasBasis(basis, fallen);
  const empty = new Set(dossier.components.flatMap((one) => (isFitted(one) ? [] : [one.id])));
  return {
    dossier,
    components: new Map(dossier.components.map((component) => [component.id, component])),
    nets: (dossier.nets ?? []).filter(stands),
    joined: dossier.connections.filter(
      (one) => stands(one) && (empty.size === 0 || !one.between.some((id) => empty.has(id))),
    ),
    named: new Map(
      dossier.components.map((one) => [one.id, labelWeights(one, identified.get(one.id), categoriesOf)]),
    ),
    identified,
    observations: groupedByEach(dossier.observations, ({ about }) => about),
  };
}

export function groupedByEach<T>(
  items: readonly T[],
  keysOf: (item: T) => readonly string[],
): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const item of items) {
    for (const key of new Set(keysOf(item))) {
      const group = groups.get(key);
      if (group) group.push(item);
      else groups.set(key, [item]);
    }
  }
  return groups;
}
