import { useEffect, useState } from 'preact/hooks';
import type { Question, Trouble } from '../api/ask.ts';
import { Refused } from '../api/ask.ts';
import { useNavigation } from '../frame/navigation.ts';

/** How far a question of a view has come. */
export interface Asked<Answer> {
  /** The answer; the one before while the next is on its way, so that nothing jumps. */
  readonly answer: Answer | undefined;
  readonly isAsking: boolean;
  readonly trouble: Trouble | undefined;
}

/**
 * Puts a question when it first stands and whenever its variables change; one that is no longer wanted is broken off.
 * @param variables undefined while there is nothing to ask
 * @param first an answer that is known already
 */
export function useAsked<Answer, Variables>(
  question: Question<Answer, Variables>,
  variables: Variables | undefined,
  first?: Answer,
): Asked<Answer> {
  const { ask } = useNavigation();
  const key = JSON.stringify(variables);
  const [asked, setAsked] = useState<Asked<Answer> & { readonly key: string | undefined }>({
    answer: first,
    isAsking: false,
    trouble: undefined,
    key: first === undefined ? undefined : key,
  });
  // biome-ignore lint/correctness/useExhaustiveDependencies: the key stands for the variables
  useEffect(() => {
    if (asked.key === key) return;
    if (variables === undefined) {
      setAsked({ answer: undefined, isAsking: false, trouble: undefined, key });
      return;
    }
    const way = new AbortController();
    setAsked((before) => ({ ...before, isAsking: true }));
    ask(question, variables, way.signal).then(
      ({ data, troubles }) => setAsked({ answer: data, isAsking: false, trouble: troubles[0], key }),
      (error: unknown) => {
        if (way.signal.aborted) return;
        const trouble =
          error instanceof Refused
            ? { code: error.code, message: error.message }
            : { code: 'INTERNAL', message: 'The answer could not be read' };
        setAsked({ answer: undefined, isAsking: false, trouble, key });
      },
    );
    return () => way.abort();
  }, [key, question, ask]);
  return asked;
}
