import { yearOf } from '../model/dates.ts';
import type { Device } from '../model/dossier.ts';
import { Pace } from '../state/pace.ts';
import type { State } from '../state/state.ts';
import { firstAdopters } from './adopters.ts';
import type { TrendAnswer, TrendQuestion, TrendSeries } from './answer.ts';
import type { PeriodLength } from './asked.ts';
import { checkQuestion } from './check-question.ts';
import { countMeasure } from './count-measure.ts';
import { type Group, groupsOf } from './facet.ts';
import { devicesWhere, filterInWords } from './filter.ts';
import { type Placed, periodsIn, type ReadyMeasure } from './measure.ts';
import { axisOf, type Period, periodNumber } from './period.ts';
import { quantityMeasure } from './quantity-measure.ts';
import { shareMeasure } from './share-measure.ts';
import { judge, type Tested } from './verdict.ts';

type UnjudgedSeries = Omit<TrendSeries, 'test' | 'verdict'> & { readonly tested: Tested };

/** An answer whose tests are not yet corrected for those of the others. */
export interface Unjudged extends Omit<TrendAnswer, 'total' | 'groups'> {
  /** The total first, then the groups. */
  readonly series: readonly UnjudgedSeries[];
}

/**
 * Calculates everything but the corrected tests, over what the state may see.
 * @throws CasebackError for contradictory input or unknown ids; PatternError for a text that is not a valid pattern
 */
export async function measured(
  state: State,
  question: TrendQuestion,
  signal?: AbortSignal,
): Promise<Unjudged> {
  checkQuestion(question);
  const per = question.per ?? 'year';
  const devices = devicesWhere(state, question.where ?? {});
  const measure = await readyMeasure(state, question, devices, signal);
  const pace = new Pace(signal);
  const inPeriod = byPeriod(devices, per);
  const axis = axisOf(
    [...inPeriod.keys()].filter((number) => number !== undefined),
    per,
  );
  const all = { value: null, label: 'all', devices };
  const series: UnjudgedSeries[] = [await seriesOf(all, inPeriod, axis, measure, pace)];
  for (const group of groupsOf(state, devices, question))
    series.push(await seriesOf(group, byPeriod(group.devices, per), axis, measure, pace));
  const weightOf = measure.weightOf;
  const { adopters, more, unobserved } = weightOf
    ? firstAdopters(devices, weightOf, measure.observed)
    : { adopters: [], more: 0, unobserved: 0 };
  return {
    of: measure.of,
    unit: measure.unit,
    per,
    by: question.by ?? null,
    only: filterInWords(state, question.where ?? {}),
    series,
    firstAdopters: adopters,
    cautions: [
      ...cautions(series, devices, per, weightOf !== undefined),
      ...measure.cautions(devices),
      ...(unobserved > 0
        ? [
            `Devices that may be older than the first, in which it was not observed: ${unobserved}; any of them may be the first.`,
          ]
        : []),
      ...(more > 0 ? [`More devices that may be among the first: ${more}; they are not listed.`] : []),
    ],
  };
}

/** Answers with their tests, corrected for one another. */
export function judged(answers: readonly Unjudged[]): readonly TrendAnswer[] {
  const verdicts = judge(answers.flatMap(({ series }) => series.map(({ tested }) => tested)));
  let next = 0;
  return answers.map(({ series, ...answer }) => {
    const [total, ...groups] = series.map(({ tested: _, ...rest }) => ({ ...rest, ...verdicts[next++] }));
    return { ...answer, total, groups };
  });
}

function readyMeasure(
  state: State,
  { of, currency }: TrendQuestion,
  devices: readonly Device[],
  signal: AbortSignal | undefined,
): Promise<ReadyMeasure> {
  if ('share' in of) return shareMeasure(state, of.share, signal);
  if ('count' in of) return countMeasure(state, of.count, signal);
  return quantityMeasure(state, of.quantity, { devices, currency, signal });
}

/** Devices by period of release; those dated too roughly under undefined. */
type ByPeriod = ReadonlyMap<number | undefined, readonly Device[]>;

function byPeriod(devices: readonly Device[], per: PeriodLength): ByPeriod {
  return Map.groupBy(devices, ({ released }) => periodNumber(released, per));
}

async function seriesOf(
  { value, label, devices }: Pick<Group, 'devices' | 'label'> & { readonly value: string | null },
  inPeriod: ByPeriod,
  axis: readonly Period[],
  measure: ReadyMeasure,
  pace: Pace,
): Promise<UnjudgedSeries> {
  const periods = [];
  const placed: Placed[] = [];
  for (const { number, label: period, start } of axis) {
    const members = inPeriod.get(number) ?? [];
    for (const device of members) placed.push({ device, start });
    periods.push({ period, start, ...measure.cell(members) });
    await pace.rest();
  }
  const test = measure.test(placed);
  await pace.rest();
  const observed = placed.filter(({ device }) => measure.observed(device));
  return {
    group: value,
    label,
    total: measure.cell(devices),
    undated: inPeriod.get(undefined)?.length ?? 0,
    periods,
    tested: {
      n: observed.length,
      periods: periodsIn(observed),
      test,
      unit: measure.weightOf ? null : measure.unit,
    },
  };
}

function cautions(
  [total, ...groups]: readonly UnjudgedSeries[],
  devices: readonly Device[],
  per: PeriodLength,
  share: boolean,
): readonly string[] {
  const { n, notObserved, absent, productLines } = total.total;
  const span = devices.length === 0 ? '' : `, released ${yearsOf(devices)}`;
  const rough = [total, ...groups].some(({ tested: { test } }) => 'rough' in test && test.rough);
  return [
    `Devices that were opened and pass the filter: ${devices.length}${span}; the archive is what was opened, not the market.`,
    ...(productLines < n
      ? [
          `Devices of one product line are alike, and the ${n} counted are of ${productLines} (one of none counts as its own): intervals and tests are given both ways, and the verdict goes by the more careful one.`,
        ]
      : []),
    ...(n > 1 && productLines === 1
      ? ['All are of one product line: what is said holds of that line alone.']
      : []),
    ...(groups.length === 0
      ? [
          'A change in which kinds of device were opened moves these figures too; ask by body site, maker or price.',
        ]
      : []),
    ...(notObserved > 0
      ? [
          `Devices where it was not observed, or without a recorded value: ${notObserved}; none counts as a no or as 0.`,
        ]
      : []),
    ...(absent > 0 ? [`Devices that were looked at and have none: ${absent}.`] : []),
    ...(notObserved > 0 && share
      ? [
          'Presence is noticed without a full inventory, absence is not: the share over the observed may be too high, and "certain to possible" allows for it.',
        ]
      : []),
    ...(total.undated > 0
      ? [`Devices dated too roughly for a ${per}: ${total.undated}; they count in the total only.`]
      : []),
    ...(rough ? ['Some periods are so small that the p of the Cochran–Armitage test is approximate.'] : []),
  ];
}

/** `2013 to 2025`, or one year. */
function yearsOf(devices: readonly Device[]): string {
  let first = Number.POSITIVE_INFINITY;
  let last = Number.NEGATIVE_INFINITY;
  for (const { released } of devices) {
    const year = yearOf(released);
    first = Math.min(first, year);
    last = Math.max(last, year);
  }
  return first === last ? String(first) : `${first} to ${last}`;
}
