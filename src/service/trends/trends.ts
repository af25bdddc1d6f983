import { BODY_SITES } from '../../model/dossier.ts';
import { CasebackError } from '../../model/problems.ts';
import type { View } from '../../state/view.ts';
import type {
  Adopter,
  FacetName,
  Measure,
  PeriodLength,
  TrendAnswer,
  TrendQuestion,
} from '../../trends/answer.ts';
import type { DeviceFilter } from '../../trends/filter.ts';
import { DEVICE_QUANTITIES, type Quantity } from '../../trends/quantity.ts';
import type { Subject } from '../../trends/subject.ts';
import { trend, trends as trendsOf } from '../../trends/trends.ts';
import { type Context, type Domain, type Root, viewOf } from '../base/domain.ts';
import { enumName, enumWord } from '../base/enums.ts';
import { parseable } from '../patterns/mistakes.ts';
import { deviceSource } from '../sources/catalogue.ts';
import { schema } from './schema.ts';

const PERIODS: readonly PeriodLength[] = ['year', 'half-year', 'quarter'];
const FACETS: readonly FacetName[] = ['body-site', 'maker', 'price-band'];
/** Characters of a pattern. */
const LONGEST_PATTERN = 20_000;

type Input = Readonly<Record<string, unknown>>;

interface Arguments {
  readonly of: Input;
  readonly per: string;
  readonly by?: string | null;
  readonly edges?: readonly number[] | null;
  readonly currency?: string | null;
  readonly where?: DeviceFilter | null;
}

function questionOf({ of, per, by, edges, currency, where }: Arguments): TrendQuestion {
  return {
    of: measureOf(of),
    per: enumWord(PERIODS, per),
    ...(by ? { by: enumWord(FACETS, by) } : {}),
    ...(edges ? { edges } : {}),
    ...(currency ? { currency } : {}),
    ...(where ? { where: filterOf(where) } : {}),
  };
}

function measureOf(input: Input): Measure {
  const [name, value] = only('of', input);
  if (name === 'share') return { share: subjectOf(value as Input) };
  if (name === 'count') return { count: value as string };
  return { quantity: quantityOf(value as Input) };
}

function subjectOf(input: Input): Subject {
  const [name, value] = only('share', input);
  if (name === 'text') {
    const { length } = value as string;
    if (length > LONGEST_PATTERN)
      throw new CasebackError('TOO_LARGE', `text has ${length} characters; at most ${LONGEST_PATTERN}`);
    parseable(value as string);
  }
  return { [name]: value } as unknown as Subject;
}

function quantityOf({ device, parameter, of }: Input): Quantity {
  if (typeof device === 'string' && !parameter && !of) return { device: enumWord(DEVICE_QUANTITIES, device) };
  if (typeof parameter === 'string' && typeof of === 'string' && !device) return { parameter, of };
  throw new CasebackError('BAD_INPUT', 'quantity: give either device, or parameter and of');
}

/** The one field that an input has. */
function only(what: string, input: Input): readonly [string, unknown] {
  const given = Object.entries(input).filter(([, value]) => value !== null && value !== undefined);
  if (given.length === 1) return given[0];
  const names = given.length === 0 ? 'nothing' : given.map(([name]) => name).join(' and ');
  throw new CasebackError('BAD_INPUT', `${what} has ${names}; give exactly one field`);
}

function filterOf({ bodySite, ...rest }: DeviceFilter): DeviceFilter {
  return { ...rest, ...(bodySite ? { bodySite: enumWord(BODY_SITES, bodySite) } : {}) };
}

/** An answer as GraphQL names its words. */
function told(view: View, { per, by, firstAdopters, whole, groups, ...rest }: TrendAnswer) {
  const series = (one: TrendAnswer['whole']) => ({
    ...one,
    verdict: {
      ...one.verdict,
      direction: one.verdict.direction?.toUpperCase().replaceAll(' ', '_') ?? null,
    },
  });
  return {
    ...rest,
    per: enumName(per),
    by: enumName(by ?? undefined) ?? null,
    whole: series(whole),
    groups: groups.map(series),
    firstAdopters: firstAdopters.map((one) => ({ ...one, view })),
  };
}

export const trends: Domain = {
  schema,
  resolvers: {
    Query: {
      trend: async (root: Root, args: Arguments, context: Context) => {
        const view = viewOf(root, context);
        return told(view, await trend(view, questionOf(args), context.signal()));
      },
      trends: async (root: Root, { questions }: { questions: readonly Arguments[] }, context: Context) => {
        const view = viewOf(root, context);
        const answers = await trendsOf(view, questions.map(questionOf), context.signal());
        return answers.map((answer) => told(view, answer));
      },
    },
    TrendAdopter: {
      device: ({ view, device }: Adopter & { readonly view: View }) => deviceSource(view, device),
    },
  },
  weights: { 'Query.trend': 4_000, 'Query.trends': 20_000 },
};
