import { countKind } from '../compare/counts.ts';
import { comparedOf } from '../compare/representative.ts';
import type { Figure } from '../model/figure.ts';
import type { State } from '../state/state.ts';
import { chanceOf, poissonBinomial, type SuccessCount } from '../statistics/poisson-binomial.ts';
import { tidy } from '../statistics/tidy.ts';
import { fixed, inPercent } from '../text/rounding.ts';
import { deviceMatcher, devicesWhere, filterOfFigure } from '../trends/filter.ts';
import { periodsIn } from '../trends/measure.ts';
import { periodNumber, periodOf } from '../trends/period.ts';
import { shareTest } from '../trends/share-test.ts';
import { deviceWeights, mayHave, type Subject } from '../trends/subject.ts';
import { judge } from '../trends/verdict.ts';

/** A stated figure, worked out over what a state sees. */
export interface WorkedFigure {
  /** What the sentence states, in words. */
  readonly states: string;
  /** What the archive says, in words with n. */
  readonly found: string;
  /** Probability, 0 to 1, that what is stated holds for the opened devices; null for a trend, which is tested. */
  readonly probability: number | null;
  /** Of a trend alone: whether the test finds the direction stated. */
  readonly isFound?: boolean;
  /** Ids of the devices it was worked out over. */
  readonly devices: readonly string[];
}

/**
 * Works a figure out.
 * @throws CasebackError NOT_FOUND when it names what nothing visible has
 */
export async function workedFigure(state: State, figure: Figure): Promise<WorkedFigure> {
  if ('compare' in figure) return comparison(state, figure);
  if ('trend' in figure) return direction(state, figure);
  return counted(state, figure);
}

type Counted = Extract<Figure, { share: unknown } | { count: unknown }>;

/** The chance that the number of devices lies within what is stated, devices independent (Poisson-binomial). */
async function counted(state: State, figure: Counted): Promise<WorkedFigure> {
  const subject = 'share' in figure ? figure.share : figure.count;
  const devices = devicesWhere(state, filterOfFigure(figure.where));
  const weights = await deviceWeights(state, subject);
  const chances = devices.map(({ id }) => weights.get(id)?.probability ?? 0);
  const n = devices.length;
  const distribution = poissonBinomial(chances);
  const { atLeast, atMost } = figure;
  const whole = 'share' in figure ? n : 1;
  // A share of 0.3 of 10 devices is 3 of them; binary fractions must not make it 3.0000000000000004.
  const low = atLeast === undefined ? 0 : Math.ceil(atLeast * whole - 1e-9);
  const high = atMost === undefined ? n : Math.floor(atMost * whole + 1e-9);
  const certain = devices.filter(({ id }) => weights.get(id)?.certain).length;
  const possible = devices.filter(({ id }) => mayHave(weights.get(id))).length;
  return {
    states: `${boundsText(figure)} of the opened devices${filterText(figure.where)} have ${subjectText(subject)}`,
    found: `${certain} certain and ${possible} possible of ${n} opened, ${fixed(distribution.expectation, 1)} expected`,
    probability: n === 0 ? 0 : chanceBetween(distribution, low, high),
    devices: devices.map(({ id }) => id),
  };
}

function chanceBetween(distribution: SuccessCount, low: number, high: number): number {
  let sum = 0;
  for (let k = Math.max(low, distribution.lowest); k <= high; k++) {
    if (k - distribution.lowest >= distribution.chances.length) break;
    sum += chanceOf(distribution, k);
  }
  return Math.min(1, tidy(sum));
}

function comparison(
  state: State,
  { compare, devices, says }: Extract<Figure, { compare: unknown }>,
): WorkedFigure {
  const [first, second] = devices.map((id) => {
    const { specimen } = comparedOf(state, id);
    const weights = [...specimen.labels.values()].map((labels) => labels.get(compare) ?? 0);
    return { distribution: poissonBinomial(weights), count: countKind(specimen, compare) };
  });
  let probability = 0;
  const each = ({ lowest, chances }: SuccessCount) => [...chances].map((p, i) => [lowest + i, p] as const);
  for (const [a, p] of each(first.distribution)) {
    for (const [b, q] of each(second.distribution)) {
      if ((says === 'more' && a > b) || (says === 'fewer' && a < b) || (says === 'as-many' && a === b))
        probability += p * q;
    }
  }
  const counts = [first, second].map(({ count }) => `${count.certain} certain, ${count.possible} possible`);
  const words = {
    more: `more ${compare} than`,
    fewer: `fewer ${compare} than`,
    'as-many': `as many ${compare} as`,
  };
  return {
    states: `${devices[0]} has ${words[says]} ${devices[1]}`,
    found: `${devices[0]}: ${counts[0]}; ${devices[1]}: ${counts[1]}`,
    probability: Math.min(1, tidy(probability)),
    devices,
  };
}

/** The direction that `trends/` finds in the share of devices, tested by itself. */
async function direction(
  state: State,
  { trend: share, where, per, says }: Extract<Figure, { trend: unknown }>,
): Promise<WorkedFigure> {
  const weights = await deviceWeights(state, share);
  const devices = devicesWhere(state, filterOfFigure(where));
  const placed = devices.flatMap((device) => {
    const number = periodNumber(device.released, per);
    return number === undefined ? [] : [{ device, start: periodOf(number, per).start }];
  });
  const observed = placed.filter(({ device }) => weights.has(device.id));
  const test = shareTest(placed, weights);
  const [{ verdict }] = judge([{ n: observed.length, periods: periodsIn(observed), test, unit: null }]);
  return {
    states: `the share of opened devices${filterText(where)} with ${subjectText(share)} is ${says}`,
    found: verdict.sentence,
    probability: null,
    isFound: verdict.direction === says,
    devices: devices.map(({ id }) => id),
  };
}

function boundsText(figure: Counted): string {
  const unit = (value: number) => ('share' in figure ? `${Number(inPercent(value, 1))} %` : String(value));
  const { atLeast, atMost } = figure;
  if (atLeast !== undefined && atLeast === atMost) return `exactly ${unit(atLeast)}`;
  const bounds = [
    ...(atLeast === undefined ? [] : [`at least ${unit(atLeast)}`]),
    ...(atMost === undefined ? [] : [`at most ${unit(atMost)}`]),
  ];
  return bounds.length === 0 ? 'any number' : bounds.join(' and ');
}

/** Whether a figure is worked out over a device, as a state sees it. */
export function figureCovers(state: State, figure: Figure): (deviceId: string) => boolean {
  const seen = (id: string) => state.device(id);
  if ('compare' in figure) return (id) => figure.devices.includes(id) && seen(id) !== undefined;
  const { maker, productLine } = figure.where;
  if ((maker && !state.maker(maker)) || (productLine && !state.productLine(productLine))) return () => false;
  const passes = deviceMatcher(state, filterOfFigure(figure.where));
  return (id) => {
    const device = seen(id);
    return device !== undefined && passes(device);
  };
}

/** A subject in words. */
function subjectText(subject: Subject): string {
  const [[kind, id]] = Object.entries(subject);
  return `${kind} ${id}`;
}

function filterText(where: Readonly<Record<string, string | undefined>>): string {
  const given = Object.entries(where).flatMap(([name, value]) => (value ? [`${name} ${value}`] : []));
  return given.length === 0 ? '' : ` (${given.join(', ')})`;
}
