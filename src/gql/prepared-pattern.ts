/**
 * A parsed and checked pattern: made once from a text and passed to every question about it.
 */
import { LRUCache } from 'lru-cache';
import { analyse } from './check/analysis.ts';
import { checkQuery } from './check/check.ts';
import type { Vocabulary } from './check/rule.ts';
import type { PatternGraph } from './graph.ts';
import type { Query, Syntax } from './language/ast.ts';
import { children } from './language/children.ts';
import { describe, type Problem } from './language/problem.ts';
import { checkParameters, pageProblems } from './parameters.ts';
import { parseKept } from './plan/parsed.ts';
import { functionsOf } from './search/functions.ts';

export interface PreparedPattern {
  readonly text: string;
  /** Variables that a match binds, in the order of the text; without those that occur only inside EXISTS. */
  readonly variables: readonly string[];
  /** Names of the `$parameters`, without duplicates. */
  readonly parameters: readonly string[];
  /** Labels of nodes that the text names, inside EXISTS too, without duplicates; and those of edges. */
  readonly labels: readonly string[];
  readonly edgeLabels: readonly string[];
  /** Whether some condition is an EXISTS with a pattern of its own: its variables are not bound in a match. */
  readonly hasSubquery: boolean;
  /** Whether some MATCH says REPEATABLE ELEMENTS: its variables may stand for the same thing. */
  readonly repeatsElements: boolean;
  /** Differences from other implementations of the language, and unknown names. */
  readonly warnings: readonly Problem[];
  /** Module of the functions that it may call, in addition to those of the standard. */
  readonly functions: string | undefined;
  /** The syntax tree, for the engine. */
  readonly tree: Query;
  /** Whether its meaning depends on the time: it calls a function without arguments. */
  readonly asksForTime: boolean;
}

export interface PrepareOptions {
  /** Names that the text may use, for near names too; without it, names are not checked. */
  readonly vocabulary?: Vocabulary | undefined;
  /** How to treat a label or property that is not in the vocabulary. @default 'warning' */
  readonly unknownNames?: 'error' | 'warning' | undefined;
  /** Address (URL) of a module with further functions; call `loadFunctions` with it before. */
  readonly functions?: string | undefined;
  /** Names of the parameters with values; when not given, they are checked when the pattern is run. */
  readonly parameters?: readonly string[] | undefined;
}

/** A text that is not a valid pattern; every problem with line, column, excerpt and near names. */
export class PatternError extends Error {
  override readonly name = 'PatternError';
  readonly problems: readonly Problem[];
  constructor(problems: readonly Problem[]) {
    super(problems.map(describe).join('\n\n'));
    this.problems = problems;
  }
}

/** Prepared patterns kept for each vocabulary: a service gets the same patterns again and again. */
const KEPT = 500;
const kept = new WeakMap<object, LRUCache<string, PreparedPattern>>();
const NO_NAMES: Vocabulary = {};

/**
 * Parses and checks a text; returns the same object for the same text and options.
 * @throws PatternError with every problem when the text is not a valid pattern
 */
export function prepare(text: string, options: PrepareOptions = {}): PreparedPattern {
  return preparedFor(options.vocabulary ?? NO_NAMES, '', text, options, () => options.vocabulary ?? NO_NAMES);
}

/** Syntax problems of a text, regardless of its names: empty when it can be parsed. */
export function syntaxProblems(text: string): readonly Problem[] {
  return parseKept(text).errors;
}

/**
 * The pattern for a graph: as given, or prepared with the names in the graph.
 * @throws PatternError as well for the value of a parameter that counts rows
 * @throws QueryOptionError for a parameter that is no value of the language
 */
export function preparedOn(
  graph: PatternGraph,
  pattern: string | PreparedPattern,
  options: Omit<PrepareOptions, 'parameters'> & { readonly parameters?: Readonly<Record<string, unknown>> },
): PreparedPattern {
  const { parameters = {} } = options;
  checkParameters(options.parameters);
  const prepared = preparedWith(graph, pattern, options, parameters);
  const wrong = pageProblems(prepared.tree, prepared.text, parameters);
  if (wrong.length > 0) throw new PatternError(wrong);
  return prepared;
}

function preparedWith(
  graph: PatternGraph,
  pattern: string | PreparedPattern,
  options: Omit<PrepareOptions, 'parameters'>,
  parameters: Readonly<Record<string, unknown>>,
): PreparedPattern {
  if (typeof pattern !== 'string') {
    const missing = pattern.parameters.find((name) => !Object.hasOwn(parameters, name));
    // Checked again with the values, for a problem with its place.
    return missing === undefined
      ? pattern
      : prepare(pattern.text, { functions: pattern.functions, parameters: Object.keys(parameters) });
  }
  const named = { ...options, parameters: Object.keys(parameters) };
  if (options.vocabulary) return prepare(pattern, named);
  const { labels, edgeLabels, keys } = graph.store.catalog;
  // The names in a graph only ever grow.
  const names = `${labels.length} ${edgeLabels.length} ${keys.length}`;
  return preparedFor(graph, names, pattern, named, () => vocabularyKept(graph, names));
}

const vocabularies = new WeakMap<PatternGraph, { readonly names: string; readonly vocabulary: Vocabulary }>();

/** The names in a graph, kept until there are more. */
function vocabularyKept(graph: PatternGraph, names: string): Vocabulary {
  let known = vocabularies.get(graph);
  if (known?.names !== names) {
    const { labels, edgeLabels, properties } = vocabularyOf(graph);
    const vocabulary = {
      labels: new Set(labels),
      edgeLabels: new Set(edgeLabels),
      properties: new Set(properties),
    };
    known = { names, vocabulary };
    vocabularies.set(graph, known);
  }
  return known.vocabulary;
}

function preparedFor(
  owner: object,
  names: string,
  text: string,
  { functions, unknownNames = 'warning', parameters }: PrepareOptions,
  vocabulary: () => Vocabulary,
): PreparedPattern {
  let cache = kept.get(owner);
  if (!cache) {
    cache = new LRUCache({ max: KEPT });
    kept.set(owner, cache);
  }
  const key = JSON.stringify([text, names, parameters, functions, unknownNames]);
  let pattern = cache.get(key);
  if (!pattern) {
    pattern = prepared(text, { functions, unknownNames, parameters, vocabulary: vocabulary() });
    cache.set(key, pattern);
  }
  return pattern;
}

function prepared(
  text: string,
  { vocabulary, unknownNames, functions, parameters }: PrepareOptions,
): PreparedPattern {
  const { query, errors, warnings } = parseKept(text);
  if (!query) throw new PatternError(errors);
  const problems = checkQuery(query, text, {
    ...(vocabulary && { vocabulary }),
    ...(unknownNames && { unknownNames }),
    functions: functionsOf(functions),
    // Their values come when it is run.
    parameters: parameters && Object.fromEntries(parameters.map((name) => [name, undefined])),
  });
  const wrong = problems.filter(({ severity }) => severity === 'error');
  if (wrong.length > 0) throw new PatternError(wrong);
  const used = whatIsUsed(query);
  return {
    text,
    variables: [...analyse(query).variables].flatMap(([name, { kind }]) => (kind === 'value' ? [] : [name])),
    parameters: [...used.parameters],
    labels: [...used.labels],
    edgeLabels: [...used.edgeLabels],
    hasSubquery: used.hasSubquery,
    repeatsElements: used.repeatsElements,
    asksForTime: used.asksForTime,
    warnings: [...warnings, ...problems],
    functions,
    tree: query,
  };
}

function whatIsUsed(query: Query) {
  const parameters = new Set<string>();
  const labels = new Set<string>();
  const edgeLabels = new Set<string>();
  let hasSubquery = false;
  let asksForTime = false;
  let repeatsElements = false;
  const visit = (node: Syntax, ofEdge: boolean): void => {
    if (node.kind === 'parameter') parameters.add(node.name);
    else if (node.kind === 'label-name') (ofEdge ? edgeLabels : labels).add(node.name);
    else if (node.kind === 'exists' || node.kind === 'value-query') hasSubquery = true;
    else if (node.kind === 'match' && node.mode === 'REPEATABLE ELEMENTS') repeatsElements = true;
    else if (node.kind === 'call' && node.arguments.length === 0) asksForTime = true;
    const isEdge = node.kind === 'edge-pattern';
    for (const child of children(node))
      visit(child, child.kind.startsWith('label-') ? ofEdge || isEdge : false);
  };
  visit(query, false);
  return { parameters, labels, edgeLabels, hasSubquery, repeatsElements, asksForTime };
}

/** The names that are in a graph now, or were before. */
export function vocabularyOf({ store, hierarchy }: PatternGraph): Required<Vocabulary> {
  const { labels, edgeLabels, keys } = store.catalog;
  return {
    labels: [...labels, ...Object.keys(hierarchy), ...Object.values(hierarchy).flat()],
    edgeLabels: [...new Set(edgeLabels.map((_, label) => store.catalog.edgeLabelName(label)))].filter(
      (label) => label !== '',
    ),
    properties: keys.filter((key) => key !== ''),
  };
}
