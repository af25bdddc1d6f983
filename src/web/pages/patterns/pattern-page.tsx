import { definePage } from '../../frame/page.ts';
import { NotFound } from '../../parts/not-found.tsx';
import { capital, percent } from '../../parts/words.ts';
import { FoundDevices } from './found.tsx';
import { type NearAnswer, nearOf } from './near.ts';
import { PatternPage, type PatternPageQuery } from './pattern.graphql.ts';

interface PatternData {
  readonly answer: PatternPageQuery;
  readonly near: NearAnswer | undefined;
}

export const page = definePage<PatternData>({
  async load({ parts, query }, ask, signal) {
    const id = parts.pattern;
    const [{ data }, near] = await Promise.all([
      ask(PatternPage, { id }, signal),
      query.get('near') === 'true' ? nearOf({ id }, ask, signal) : undefined,
    ]);
    return { answer: data, near };
  },
  heading: ({ answer: { pattern } }) =>
    pattern ? { title: capital(pattern.name) } : { title: 'No such pattern', status: 404 },
  View({ data: { answer, near }, place }) {
    const { pattern, findPattern } = answer;
    if (!pattern) return <NotFound what="pattern" list="/patterns" />;
    return (
      <>
        <h1 tabIndex={-1}>{capital(pattern.name)}</h1>
        <p class="lead">{pattern.idea}</p>
        <pre class="pattern">
          <code>{pattern.text}</code>
        </pre>
        <p>
          <a href={`/find?text=${encodeURIComponent(pattern.text)}`}>Change it</a>
        </p>
        <div class="halves">
          <section>
            <h2>Reasons a designer may have had</h2>
            <ul>
              {pattern.reasons.map((reason) => (
                <li key={reason}>{reason}</li>
              ))}
            </ul>
          </section>
          <section>
            <h2>Other explanations</h2>
            <ul>
              {pattern.against.map((reason) => (
                <li key={reason}>{reason}</li>
              ))}
            </ul>
            <p class="quiet">
              The shape means the idea in {percent(pattern.strength)} of cases, as its editor judged.
            </p>
          </section>
        </div>
        {findPattern && <FoundDevices found={findPattern} near={near} place={place} />}
      </>
    );
  },
});
