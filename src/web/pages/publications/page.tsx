import { definePage } from '../../frame/page.ts';
import { counted } from '../../parts/facts.ts';
import { capital, inWords } from '../../parts/words.ts';
import { PublicationList, type PublicationListQuery } from './publications.graphql.ts';

const PAGE = 100;

export const page = definePage<PublicationListQuery>({
  async load({ query }, ask, signal) {
    const after = query.get('after');
    return (await ask(PublicationList, { first: PAGE, ...(after === null ? {} : { after }) }, signal)).data;
  },
  heading: () => ({ title: 'Publications' }),
  View({ data: { publications } }) {
    return (
      <>
        <h1 tabIndex={-1}>Publications</h1>
        {publications && <p>{counted(publications.totalCount, 'publication')}</p>}
        <ul class="list">
          {publications?.nodes.map(({ id, title, kind, published, visibility }) => (
            <li key={id}>
              <a href={`/publications/${id}`}>{title}</a>
              <span class="quiet">
                {[
                  capital(inWords(kind)),
                  published ?? 'in the making',
                  visibility !== 'PUBLISHED' && inWords(visibility),
                ]
                  .filter(Boolean)
                  .join(', ')}
              </span>
            </li>
          ))}
        </ul>
        {publications?.pageInfo.hasNextPage && (
          <p>
            <a href={`/publications?after=${encodeURIComponent(publications.pageInfo.endCursor ?? '')}`}>
              More
            </a>
          </p>
        )}
      </>
    );
  },
});
