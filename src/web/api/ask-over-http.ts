import { type Ask, answerIn, Refused } from './ask.ts';

/** Asks the service that the page came from. */
export const askOverHttp: Ask = async ({ text }, variables, signal) => {
  const response = await fetch('/graphql', {
    method: 'POST',
    headers: { 'content-type': 'application/json', accept: 'application/graphql-response+json' },
    body: JSON.stringify({ query: text, variables }),
    ...(signal ? { signal } : {}),
  }).catch((error: unknown) => {
    if (signal?.aborted) throw error;
    throw new Refused({
      code: 'UNAVAILABLE',
      message: 'The service cannot be reached; is the connection there?',
    });
  });
  return answerIn(await response.json());
};
