import { lineage, TERMS } from '../../model/taxonomy.ts';

const below = new Map<string, number>();
for (const term of TERMS) for (const above of lineage(term)) below.set(above, (below.get(above) ?? 0) + 1);
const most = Math.max(...below.values());

/**
 * How much a term of the taxonomy says, 0 to 1, from the shape of the taxonomy alone: 1 for a leaf, 0 for Component,
 * 1 - log(terms under it, itself included) / log(terms under Component) between (Seco, Veale & Hayes, ECAI 2004, 1089-1090).
 */
export function informationOf(term: string): number {
  const under = below.get(term);
  if (under === undefined) throw new Error(`"${term}" is not a term of the component taxonomy`);
  return 1 - Math.log(under) / Math.log(most);
}
