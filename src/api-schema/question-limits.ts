/** How large a question may be: what a service refuses to answer is not stored as a question either. */
export interface QuestionLimits {
  /** Tokens of the document (GraphQL, October 2021, section 2.1). */
  readonly tokens: number;
  /** Levels of nested fields, introspection apart. */
  readonly depth: number;
  /** Work of a query, in fields; lists count as many times as they may have items. */
  readonly cost: number;
}

/** Those of a service that was given none of its own. */
export const QUESTION_LIMITS: QuestionLimits = { tokens: 4_000, depth: 14, cost: 100_000 };
