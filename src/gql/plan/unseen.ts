/**
 * What of a pattern would have to be there, when part of the graph was not looked at: the pattern without the elements
 * that may exist unseen, and with conditions that hold unless they are known to be false.
 *
 * A record has a match that nobody saw only if it has a match of what is left (an upper bound on the certain and
 * possible answers over an incomplete database: Imieliński and Lipski, "Incomplete Information in Relational Databases",
 * JACM 31, 1984; truth in Kleene's strong three-valued logic, as the language has it).
 */
import type {
  Clause,
  EdgePattern,
  Exists,
  Expression,
  LabelExpression,
  MatchClause,
  NodePattern,
  PathFactor,
  PathPattern,
  Query,
  Span,
  Syntax,
} from '../language/ast.ts';
import { children } from '../language/children.ts';
import { printQuery } from '../language/print.ts';
import { conjunction, conjuncts, declaredNames, namesIn } from './free-names.ts';
import { withPushedFilters } from './pushed-filters.ts';

/** Labels as a pattern writes them, to be asked what they accept. */
export interface AskedLabels {
  /** Label names, negated ones left out. */
  readonly named: readonly string[];
  /** Whether something with exactly these labels is accepted. */
  readonly accept: (labels: readonly string[]) => boolean;
}

/** An element of a pattern about which a graph may be silent. */
export interface AskedElement {
  readonly kind: 'node' | 'edge';
  readonly variable: string | undefined;
  readonly labels: AskedLabels;
  /** For an edge or part of a path with edges: labels of the nodes at its ends. */
  readonly ends: readonly AskedLabels[];
  /** For a node: labels of the edges at it, with whether it is their source. */
  readonly edges: readonly { readonly labels: AskedLabels; readonly isSource: boolean }[];
  /** Place in the text. */
  readonly span: Span;
}

/** A condition that was taken to hold unless known to be false. */
export interface DoubtedCondition {
  readonly span: Span;
}

export interface UnseenPattern {
  /** Text of what is left; undefined when nothing is left that would have to be there. */
  readonly text: string | undefined;
  /** What was left out, each with the elements that may exist unseen. */
  readonly left: readonly AskedElement[];
  /** Conditions whose truth may be unknown. */
  readonly doubted: readonly DoubtedCondition[];
}

export interface UnseenOptions {
  /** Whether something may match the element and not be in the graph. */
  readonly mayBeUnseen: (element: AskedElement) => boolean;
  /** Labels of nodes that are complete and shared, such as a catalogue: alone they say nothing of a segment. */
  readonly shared: readonly string[];
  /** Whether conditions hold unless they are known to be false, or as they stand. @default true */
  readonly doubtConditions?: boolean;
  /**
   * When given: whether a node may stand for another as well, because what it stands for may hold several things that the graph
   * has as one. Edges may then repeat too.
   */
  readonly mayCoincide?: ((labels: AskedLabels) => boolean) | undefined;
}

/** What is left of a pattern; see the head of this file. OPTIONAL, RETURN and all behind it are left out. */
export function withoutUnseen(given: Query, options: UnseenOptions): UnseenPattern {
  const query = { ...given, clauses: withPushedFilters(given.clauses) };
  const rewriting = new Rewriting(query, options);
  const left = rewriting.clauses(query.clauses, []);
  const clauses = options.mayCoincide ? rewriting.coinciding(left, options.mayCoincide) : left;
  const one = { kind: 'number', value: 1, span: query.span } as const;
  const text =
    clauses.length === 0
      ? undefined
      : printQuery({
          ...query,
          clauses,
          result: {
            ...query.result,
            distinct: false,
            items: [{ kind: 'return-item', value: one, alias: undefined, span: query.span }],
            groupBy: undefined,
          },
          orderBy: [],
          offset: undefined,
          limit: undefined,
        });
  return { text, left: rewriting.left, doubted: rewriting.doubted };
}

class Rewriting {
  readonly #options: UnseenOptions;
  /** Labels that any mention gives a variable. */
  readonly #labels = new Map<string, LabelExpression[]>();
  readonly #edges: ReadonlySet<string>;
  readonly left: AskedElement[] = [];
  readonly doubted: DoubtedCondition[] = [];

  constructor(query: Query, options: UnseenOptions) {
    this.#options = options;
    const edges = new Set<string>();
    const visit = (node: Syntax): void => {
      if (node.kind === 'node-pattern' && node.variable && node.labels) {
        const known = this.#labels.get(node.variable.text) ?? [];
        this.#labels.set(node.variable.text, [...known, node.labels]);
      }
      if (node.kind === 'edge-pattern' && node.variable) edges.add(node.variable.text);
      for (const child of children(node)) visit(child);
    };
    visit(query);
    this.#edges = edges;
  }

  /** @param outer variables that are bound outside, for clauses inside EXISTS */
  clauses(clauses: readonly Clause[], outer: readonly string[]): readonly MatchClause[] {
    const matches = clauses.filter((clause) => clause.kind === 'match');
    const goneNodes = this.#goneNodes(matches, outer);
    const cut = matches.map((clause) => ({ ...clause, paths: this.#cut(clause.paths, goneNodes) }));
    const local = this.#withoutSharedAlone(withoutDangling(cut, clauses, outer), outer);
    const bound = new Set([...outer, ...declaredNames(local)]);
    const declared = new Set([...outer, ...declaredNames(clauses)]);
    const isGone = (expression: Expression) =>
      [...namesIn(expression)].some((name) => !bound.has(name) && declared.has(name));
    const kept = local.map((clause, at) => {
      const wheres = [
        ...conjuncts(matches[at]?.where),
        ...clause.paths.flatMap((path) => path.factors.flatMap(own)),
      ];
      return {
        ...clause,
        paths: clause.paths.map((path) => ({ ...path, factors: path.factors.map((one) => this.#bare(one)) })),
        where: conjunction(
          wheres.flatMap((where) => {
            if (isGone(where)) return [];
            const weaker = this.#mayHold(where, [...bound]);
            return weaker ? [weaker] : [];
          }),
        ),
      };
    });
    return kept.filter(({ paths }) => paths.length > 0);
  }

  /** Clauses whose nodes may coincide, but for those that may not. */
  coinciding(
    clauses: readonly MatchClause[],
    mayCoincide: (labels: AskedLabels) => boolean,
  ): readonly MatchClause[] {
    return clauses.map((clause): MatchClause => {
      if (clause.mode === 'REPEATABLE ELEMENTS') return clause;
      const apart = new Map<string, Expression & { readonly kind: 'variable' }>();
      for (const factor of clause.paths.flatMap(({ factors }) => factors)) {
        if (factor.kind !== 'node-pattern' || !factor.variable) continue;
        const { text: name, span } = factor.variable;
        if (!mayCoincide(this.#labelsOf(factor))) apart.set(name, { kind: 'variable', name, span });
      }
      const different: readonly Expression[] =
        apart.size < 2 ? [] : [{ kind: 'all-different', elements: [...apart.values()], span: clause.span }];
      return {
        ...clause,
        mode: 'REPEATABLE ELEMENTS',
        where: conjunction([...conjuncts(clause.where), ...different]),
      };
    });
  }

  /** Variables, and patterns without one, of nodes that may be unseen. */
  #goneNodes(
    matches: readonly MatchClause[],
    outer: readonly string[],
  ): { readonly has: (factor: PathFactor | undefined) => boolean } {
    const gone = new Set<string | NodePattern>();
    const asked = new Map<string | NodePattern, AskedElement>();
    for (const { paths } of matches) {
      for (const { factors } of paths) {
        factors.forEach((factor, f) => {
          if (factor.kind !== 'node-pattern') return;
          const name = factor.variable?.text;
          if (name !== undefined && outer.includes(name)) return;
          const key = name ?? factor;
          const edges = [edgesAt(factors[f - 1], 'before'), edgesAt(factors[f + 1], 'after')].flat();
          const known = asked.get(key);
          asked.set(key, {
            kind: 'node',
            variable: name,
            labels: this.#labelsOf(factor),
            ends: [],
            edges: [...(known?.edges ?? []), ...edges],
            span: known?.span ?? factor.span,
          });
        });
      }
    }
    for (const [key, element] of asked) {
      if (!this.#options.mayBeUnseen(element)) continue;
      gone.add(key);
      this.left.push(element);
    }
    return {
      has: (factor) => factor?.kind === 'node-pattern' && gone.has(factor.variable?.text ?? factor),
    };
  }

  /** Paths without nodes that are gone, the edges at them, and edges that may be unseen. */
  #cut(paths: readonly PathPattern[], gone: { readonly has: (factor: PathFactor | undefined) => boolean }) {
    return paths.flatMap((path) => {
      const pieces: PathFactor[][] = [[]];
      path.factors.forEach((factor, f) => {
        const isGone =
          factor.kind === 'node-pattern'
            ? gone.has(factor)
            : gone.has(path.factors[f - 1]) || gone.has(path.factors[f + 1]) || this.#isUnseenEdge(path, f);
        if (isGone) pieces.push([]);
        else pieces.at(-1)!.push(factor);
      });
      const whole = pieces.length === 1;
      return pieces
        .filter((factors) => factors.length > 0)
        .map((factors): PathPattern => (whole ? path : { ...path, variable: undefined, factors }));
    });
  }

  #isUnseenEdge({ factors }: PathPattern, at: number): boolean {
    const factor = factors[at] as Exclude<PathFactor, NodePattern>;
    const nodes = [factors[at - 1], factors[at + 1]].flatMap((one) =>
      one?.kind === 'node-pattern' ? [this.#labelsOf(one)] : [],
    );
    const inside = [...partsOf(factor)];
    const ends = [
      ...nodes,
      ...inside.flatMap((one) => (one.kind === 'node-pattern' ? [this.#labelsOf(one)] : [])),
    ];
    const ofParts = inside.map(
      (part): AskedElement => ({
        kind: part.kind === 'node-pattern' ? 'node' : 'edge',
        variable: part.variable?.text,
        labels: part.kind === 'node-pattern' ? this.#labelsOf(part) : askedLabels([part.labels]),
        ends: part.kind === 'node-pattern' ? [] : ends,
        edges: [],
        span: factor.span,
      }),
    );
    const unseen = ofParts.find((part) => this.#options.mayBeUnseen(part));
    if (unseen) this.left.push(unseen);
    return unseen !== undefined;
  }

  /** Without pieces whose every node is shared: by themselves they are true of everything. */
  #withoutSharedAlone(clauses: readonly MatchClause[], outer: readonly string[]): readonly MatchClause[] {
    const held = new Set(outer);
    const isShared = (factor: PathFactor): boolean => {
      if (factor.kind !== 'node-pattern') return true;
      if (factor.variable && held.has(factor.variable.text)) return false;
      const { named } = this.#labelsOf(factor);
      return named.length > 0 && named.every((label) => this.#options.shared.includes(label));
    };
    // What is joined to something that is not shared is no longer alone.
    for (let before = -1; before < held.size; ) {
      before = held.size;
      for (const { paths } of clauses)
        for (const path of paths)
          if (!path.factors.every(isShared))
            for (const name of declaredNames([{ ...clauses[0]!, paths: [path] }])) held.add(name);
    }
    return clauses.map((clause) => ({
      ...clause,
      paths: clause.paths.filter((path) => !path.factors.every(isShared)),
    }));
  }

  #labelsOf(node: NodePattern): AskedLabels {
    const all = node.variable ? (this.#labels.get(node.variable.text) ?? []) : [node.labels];
    return askedLabels(all);
  }

  /** An element without its own conditions: those of one with a variable stand in the clause's WHERE now. */
  #bare(factor: PathFactor): PathFactor {
    if (factor.kind === 'node-pattern') return { ...factor, properties: [], where: undefined };
    if (factor.kind !== 'edge-pattern') return factor;
    if (factor.variable) return { ...factor, properties: [], where: undefined };
    const properties = factor.properties.filter(({ value }) => namesIn(value).size === 0);
    return { ...factor, properties, where: undefined };
  }

  /** A condition that holds wherever this one may hold; undefined when it may always. */
  #mayHold(expression: Expression, bound: readonly string[]): Expression | undefined {
    switch (expression.kind) {
      case 'logical': {
        if (expression.operator === 'XOR') return this.#unlessFalse(expression);
        const weaker = expression.operands.map((one) => this.#mayHold(one, bound));
        if (expression.operator === 'AND') return conjunction(weaker.filter((one) => one !== undefined));
        return weaker.some((one) => one === undefined)
          ? undefined
          : { ...expression, operands: weaker as Expression[] };
      }
      case 'exists': {
        const clauses = this.clauses(expression.clauses, bound);
        return clauses.length === 0 ? undefined : ({ ...expression, clauses } satisfies Exists);
      }
      case 'not':
        return { ...expression, operand: this.#mustHold(expression.operand, bound) };
      default:
        return this.#unlessFalse(expression);
    }
  }

  /** A condition that holds only where this one holds whatever is unseen. */
  #mustHold(expression: Expression, bound: readonly string[]): Expression {
    switch (expression.kind) {
      case 'logical':
        if (expression.operator === 'XOR') break;
        return { ...expression, operands: expression.operands.map((one) => this.#mustHold(one, bound)) };
      // Nothing unseen makes a match that was seen go away.
      case 'exists':
        return expression;
      case 'not': {
        const weaker = this.#mayHold(expression.operand, bound);
        if (!weaker) return { kind: 'boolean', value: false, span: expression.span };
        return { ...expression, operand: weaker };
      }
      default:
    }
    if (this.#isKnown(expression)) return expression;
    this.doubted.push({ span: expression.span });
    return { kind: 'is-truth', operand: expression, truth: true, negated: false, span: expression.span };
  }

  #unlessFalse(expression: Expression): Expression {
    if (this.#isKnown(expression)) return expression;
    this.doubted.push({ span: expression.span });
    return { kind: 'is-truth', operand: expression, truth: false, negated: true, span: expression.span };
  }

  #isKnown(expression: Expression): boolean {
    return (
      this.#options.doubtConditions === false ||
      !readsProperties(expression) ||
      // Where an edge is known, what is recorded of it is all there is to know.
      [...namesIn(expression)].every((name) => this.#edges.has(name))
    );
  }
}

/** Without quantified and parenthesized parts of paths that name a variable which is gone. */
function withoutDangling(
  cut: readonly MatchClause[],
  clauses: readonly Clause[],
  outer: readonly string[],
): readonly MatchClause[] {
  const bound = new Set([...outer, ...declaredNames(cut)]);
  const gone = new Set(declaredNames(clauses).filter((name) => !bound.has(name)));
  if (gone.size === 0) return cut;
  return cut.map((clause) => ({
    ...clause,
    paths: clause.paths.flatMap((path) => {
      const pieces: PathFactor[][] = [[]];
      for (const factor of path.factors) {
        const isElement = factor.kind === 'node-pattern' || factor.kind === 'edge-pattern';
        const names = isElement ? [] : [...namesIn(factor as unknown as Expression)];
        if (names.some((name) => gone.has(name))) pieces.push([]);
        else pieces.at(-1)!.push(factor);
      }
      if (pieces.length === 1) return [path];
      return pieces
        .filter((factors) => factors.length > 0)
        .map((factors): PathPattern => ({ ...path, variable: undefined, factors }));
    }),
  }));
}

/** Conditions written inside an element with a variable, as conditions of the clause. */
function own(factor: PathFactor): readonly Expression[] {
  if ((factor.kind !== 'node-pattern' && factor.kind !== 'edge-pattern') || !factor.variable) return [];
  const { variable, properties, where, span } = factor;
  const object: Expression = { kind: 'variable', name: variable.text, span };
  return [
    ...properties.map(
      ({ key, value, span: at }): Expression => ({
        kind: 'comparison',
        operator: '=',
        left: { kind: 'property', object, key, span: at },
        right: value,
        span: at,
      }),
    ),
    ...conjuncts(where),
  ];
}

/** Nodes and edges of a path factor that is not a node. */
function* partsOf(factor: PathFactor): Generator<NodePattern | EdgePattern> {
  switch (factor.kind) {
    case 'node-pattern':
    case 'edge-pattern':
      yield factor;
      return;
    case 'parenthesized-path':
      for (const one of factor.factors) yield* partsOf(one);
      return;
    case 'quantified-path':
    case 'questioned-path':
      yield* partsOf(factor.path);
      return;
    case 'path-alternation':
      for (const { factors } of factor.branches) for (const one of factors) yield* partsOf(one);
      return;
    default:
      factor satisfies never;
  }
}

/** Edges beside a node; what is before it on the path leads to it with an arrow to the right. */
function edgesAt(
  factor: PathFactor | undefined,
  place: 'before' | 'after',
): readonly { readonly labels: AskedLabels; readonly isSource: boolean }[] {
  if (!factor || factor.kind === 'node-pattern') return [];
  return [...partsOf(factor)].flatMap((edge) =>
    edge.kind === 'edge-pattern'
      ? [
          {
            labels: askedLabels([edge.labels]),
            isSource: edge.direction !== (place === 'before' ? 'right' : 'left'),
          },
        ]
      : [],
  );
}

function askedLabels(all: readonly (LabelExpression | undefined)[]): AskedLabels {
  const expressions = all.filter((one) => one !== undefined);
  return {
    named: [...new Set(expressions.flatMap((one) => positive(one, true)))],
    accept: (labels) => expressions.every((one) => accepts(one, labels)),
  };
}

function positive(expression: LabelExpression, holds: boolean): readonly string[] {
  switch (expression.kind) {
    case 'label-name':
      return holds ? [expression.name] : [];
    case 'label-wildcard':
      return [];
    case 'label-negation':
      return positive(expression.operand, !holds);
    case 'label-conjunction':
    case 'label-disjunction':
      return expression.operands.flatMap((one) => positive(one, holds));
    default:
      return expression satisfies never;
  }
}

function accepts(expression: LabelExpression, labels: readonly string[]): boolean {
  switch (expression.kind) {
    case 'label-name':
      return labels.includes(expression.name);
    case 'label-wildcard':
      return labels.length > 0;
    case 'label-negation':
      return !accepts(expression.operand, labels);
    case 'label-conjunction':
      return expression.operands.every((one) => accepts(one, labels));
    case 'label-disjunction':
      return expression.operands.some((one) => accepts(one, labels));
    default:
      return expression satisfies never;
  }
}

/** Whether the truth of an expression can be unknown because something is not recorded. */
function readsProperties(node: Syntax): boolean {
  if (node.kind === 'property' || (node.kind === 'call' && node.arguments.length > 0)) return true;
  return children(node).some(readsProperties);
}
