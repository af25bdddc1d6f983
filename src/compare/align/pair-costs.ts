import { correspondingBoards } from './boards.ts';
import type { Feature, Features } from './features.ts';
import { kindDistance, NEUTRAL } from './kind-distance.ts';
import { looksOf, sameMaker, samePart } from './sameness.ts';
import { spreadDistance } from './spread.ts';
import { type AlignmentWeights, COST_WEIGHTS } from './weights.ts';

/** What is known of every pair of components of two specimens. */
export interface PairCosts {
  /** Cost of pairing, 0 to 1; Infinity where the two cannot have the same role. */
  readonly costs: readonly Float64Array[];
  /** For each board id of the first specimen the id of the one that corresponds to it. */
  readonly boards: ReadonlyMap<string, string>;
}

/** How far apart on boards that correspond two places count as entirely different, in board lengths. */
const FAR = 0.5;

/** Costs of pairing the components of two specimens, in the order of their features. */
export function pairCosts(a: Features, b: Features, weights: AlignmentWeights): PairCosts {
  const boards = correspondingBoards(a.boards, b.boards);
  const whole = COST_WEIGHTS.reduce((sum, name) => sum + weights[name], 0);
  // A board has many components that are alike in all but place and name, so what they cost is worked out once.
  const [whatA, whatB] = [a, b].map(({ components }) => classesOf(components, ({ what }) => what));
  const whatApart = (one: Feature, other: Feature) => {
    const kind = kindDistance(a.kinds[one.kind], b.kinds[other.kind]);
    if (kind > weights.role) return Infinity;
    const looks = looksOf(one.component, other.component);
    return (
      weights.labels * kind +
      weights.part * (1 - samePart(one.identity, other.identity, looks)) +
      weights.maker * (1 - sameMaker(one.identity, other.identity, looks))
    );
  };
  const what = table(whatA, whatB, whatApart);
  const [aroundA, aroundB] = [a, b].map(({ components }) => classesOf(components, ({ around }) => around));
  const around = table(aroundA, aroundB, (one, other) =>
    one.neighbours && other.neighbours ? spreadDistance(one.neighbours, other.neighbours) : NEUTRAL,
  );
  const costs = a.components.map((one, i) => {
    const row = new Float64Array(b.components.length);
    const [ofWhat, ofAround] = [what[whatA.classOf[i]], around[aroundA.classOf[i]]];
    b.components.forEach((other, j) => {
      // A component and itself are the same part, whatever it is.
      const isItself = one.identity.id === other.identity.id;
      const alike = isItself ? whatApart(one, other) : ofWhat[whatB.classOf[j]];
      if (alike === Infinity) {
        row[j] = Infinity;
        return;
      }
      const board = boardDistance(one, other, boards);
      const cost =
        alike +
        weights.subsystem * unlike(one.subsystem, other.subsystem) +
        weights.board * board +
        weights.side * sideDistance(one, other) +
        weights.neighbourhood * ofAround[aroundB.classOf[j]] +
        weights.position * placeDistance(one, other, board) +
        weights.designator * (one.designator === other.designator ? 0 : 1);
      row[j] = cost / whole;
    });
    return row;
  });
  return { costs, boards };
}

/** Components that are alike in some respect, each class by its first. */
interface Classes {
  readonly first: readonly Feature[];
  readonly classOf: Int32Array;
}

function classesOf(components: readonly Feature[], textOf: (feature: Feature) => string): Classes {
  const first: Feature[] = [];
  const numbers = new Map<string, number>();
  const classOf = Int32Array.from(components, (one) => {
    const text = textOf(one);
    const number = numbers.get(text) ?? first.push(one) - 1;
    numbers.set(text, number);
    return number;
  });
  return { first, classOf };
}

function table(
  a: Classes,
  b: Classes,
  distance: (one: Feature, other: Feature) => number,
): readonly Float64Array[] {
  return a.first.map((one) => Float64Array.from(b.first, (other) => distance(one, other)));
}

function unlike(a: string | undefined, b: string | undefined): number {
  if (a === undefined || b === undefined) return NEUTRAL;
  return a === b ? 0 : 1;
}

/** 0 when two components sit on boards that correspond, or both off the boards; else 1. */
export function boardDistance(
  { component: a }: Feature,
  { component: b }: Feature,
  boards: ReadonlyMap<string, string>,
): 0 | 1 {
  if (a.board === undefined || b.board === undefined) return a.board === b.board ? 0 : 1;
  return boards.get(a.board) === b.board ? 0 : 1;
}

function sideDistance({ component: a }: Feature, { component: b }: Feature): number {
  return a.board === undefined && b.board === undefined ? 0 : unlike(a.side, b.side);
}

function placeDistance(a: Feature, b: Feature, board: 0 | 1): number {
  if (!a.place || !b.place || board === 1) return NEUTRAL;
  return Math.min(1, Math.hypot(a.place.x - b.place.x, a.place.y - b.place.y) / FAR);
}
