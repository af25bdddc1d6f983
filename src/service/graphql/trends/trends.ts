import { BODY_SITES } from '../../../model/dossier.ts';
import { CasebackError } from '../../../model/problems.ts';
import { trendOf, trendsOf } from '../../../questions/trends.ts';
import type { View } from '../../../state/view.ts';
import type { FacetName, Measure, PeriodLength, TrendAnswer, TrendQuestion } from '../../../trends/answer.ts';
import type { DeviceFilter } from '../../../trends/filter.ts';
import type { DeviceQuantity, Quantity } from '../../../trends/quantity.ts';
import type { Subject } from '../../../trends/subject.ts';
import { viewOf } from '../context.ts';
import type * as Api from '../resolver-types.ts';
import { deviceSource } from '../sources.ts';
import { checkLength, enumName, enumWord, onlyGiven } from '../words.ts';

const PERIODS: readonly PeriodLength[] = ['year', 'half-year', 'quarter'];
const FACETS: readonly FacetName[] = ['body-site', 'maker', 'price-band'];
const DEVICE_QUANTITIES: readonly DeviceQuantity[] = ['mass', 'price', 'length', 'width', 'height'];

function questionOf({ of, per, by, edges, currency, where }: Api.TrendQuestion): TrendQuestion {
  return {
    of: measureOf(of),
    per: enumWord(PERIODS, per),
    ...(by ? { by: enumWord(FACETS, by) } : {}),
    ...(edges ? { edges } : {}),
    ...(currency ? { currency } : {}),
    ...(where ? { where: filterOf(where) } : {}),
  };
}

function measureOf(input: Api.TrendMeasure): Measure {
  onlyGiven('of', input, ['share', 'count', 'quantity']);
  if (input.share) return { share: subjectOf(input.share) };
  if (typeof input.count === 'string') return { count: input.count };
  return { quantity: quantityOf(input.quantity ?? {}) };
}

const SUBJECTS = ['pattern', 'text', 'category', 'maker', 'part', 'decision'] as const;

function subjectOf(input: Api.TrendSubject): Subject {
  const name = onlyGiven('share', input, SUBJECTS);
  if (typeof input.text === 'string') checkLength('text', input.text);
  return { [name]: input[name] } as unknown as Subject;
}

function quantityOf({ device, parameter, of }: Api.TrendQuantity): Quantity {
  if (device && !parameter && !of) return { device: enumWord(DEVICE_QUANTITIES, device) };
  if (parameter && of && !device) return { parameter, of };
  throw new CasebackError('BAD_INPUT', 'quantity: give either device, or parameter and of');
}

function filterOf({ bodySite, ...rest }: Api.TrendFilter): DeviceFilter {
  return { ...rest, ...(bodySite ? { bodySite: enumWord(BODY_SITES, bodySite) } : {}) };
}

function answerSource(view: View, { per, by, firstAdopters, whole, groups, ...rest }: TrendAnswer) {
  return {
    ...rest,
    per: enumName(per),
    by: enumName(by ?? undefined) ?? null,
    whole: seriesSource(whole),
    groups: groups.map(seriesSource),
    firstAdopters: firstAdopters.map((one) => ({ ...one, device: deviceSource(view, one.device) })),
  };
}

function seriesSource({ verdict, ...series }: TrendAnswer['whole']) {
  return { ...series, verdict: { ...verdict, direction: enumName(verdict.direction ?? undefined) ?? null } };
}

/** Measures over time. */
export const trends: Api.Resolvers = {
  Query: {
    trend: async (root, args, context) => {
      const view = viewOf(root, context);
      return answerSource(view, await trendOf(view, questionOf(args), context.signal()));
    },
    trends: async (root, { questions }, context) => {
      const view = viewOf(root, context);
      const answers = await trendsOf(view, questions.map(questionOf), context.signal());
      return answers.map((answer) => answerSource(view, answer));
    },
  },
};
