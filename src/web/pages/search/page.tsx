import { addressOf, deviceOf, HIT_KINDS } from '../../frame/hits.ts';
import { definePage } from '../../frame/page.ts';
import { SearchHits, type SearchHitsQuery } from '../../frame/search.graphql.ts';
import { counted, textIn } from '../../parts/facts.ts';

const PAGE = 50;

export const page = definePage<{
  readonly answer: SearchHitsQuery | undefined;
  readonly trouble: string | undefined;
}>({
  async load({ query }, ask, signal) {
    const text = textIn(query, 'text');
    if (text === '') return { answer: undefined, trouble: undefined };
    const after = textIn(query, 'after');
    const { data, troubles } = await ask(
      SearchHits,
      { text, first: PAGE, ...(after === '' ? {} : { after }) },
      signal,
    );
    return { answer: data, trouble: troubles[0]?.message };
  },
  heading: (_, { query }) => ({
    title: textIn(query, 'text') === '' ? 'Search' : `Search: ${textIn(query, 'text')}`,
  }),
  View({ data: { answer, trouble }, place }) {
    const search = answer?.search;
    return (
      <>
        <h1 tabIndex={-1}>Search</h1>
        {trouble !== undefined && (
          <p class="notice" role="alert">
            {trouble}
          </p>
        )}
        {!answer && (
          <p class="quiet">Every word begins a word of what is found: names, numbers, markings, sentences.</p>
        )}
        {search && (
          <>
            <h2>
              {search.isComplete ? '' : 'More than '}
              {counted(search.totalCount, 'hit')}
            </h2>
            <ul class="list">
              {search.nodes.map((hit) => (
                <li key={hit.id}>
                  <a href={addressOf(hit)}>{hit.title}</a>
                  <span class="quiet">{[HIT_KINDS[hit.kind], deviceOf(hit)].filter(Boolean).join(', ')}</span>
                </li>
              ))}
            </ul>
            {search.pageInfo.hasNextPage && (
              <p>
                <a
                  href={`/search?${new URLSearchParams({ text: textIn(place.query, 'text'), after: search.pageInfo.endCursor ?? '' })}`}
                >
                  More
                </a>
              </p>
            )}
          </>
        )}
      </>
    );
  },
});
