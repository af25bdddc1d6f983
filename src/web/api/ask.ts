/** A question of the API with the types of its answer and variables. Written by "npm run generate" beside each `.graphql` file. */
export interface Question<Answer, Variables> {
  readonly text: string;
  /** For types alone; never set. */
  readonly types?: (variables: Variables) => Answer;
}

/** Something that went wrong, in the service's words. */
export interface Trouble {
  /** Code of the API, such as NOT_FOUND. */
  readonly code: string;
  readonly message: string;
  /** Where in the answer it is missing, as field names and positions. */
  readonly path?: readonly (string | number)[];
}

/** An answer, and what could not be answered of it. */
export interface Answered<Answer> {
  readonly data: Answer;
  readonly troubles: readonly Trouble[];
}

/** The service did not answer at all. */
export class Refused extends Error {
  readonly code: string;

  constructor({ code, message }: Trouble) {
    super(message);
    this.code = code;
  }
}

/**
 * Puts a question to the API.
 * @throws Refused when there is no answer
 */
export type Ask = <Answer, Variables>(
  question: Question<Answer, Variables>,
  variables: Variables,
  signal?: AbortSignal,
) => Promise<Answered<Answer>>;

interface Sent {
  readonly data?: unknown;
  readonly errors?: readonly {
    readonly message: string;
    readonly path?: readonly (string | number)[];
    readonly extensions?: { readonly code?: string };
  }[];
  /** Of a refusal before GraphQL was reached. */
  readonly code?: string;
  readonly message?: string;
}

/** The answer in what the service sent. @throws Refused */
export function answerIn<Answer>(sent: Sent): Answered<Answer> {
  const troubles = (sent.errors ?? []).map(
    ({ message, path, extensions }): Trouble => ({
      code: extensions?.code ?? 'INTERNAL',
      message,
      ...(path ? { path } : {}),
    }),
  );
  if (sent.data === null || sent.data === undefined)
    throw new Refused(
      troubles[0] ?? {
        code: sent.code ?? 'UNAVAILABLE',
        message: sent.message ?? 'The service did not answer',
      },
    );
  return { data: sent.data as Answer, troubles };
}
