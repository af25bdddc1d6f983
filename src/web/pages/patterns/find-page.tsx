import { definePage } from '../../frame/page.ts';
import { textIn } from '../../parts/facts.ts';
import { FoundDevices } from './found.tsx';
import { type NearAnswer, nearOf } from './near.ts';
import { FoundByText, type FoundByTextQuery } from './pattern.graphql.ts';

interface FindData {
  readonly answer: FoundByTextQuery | undefined;
  readonly near: NearAnswer | undefined;
  /** What is wrong with the text, with line and column. */
  readonly trouble: string | undefined;
}

const EXAMPLE = 'MATCH (s:PressureSensor)~[:CONNECTS]~(p:Processor)\nRETURN s, p';

export const page = definePage<FindData>({
  async load({ query }, ask, signal) {
    const text = textIn(query, 'text');
    if (text === '') return { answer: undefined, near: undefined, trouble: undefined };
    const { data, troubles } = await ask(FoundByText, { text }, signal);
    const near =
      data.findPattern && query.get('near') === 'true' ? await nearOf({ text }, ask, signal) : undefined;
    return { answer: data, near, trouble: troubles[0]?.message };
  },
  heading: () => ({ title: 'Find a pattern' }),
  View({ data: { answer, near, trouble }, place }) {
    const text = textIn(place.query, 'text');
    return (
      <>
        <h1 tabIndex={-1}>Find a pattern</h1>
        <form class="asking" method="get" action="/find">
          <label for="text">
            The pattern, in the read-only subset of GQL (<a href="/docs/pattern-language">the language</a>)
          </label>
          <textarea
            id="text"
            name="text"
            rows={6}
            spellcheck={false}
            maxLength={20_000}
            aria-invalid={trouble !== undefined}
            aria-describedby={trouble === undefined ? undefined : 'mistake'}
          >
            {text === '' ? EXAMPLE : text}
          </textarea>
          <button type="submit">Find</button>
        </form>
        {trouble !== undefined && (
          <p id="mistake" class="notice" role="alert">
            {trouble}
          </p>
        )}
        {answer?.findPattern && <FoundDevices found={answer.findPattern} near={near} place={place} />}
      </>
    );
  },
});
