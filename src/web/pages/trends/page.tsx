import { definePage } from '../../frame/page.ts';
import { askedTrend, variablesOf } from './asked.ts';
import { TrendAnswer, TrendChoices } from './trends.graphql.ts';
import { type TrendsData, TrendsView } from './view.tsx';

export const page = definePage<TrendsData>({
  async load({ query }, ask, signal) {
    const variables = variablesOf(askedTrend(query));
    const [choices, answer] = await Promise.all([
      ask(TrendChoices, {}, signal),
      variables && ask(TrendAnswer, variables, signal),
    ]);
    return { choices: choices.data, answer: answer?.data, trouble: answer?.troubles[0]?.message };
  },
  heading: ({ answer }) => ({ title: answer?.trend ? `${answer.trend.of}: trend` : 'Trends' }),
  View: TrendsView,
});
