import { definePage } from '../../frame/page.ts';
import { counted, textIn } from '../../parts/facts.ts';
import { termInWords } from '../../parts/words.ts';
import { PartList, type PartListQuery } from './parts.graphql.ts';

const PAGE = 100;
/** Orders of the list, by their names in the address. */
const ORDERS = { use: 'USE', number: 'ID', introduced: 'INTRODUCED' } as const;
const ORDER_NAMES = {
  use: 'In most specimens first',
  number: 'By maker and number',
  introduced: 'By first delivery',
} as const;

const orderIn = (query: URLSearchParams): keyof typeof ORDERS => {
  const order = textIn(query, 'order');
  return order in ORDERS ? (order as keyof typeof ORDERS) : 'use';
};

export const page = definePage<{ readonly answer: PartListQuery; readonly trouble: string | undefined }>({
  async load({ query }, ask, signal) {
    const kind = textIn(query, 'kind');
    const after = textIn(query, 'after');
    const { data, troubles } = await ask(
      PartList,
      {
        filter: kind === '' ? {} : { category: kind },
        orderBy: { field: ORDERS[orderIn(query)] },
        first: PAGE,
        ...(after === '' ? {} : { after }),
      },
      signal,
    );
    return { answer: data, trouble: troubles[0]?.message };
  },
  heading: () => ({ title: 'Parts' }),
  View({ data: { answer, trouble }, place }) {
    const { parts } = answer;
    const order = orderIn(place.query);
    const next = new URLSearchParams(place.query);
    next.set('after', parts?.pageInfo.endCursor ?? '');
    return (
      <>
        <h1 tabIndex={-1}>Parts</h1>
        <form class="narrowing row" method="get" action="/parts" aria-label="Conditions">
          <label>
            Kind
            <input
              name="kind"
              defaultValue={textIn(place.query, 'kind')}
              placeholder="PressureSensor"
              autocomplete="off"
            />
          </label>
          <label>
            Order
            <select name="order" defaultValue={order}>
              {Object.entries(ORDER_NAMES).map(([key, name]) => (
                <option key={key} value={key} selected={key === order}>
                  {name}
                </option>
              ))}
            </select>
          </label>
          <button type="submit" class="stays">
            Show
          </button>
        </form>
        {trouble !== undefined && (
          <p class="notice" role="alert">
            {trouble}
          </p>
        )}
        {parts && (
          <>
            <h2>{counted(parts.totalCount, 'part')}</h2>
            <ul class="list">
              {parts.nodes.map(({ id, number, name, categories, maker, package: as, introduced }) => (
                <li key={id}>
                  <a href={`/parts/${id}`}>
                    {maker?.name} {number}
                  </a>
                  <span class="quiet">
                    {[name ?? categories.map(termInWords).join(', '), as, introduced]
                      .filter(Boolean)
                      .join(' · ')}
                  </span>
                </li>
              ))}
            </ul>
            {parts.pageInfo.hasNextPage && (
              <p>
                <a href={`/parts?${next}`}>More</a>
              </p>
            )}
          </>
        )}
      </>
    );
  },
});
