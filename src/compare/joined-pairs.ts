import { derivedNets } from '../nets/nets.ts';
import type { PartOf } from '../state/pins.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';

/** Two local ids of components, or of a component and a board. */
export type JoinedPair = readonly [string, string];

/**
 * What is joined beside what traced connections join: two components on one signal net, and a supply with the loads on its own
 * rail. Rails and ground by themselves join nothing. Each pair is given once.
 */
export function joinedByNets(specimen: OpenedSpecimen, partOf: PartOf): readonly JoinedPair[] {
  const { sharedNets, feeds } = derivedNets(specimen, partOf);
  const traced = new Set(specimen.joined.flatMap(({ between: [a, b] }) => [`${a} ${b}`, `${b} ${a}`]));
  const pairs = [
    ...sharedNets.map(({ ends }) => ends),
    ...feeds.flatMap(({ source, load, through }) => (through.length === 0 ? [[source, load] as const] : [])),
  ];
  return pairs.filter(([a, b]) => {
    if (a === b || traced.has(`${a} ${b}`)) return false;
    traced.add(`${a} ${b}`).add(`${b} ${a}`);
    return true;
  });
}
