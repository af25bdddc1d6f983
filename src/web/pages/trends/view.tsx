import type { VNode } from 'preact';
import { useNavigation } from '../../frame/navigation.ts';
import type { Place } from '../../frame/page.ts';
import { Chart } from '../../parts/chart.tsx';
import { capital, termInWords } from '../../parts/words.ts';
import { askedTrend, FACETS, MEASURES, PERIODS } from './asked.ts';
import type { TrendAnswerQuery, TrendChoicesQuery } from './trends.graphql.ts';

/** What the address asked for. */
export interface TrendsData {
  readonly choices: TrendChoicesQuery;
  readonly answer: TrendAnswerQuery | undefined;
  readonly trouble: string | undefined;
}

/** A measure over time: chart and table, and what may be said of it. */
export function TrendsView({ data, place }: { readonly data: TrendsData; readonly place: Place }): VNode {
  const trend = data.answer?.trend;
  return (
    <>
      <h1 tabIndex={-1}>Trends</h1>
      <div class="beside">
        <Question data={data} place={place} />
        <section aria-live="polite">
          {data.trouble !== undefined && (
            <p class="notice" role="alert">
              {data.trouble}
            </p>
          )}
          {!trend && data.trouble === undefined && (
            <p class="quiet">Choose what is to be followed over time.</p>
          )}
          {trend && (
            <>
              <h2>{capital(trend.of)}</h2>
              <p>{trend.total.verdict?.sentence}</p>
              {trend.chart && <Chart chart={trend.chart} name="trend" />}
              {askedTrend(place.query).by && trend.totalsChart && (
                <Chart chart={trend.totalsChart} name="groups" />
              )}
              {trend.cautions.map((caution) => (
                <p key={caution} class="quiet">
                  {caution}
                </p>
              ))}
            </>
          )}
        </section>
      </div>
    </>
  );
}

/** A form, so that it works before any script has run. */
function Question({ data: { choices }, place }: { readonly data: TrendsData; readonly place: Place }): VNode {
  const { go } = useNavigation();
  const asked = askedTrend(place.query);
  const change = (event: Event) => {
    event.preventDefault();
    const given = [...new FormData(event.currentTarget as HTMLFormElement)].filter(
      ([, value]) => value !== '',
    );
    go(`${place.path}?${new URLSearchParams(given as [string, string][])}`, 'replace');
  };
  const usesKind = asked.measure === 'has-kind' || asked.measure === 'count';
  return (
    <form
      class="narrowing"
      method="get"
      action="/trends"
      onChange={change}
      onSubmit={change}
      aria-label="What is followed"
    >
      <Choice label="Measure" name="measure" value={asked.measure} options={Object.entries(MEASURES)} />
      {usesKind && (
        <label>
          Kind of component
          <input name="kind" defaultValue={asked.kind} list="kinds" autocomplete="off" />
          <datalist id="kinds">
            {choices.taxonomy?.map(({ name }) => (
              <option key={name} value={name}>
                {termInWords(name)}
              </option>
            ))}
          </datalist>
        </label>
      )}
      {asked.measure === 'shows-pattern' && (
        <Choice
          label="Pattern"
          name="pattern"
          value={asked.pattern}
          options={[
            ['', 'None yet'],
            ...(choices.patterns?.nodes.map(({ id, name }) => [id, name] as const) ?? []),
          ]}
        />
      )}
      <Choice label="Period" name="per" value={asked.per} options={Object.entries(PERIODS)} />
      <Choice
        label="Apart by"
        name="by"
        value={asked.by ?? ''}
        options={[['', 'Nothing'], ...Object.entries(FACETS)]}
      />
      <button type="submit">Show</button>
    </form>
  );
}

function Choice({
  label,
  name,
  value,
  options,
}: {
  readonly label: string;
  readonly name: string;
  readonly value: string;
  readonly options: readonly (readonly [value: string, name: string])[];
}): VNode {
  return (
    <label>
      {label}
      <select name={name} defaultValue={value}>
        {options.map(([key, words]) => (
          <option key={key} value={key} selected={key === value}>
            {words}
          </option>
        ))}
      </select>
    </label>
  );
}
