import { definePage } from '../../frame/page.ts';
import { counted } from '../../parts/facts.ts';
import { capital } from '../../parts/words.ts';
import { PatternList, type PatternListQuery } from './patterns.graphql.ts';

/** Patterns on one page: a library is short. */
const PAGE = 200;

export const page = definePage<PatternListQuery>({
  async load({ query }, ask, signal) {
    const after = query.get('after');
    return (await ask(PatternList, { first: PAGE, ...(after === null ? {} : { after }) }, signal)).data;
  },
  heading: () => ({ title: 'Patterns' }),
  View({ data: { patterns } }) {
    return (
      <>
        <h1 tabIndex={-1}>Patterns</h1>
        <p class="lead">
          Design ideas as questions to the archive, each with its reasons. <a href="/find">Write your own</a>.
        </p>
        {patterns && <p>{counted(patterns.totalCount, 'named pattern')}</p>}
        <ul class="list">
          {patterns?.nodes.map(({ id, name, idea }) => (
            <li key={id}>
              <a href={`/patterns/${id}`}>{capital(name)}</a>
              <span class="quiet">{idea}</span>
            </li>
          ))}
        </ul>
        {patterns?.pageInfo.hasNextPage && (
          <p>
            <a href={`/patterns?after=${encodeURIComponent(patterns.pageInfo.endCursor ?? '')}`}>More</a>
          </p>
        )}
      </>
    );
  },
});
