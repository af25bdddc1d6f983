import { sameValue } from '../../model/component-value.ts';
import type { Component } from '../../model/dossier.ts';
import { recordOfId, thingId } from '../../model/ids.ts';
import type { OpenedSpecimen } from '../../state/specimen.ts';

/** What one component may be, by part and by maker, with what the bench saw of it. */
export interface Identity {
  /** Global id of the component. */
  readonly id: string;
  readonly component: Component;
  /** Probability of each catalogue part. */
  readonly parts: ReadonlyMap<string, number>;
  /** Probability of each maker of parts. */
  readonly makers: ReadonlyMap<string, number>;
}

/** Parts and makers that a component may be of; a part's maker is the first half of its id. */
export function identityOf({ id, identified }: OpenedSpecimen, component: Component): Identity {
  const parts = new Map<string, number>();
  const makers = new Map<string, number>();
  const add = (map: Map<string, number>, key: string, weight: number) =>
    map.set(key, Math.min(1, (map.get(key) ?? 0) + weight));
  for (const { part, maker, probability } of identified.get(component.id)?.candidates ?? []) {
    if (part !== undefined) add(parts, part, probability);
    const by = part === undefined ? maker : recordOfId(part);
    if (by !== undefined) add(makers, by, probability);
  }
  return { id: thingId(id, component.id), component, parts, makers };
}

/** Chance of being the same part where nobody could name either, by how they look (judged by us, no source). */
const UNNAMED = { alike: 0.8, unlike: 0.1, unseen: 0.5 } as const;
/** Bodies whose sides agree to this are of one size, mm: twice what a stage reads. */
const SAME_SIZE = 0.15;

/** How two components look beside one another. */
export type Looks = keyof typeof UNNAMED;

/**
 * Whether two components look like the same part: unlike when packages, terminals, bodies or values that were seen of both
 * differ; alike when some were seen of both and none differs. Markings are left out where date or lot codes may
 * differ: they count when equal.
 */
export function looksOf(a: Component, b: Component): Looks {
  const seen = [
    // Whichever of its sides somebody took for its x.
    sameSize(longer(a), longer(b)),
    sameSize(shorter(a), shorter(b)),
    sameSize(a.body?.height, b.body?.height),
    equal(a.package, b.package),
    equal(a.pins, b.pins),
    sameValue(a.value, b.value),
  ];
  if (seen.includes(false)) return 'unlike';
  return seen.includes(true) || equal(a.marking, b.marking) ? 'alike' : 'unseen';
}

/** All that {@link looksOf} looks at, as text: components of equal text look alike beside any other. */
export function looksText({ body, package: shape, pins, value, marking }: Component): string {
  return JSON.stringify([body?.length, body?.width, body?.height, shape, pins, value, marking]);
}

function longer({ body }: Component): number | undefined {
  return body && Math.max(body.length, body.width);
}

function shorter({ body }: Component): number | undefined {
  return body && Math.min(body.length, body.width);
}

function equal<T>(a: T | undefined, b: T | undefined): boolean | undefined {
  return a === undefined || b === undefined ? undefined : a === b;
}

function sameSize(a: number | undefined, b: number | undefined): boolean | undefined {
  return a === undefined || b === undefined ? undefined : Math.abs(a - b) <= SAME_SIZE;
}

/**
 * Probability that two components are the same catalogue part. A component and itself are, whatever it is. Otherwise:
 * two that carry the same marking have the same reading and the same doubt, so what is common to both lists of
 * candidates counts in full (the largest agreement that the two allow); other pairs are taken as independent. What is
 * left unnamed of either counts by how the two look.
 */
export function samePart(a: Identity, b: Identity, looks: Looks = looksOf(a.component, b.component)): number {
  if (a.id === b.id) return 1;
  const together = a.component.marking !== undefined && a.component.marking === b.component.marking;
  return agreement(a.parts, b.parts, looks !== 'unlike' && together, UNNAMED[looks]);
}

/** Probability that two components are of the same maker; as {@link samePart}. */
export function sameMaker(
  a: Identity,
  b: Identity,
  looks: Looks = looksOf(a.component, b.component),
): number {
  if (a.id === b.id) return 1;
  const together = a.component.marking !== undefined && a.component.marking === b.component.marking;
  return agreement(a.makers, b.makers, looks !== 'unlike' && together, UNNAMED[looks]);
}

function agreement(
  a: ReadonlyMap<string, number>,
  b: ReadonlyMap<string, number>,
  together: boolean,
  unnamed: number,
): number {
  const namedA = sum(a);
  const namedB = sum(b);
  let same = 0;
  for (const [key, weight] of a) {
    const other = b.get(key) ?? 0;
    same += together ? Math.min(weight, other) : weight * other;
  }
  // Both named and differing is the rest of what is named in both; what is unnamed in either is left to looks.
  const bothNamed = together ? Math.min(namedA, namedB) : namedA * namedB;
  return Math.min(1, same + (1 - Math.min(1, bothNamed)) * unnamed);
}

function sum(weights: ReadonlyMap<string, number>): number {
  let total = 0;
  for (const weight of weights.values()) total += weight;
  return Math.min(1, total);
}
