import { CasebackError } from '../../../model/problems.ts';
import { chartOfAdopters, chartOfTotals, chartOfTrend } from '../../../questions/charts.ts';
import { trendOf, trendsOf } from '../../../questions/trends.ts';
import type { State } from '../../../state/state.ts';
import type { Measure, TrendAnswer, TrendQuestion, TrendSeries } from '../../../trends/answer.ts';
import { DEVICE_QUANTITIES, FACETS, PERIOD_LENGTHS, SUBJECT_KINDS } from '../../../trends/asked.ts';
import type { Quantity } from '../../../trends/quantity.ts';
import type { Subject } from '../../../trends/subject.ts';
import { chartSource, sizeOf } from '../charts/charts.ts';
import { viewOf } from '../context.ts';
import { deviceFilter } from '../device-filter.ts';
import type * as Api from '../resolver-types.ts';
import { deviceSource } from '../sources.ts';
import { checkLength, enumName, enumWord, onlyGiven } from '../words.ts';

async function questionOf(
  view: State,
  { of, per, by, edges, currency, filter }: Api.TrendQuestion,
  signal: AbortSignal,
): Promise<TrendQuestion> {
  return {
    of: measureOf(of),
    per: enumWord(PERIOD_LENGTHS, per),
    ...(by ? { by: enumWord(FACETS, by) } : {}),
    ...(edges ? { edges } : {}),
    ...(currency ? { currency } : {}),
    ...(filter ? { where: await deviceFilter(view, filter, signal) } : {}),
  };
}

function measureOf(input: Api.TrendMeasure): Measure {
  onlyGiven('of', input, ['share', 'count', 'quantity']);
  if (input.share) return { share: subjectOf(input.share) };
  if (typeof input.count === 'string') return { count: input.count };
  return { quantity: quantityOf(input.quantity ?? {}) };
}

function subjectOf(input: Api.TrendSubject): Subject {
  const name = onlyGiven('share', input, SUBJECT_KINDS);
  if (typeof input.text === 'string') checkLength('text', input.text);
  return { [name]: input[name] } as unknown as Subject;
}

function quantityOf({ device, parameter, of }: Api.TrendQuantity): Quantity {
  if (device && !parameter && !of) return { device: enumWord(DEVICE_QUANTITIES, device) };
  if (parameter && of && !device) return { parameter, of };
  throw new CasebackError('BAD_INPUT', 'quantity: give either device, or parameter and of');
}

/** A measured trend, with the answer that its charts are made of. */
export type TrendSource = ReturnType<typeof answerSource>;

function answerSource(view: State, answer: TrendAnswer) {
  const { per, by, firstAdopters, total, groups, ...rest } = answer;
  return {
    ...rest,
    view,
    answer,
    per: enumName(per),
    by: enumName(by ?? undefined) ?? null,
    total: seriesSource(total),
    groups: groups.map(seriesSource),
    firstAdopters: firstAdopters.map(({ device, certain, ...one }) => ({
      ...one,
      device: deviceSource(view, device),
      isCertain: certain,
    })),
  };
}

function seriesSource({ test, verdict, ...series }: TrendSeries) {
  return {
    ...series,
    test: test && {
      ...test,
      name: test.name === 'Cochran–Armitage' ? ('COCHRAN_ARMITAGE' as const) : ('MANN_KENDALL' as const),
      basis: test.basis === 'devices' ? ('DEVICES' as const) : ('PRODUCT_LINES' as const),
      isRobust: test.holdsUnderDoubt,
    },
    verdict: {
      isSufficient: verdict.enough,
      direction: enumName(verdict.direction ?? undefined) ?? null,
      sentence: verdict.sentence,
    },
  };
}

/** Measures over time. */
export const trends: Api.Resolvers = {
  Query: {
    trend: async (root, args, context) => {
      const view = viewOf(root, context);
      return answerSource(
        view,
        await trendOf(view, await questionOf(view, args, context.signal()), context.signal()),
      );
    },
    trends: async (root, { questions }, context) => {
      const view = viewOf(root, context);
      const asked = await Promise.all(questions.map((one) => questionOf(view, one, context.signal())));
      const answers = await trendsOf(view, asked, context.signal());
      return answers.map((answer) => answerSource(view, answer));
    },
  },
  Trend: {
    chart: ({ view, answer }, { size }) => chartOfTrend(answer, chartSource(view), sizeOf(size)),
    totalsChart: ({ view, answer }, { size }) => chartOfTotals(answer, chartSource(view), sizeOf(size)),
    adoptersChart: ({ view, answer }, { size }) => chartOfAdopters(answer, chartSource(view), sizeOf(size)),
  },
};
