import type { VNode } from 'preact';
import { definePage } from '../../frame/page.ts';
import { counted, textIn, tidy } from '../../parts/facts.ts';
import { capital, percent } from '../../parts/words.ts';
import { StructureList, type StructureListQuery, type StructureOrder } from './structures.graphql.ts';

type Structure = NonNullable<StructureListQuery['structures']>['structures'][number];

const ORDERS: Readonly<Record<string, { readonly name: string; readonly order: StructureOrder }>> = {
  surprise: { name: 'Most surprising first', order: 'SURPRISE' },
  lift: { name: 'Most above chance first', order: 'LIFT' },
  devices: { name: 'In most devices first', order: 'SUPPORT' },
  years: { name: 'Most with the years first', order: 'YEAR' },
};

const orderIn = (query: URLSearchParams) =>
  ORDERS[textIn(query, 'order')] ? textIn(query, 'order') : 'surprise';

export const page = definePage<{ readonly answer: StructureListQuery; readonly trouble: string | undefined }>(
  {
    async load({ query }, ask, signal) {
      const variables = {
        order: ORDERS[orderIn(query)].order,
        onlyUnnamed: query.get('unnamed') === 'true',
        without: query.get('passives') === 'true' ? [] : ['Passive'],
      };
      const { data, troubles } = await ask(StructureList, variables, signal);
      return { answer: data, trouble: troubles[0]?.message };
    },
    heading: () => ({ title: 'Structures' }),
    View({ data: { answer, trouble }, place }) {
      const found = answer.structures;
      const order = orderIn(place.query);
      return (
        <>
          <h1 tabIndex={-1}>Structures</h1>
          <p class="lead">
            Components of given kinds, joined in a given way, that several devices have: against chance, and
            against the years.
          </p>
          <form class="narrowing row" method="get" action="/structures" aria-label="Conditions">
            <label>
              Order
              <select name="order" defaultValue={order}>
                {Object.entries(ORDERS).map(([key, { name }]) => (
                  <option key={key} value={key} selected={key === order}>
                    {name}
                  </option>
                ))}
              </select>
            </label>
            <label class="tick">
              <input
                type="checkbox"
                name="unnamed"
                value="true"
                defaultChecked={place.query.get('unnamed') === 'true'}
              />{' '}
              Only what no named pattern describes
            </label>
            <label class="tick">
              <input
                type="checkbox"
                name="passives"
                value="true"
                defaultChecked={place.query.get('passives') === 'true'}
              />{' '}
              With passives
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
          {found && (
            <>
              <h2>
                {counted(found.found, 'structure')} in at least {found.minSupport} of{' '}
                {counted(found.devices, 'device')}
              </h2>
              {!found.isComplete && <p class="notice">The search ended early; structures may be missing.</p>}
              <ol class="sentences">
                {found.structures.map((one) => (
                  <li key={one.text}>
                    <StructureSection structure={one} />
                  </li>
                ))}
              </ol>
              {found.cautions.map((caution) => (
                <p key={caution} class="quiet">
                  {caution}
                </p>
              ))}
            </>
          )}
        </>
      );
    },
  },
);

function StructureSection({ structure }: { readonly structure: Structure }): VNode {
  const { words, text, support, share, shareInterval, possible, expected, chance, year, knownAs, devices } =
    structure;
  return (
    <article>
      <h3>{capital(words)}</h3>
      <p>
        {counted(support, 'device')} for certain, {percent(share)}{' '}
        <span class="quiet">
          ({percent(shareInterval.low)} to {percent(shareInterval.high)}); {tidy(expected)} to expect,{' '}
          {possible} possible.
        </span>
      </p>
      <p>
        By chance {tidy(chance.expected)}
        {chance.lift !== null && (
          <>
            : {tidy(chance.lift, 1)} times as often
            {chance.liftInterval && (
              <span class="quiet">
                {' '}
                ({tidy(chance.liftInterval.low, 1)} to {tidy(chance.liftInterval.high, 1)})
              </span>
            )}
          </>
        )}
        .
        {year && (
          <span class="quiet">
            {' '}
            With the years: q = {tidy(year.q, 3)}, {tidy(100 * year.slope, 1)} points a year.
          </span>
        )}
      </p>
      {knownAs.length > 0 && (
        <p>
          Known as{' '}
          {knownAs.map(({ pattern, share: part }, i) => (
            <span key={pattern.id}>
              {i > 0 && ', '}
              <a href={`/patterns/${pattern.id}`}>{pattern.name}</a>{' '}
              <span class="quiet">{percent(part)}</span>
            </span>
          ))}
        </p>
      )}
      <p class="quiet">
        {devices?.nodes.map(({ id, name }, i) => (
          <span key={id}>
            {i > 0 && ', '}
            <a href={`/devices/${id}`}>{name}</a>
          </span>
        ))}
        {devices &&
          devices.totalCount > devices.nodes.length &&
          ` and ${devices.totalCount - devices.nodes.length} more`}
        . <a href={`/find?text=${encodeURIComponent(text)}`}>Find it as a pattern</a>
      </p>
    </article>
  );
}
