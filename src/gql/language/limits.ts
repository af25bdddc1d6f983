/**
 * Bounds on what the parser takes in, so that no text can hang it or exhaust the stack. All are far above what
 * people write: the longest pattern of the library has some 500 characters and nests four deep.
 */

/** Longest text, in UTF-16 units. */
export const LONGEST_TEXT = 8_192;

/** Deepest nesting of brackets, braces, parentheses and CASE. */
export const DEEPEST_NESTING = 40;

/** Deepest syntax tree; chains such as `a + b + c` count one level a link. */
export const DEEPEST_TREE = 600;

/**
 * Node and edge patterns of a text, those of subqueries included. Planning them takes some 10 ms, during which nothing
 * else runs.
 */
export const MOST_ELEMENTS = 1_000;

/** Quantified and questioned paths of a text; each is a stage of the search of its own. */
export const MOST_QUANTIFIED = 100;

/** MATCH clauses and subqueries of a text; each is planned, and searched, by itself. */
export const MOST_CLAUSES = 250;

/** Problems reported for a text. */
export const MAX_PROBLEMS = 25;

/** Highest bound in a quantifier. */
export const HIGHEST_BOUND = 1_000_000;
