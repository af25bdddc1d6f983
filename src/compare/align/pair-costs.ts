import { designatorOf } from '../../model/designator.ts';
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
  const costs = a.components.map(() => new Float64Array(b.components.length));
  const kinds = a.kinds.map((one) => b.kinds.map((other) => kindDistance(one, other)));
  a.components.forEach((one, i) => {
    b.components.forEach((other, j) => {
      const kind = kinds[one.kind][other.kind];
      if (kind > weights.role) {
        costs[i][j] = Infinity;
        return;
      }
      const looks = looksOf(one.component, other.component);
      const cost =
        weights.labels * kind +
        weights.part * (1 - samePart(one.identity, other.identity, looks)) +
        weights.maker * (1 - sameMaker(one.identity, other.identity, looks)) +
        weights.subsystem * unlike(one.subsystem, other.subsystem) +
        weights.board * boardDistance(one, other, boards) +
        weights.side * sideDistance(one, other) +
        weights.neighbourhood *
          (one.neighbours && other.neighbours ? spreadDistance(one.neighbours, other.neighbours) : NEUTRAL) +
        weights.position * placeDistance(one, other, boards) +
        weights.designator * (designatorOf(one.component.id) === designatorOf(other.component.id) ? 0 : 1);
      costs[i][j] = cost / whole;
    });
  });
  return { costs, boards };
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

function placeDistance(a: Feature, b: Feature, boards: ReadonlyMap<string, string>): number {
  if (!a.place || !b.place || boardDistance(a, b, boards) === 1) return NEUTRAL;
  return Math.min(1, Math.hypot(a.place.x - b.place.x, a.place.y - b.place.y) / FAR);
}
