/**
 * A text with another MATCH first: a search segment by segment starts in the first one.
 */
import { printQuery } from './language/print.ts';
import { PatternError, type PreparedPattern, prepare } from './prepared-pattern.ts';

const kept = new WeakMap<PreparedPattern, readonly PreparedPattern[]>();

/**
 * The pattern with each of its later MATCH clauses first, of those at the beginning that nothing but MATCH stands between and
 * that read nothing of the clauses before. Clauses are joined, so all of these mean the same.
 */
export function broughtForward(pattern: PreparedPattern): readonly PreparedPattern[] {
  let texts = kept.get(pattern);
  if (!texts) {
    texts = [...others(pattern)];
    kept.set(pattern, texts);
  }
  return texts;
}

function* others(pattern: PreparedPattern): Generator<PreparedPattern> {
  const { tree, functions } = pattern;
  const { clauses } = tree;
  for (let at = 1; at < clauses.length && clauses[at]!.kind === 'match'; at++) {
    if (clauses[0]!.kind !== 'match') return;
    const text = printQuery({
      ...tree,
      clauses: [clauses[at]!, ...clauses.slice(0, at), ...clauses.slice(at + 1)],
    });
    try {
      yield prepare(text, { functions });
    } catch (error) {
      // Its condition reads what is not there before the others.
      if (!(error instanceof PatternError)) throw error;
    }
  }
}
