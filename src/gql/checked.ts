/**
 * The door: a text is parsed and checked before anything is planned.
 */
import { checkQuery } from './check/check.ts';
import type { Vocabulary } from './check/rule.ts';
import type { PatternGraph } from './graph.ts';
import { describe, type Problem } from './language/problem.ts';
import type { QueryOptions } from './options.ts';
import { parseKept } from './plan/parsed.ts';
import { functionsOf } from './search/functions.ts';

/** A text that is no right pattern; every problem with line, column, excerpt and near names. */
export class PatternError extends Error {
  override readonly name = 'PatternError';
  readonly problems: readonly Problem[];
  constructor(problems: readonly Problem[]) {
    super(problems.map(describe).join('\n\n'));
    this.problems = problems;
  }
}

const KEPT = 500;
const known = new WeakMap<PatternGraph | Vocabulary, Map<string, readonly Problem[]>>();

/**
 * Throws PatternError unless the text can be asked of the graph; answers the warnings. Near names come from
 * `options.vocabulary`, else from all names in the graph.
 */
export function checked(graph: PatternGraph, text: string, options: QueryOptions): readonly Problem[] {
  const { query, errors, warnings } = parseKept(text);
  if (!query) throw new PatternError(errors);
  const { labels, edgeLabels, keys } = graph.store.catalog;
  const { parameters = {}, functions, unknownNames = 'warning' } = options;
  const names = options.vocabulary ? [] : [labels.length, edgeLabels.length, keys.length];
  const name = JSON.stringify([text, names, parameters, functions, unknownNames]);
  // With a vocabulary of the caller's the graph has no say.
  const owner = options.vocabulary ?? graph;
  let kept = known.get(owner);
  if (!kept) {
    kept = new Map();
    known.set(owner, kept);
  }
  let problems = kept.get(name);
  if (!problems) {
    const vocabulary = options.vocabulary ?? vocabularyOf(graph);
    problems = checkQuery(query, text, {
      vocabulary,
      unknownNames,
      functions: functionsOf(functions),
      parameters,
    });
    kept.set(name, problems);
    if (kept.size > KEPT) kept.delete(kept.keys().next().value!);
  }
  const wrong = problems.filter(({ severity }) => severity === 'error');
  if (wrong.length > 0) throw new PatternError(wrong);
  return [...warnings, ...problems];
}

/** The names that stand in a graph now, or have stood there. */
export function vocabularyOf({ store, hierarchy }: PatternGraph): Vocabulary {
  const { labels, edgeLabels, keys } = store.catalog;
  return {
    labels: [...labels, ...Object.keys(hierarchy), ...Object.values(hierarchy).flat()],
    edgeLabels: edgeLabels.filter((label) => label !== ''),
    properties: keys.filter((key) => key !== ''),
  };
}
