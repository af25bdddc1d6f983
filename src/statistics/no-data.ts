/**
 * Valid data that cannot answer the question: nothing was counted, or nothing varies. Returned instead of NaN, an
 * infinite z or a p-value of 1 that would look like an answer.
 */
export interface NoData {
  readonly kind: 'no-data';
  /** Part of a sentence in plain words, such as "all values are equal". */
  readonly reason: string;
}

/** Makes a {@link NoData}. */
export function noData(reason: string): NoData {
  return { kind: 'no-data', reason };
}
