/**
 * Bounds on what the parser takes in, so that no text can hang it or exhaust the stack. All are far above what
 * people write: the longest pattern of the library has some 500 characters and nests four deep.
 */

/** Longest text, in UTF-16 units. Some checks take time that grows with its square. */
export const LONGEST_TEXT = 8_192;

/** Deepest nesting of brackets, braces, parentheses and CASE. */
export const DEEPEST_NESTING = 40;

/** Deepest syntax tree; chains such as `a + b + c` count one level a link. */
export const DEEPEST_TREE = 600;

/** Problems reported for a text. */
export const MAX_PROBLEMS = 25;

/** Highest bound in a quantifier. */
export const HIGHEST_BOUND = 1_000_000;
