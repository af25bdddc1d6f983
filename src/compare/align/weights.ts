import { CasebackError } from '../../model/problems.ts';

/**
 * What the weights and limits of an alignment mean, and their defaults. All are judgements of the editors' desk (common
 * practice, no source), but for `margin`, which was set so that stated certainties come true on devices remade with known
 * changes (tests/compare/known-truth.test.ts). The first group are shares of the cost of pairing two components: each is
 * multiplied by a distance from 0 to 1, and the sum is divided by the sum of the weights.
 */
export const WEIGHT_TABLE = {
  labels: { default: 0.36, is: 'Weight of the distance of their kinds in the taxonomy, doubt included.' },
  part: { default: 0.24, is: 'Weight of the probability that they are not the same catalogue part.' },
  maker: { default: 0.06, is: 'Weight of the probability that they are not of the same maker.' },
  subsystem: { default: 0.1, is: 'Weight of standing in subsystems of unlike kind.' },
  board: { default: 0.08, is: 'Weight of sitting on boards that do not correspond.' },
  side: { default: 0.04, is: 'Weight of sitting on unlike sides of their boards.' },
  neighbourhood: { default: 0.08, is: 'Weight of the difference of the kinds of what they connect to.' },
  position: { default: 0.03, is: 'Weight of the distance of their places on boards that correspond.' },
  designator: { default: 0.01, is: 'Weight of unlike reference designators; parts twins.' },
  unmatched: {
    default: 0.3,
    is: 'Cost of leaving one component without a counterpart; two are never paired above twice this.',
  },
  role: {
    default: 0.7,
    is: 'Largest distance of kinds, 0 to 1, at which two components can have the same role.',
  },
  margin: {
    default: 0.05,
    is: 'Cost by which the next best pairing must be costlier for odds of e to 1 that this pairing is right.',
  },
} as const satisfies Readonly<Record<string, { readonly default: number; readonly is: string }>>;

export type WeightName = keyof typeof WEIGHT_TABLE;
export type AlignmentWeights = Readonly<Record<WeightName, number>>;

/** Names of the weights whose distances make up the cost of a pair. */
export const COST_WEIGHTS = [
  'labels',
  'part',
  'maker',
  'subsystem',
  'board',
  'side',
  'neighbourhood',
  'position',
  'designator',
] as const satisfies readonly WeightName[];
export type CostWeight = (typeof COST_WEIGHTS)[number];

/** The defaults of {@link WEIGHT_TABLE}. */
export const DEFAULT_WEIGHTS: AlignmentWeights = Object.fromEntries(
  Object.entries(WEIGHT_TABLE).map(([name, { default: value }]) => [name, value]),
) as AlignmentWeights;

/**
 * The defaults with some of them changed.
 * @throws CasebackError BAD_INPUT when a weight is negative, all costs are 0, or `role`, `unmatched` or `margin` is out of range
 */
export function alignmentWeights(changed: Partial<AlignmentWeights> = {}): AlignmentWeights {
  const weights = { ...DEFAULT_WEIGHTS };
  for (const [name, value] of Object.entries(changed)) {
    if (!(name in WEIGHT_TABLE)) {
      const known = Object.keys(WEIGHT_TABLE).join(', ');
      throw new CasebackError(
        'BAD_INPUT',
        `"${name}" is not a weight of an alignment; the weights are ${known}`,
      );
    }
    if (value === undefined || value === null) continue;
    if (!Number.isFinite(value) || value < 0 || value > 1_000)
      throw new CasebackError('BAD_INPUT', `weight ${name} is ${value}; it must be a number from 0 to 1000`);
    weights[name as WeightName] = value;
  }
  if (COST_WEIGHTS.every((name) => weights[name] === 0))
    throw new CasebackError('BAD_INPUT', `all of ${COST_WEIGHTS.join(', ')} are 0; one must be above`);
  for (const name of ['role', 'unmatched'] as const) {
    if (weights[name] > 1)
      throw new CasebackError('BAD_INPUT', `weight ${name} is ${weights[name]}; it must be 0 to 1`);
  }
  if (weights.margin === 0)
    throw new CasebackError('BAD_INPUT', 'weight margin is 0; it must be above, such as 0.05');
  return weights;
}
