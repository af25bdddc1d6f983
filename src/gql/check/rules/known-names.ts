import { nearNames } from '../../../text/near.ts';
import type { LabelExpression, Name, PathFactor, PropertyReference, Span } from '../../language/ast.ts';
import { expressionsIn, type Site } from '../analysis.ts';
import type { CheckContext, Rule } from '../rule.ts';

/** Not in the standard, whose graphs with an open type take any name; for people who mistype. */
export const knownNames: Rule = {
  sentence: 'Labels, edge labels and properties are among those that the graph knows.',
  check(context) {
    const { vocabulary = {} } = context.options;
    const known = {
      labels: setOf(vocabulary.labels),
      edgeLabels: setOf(vocabulary.edgeLabels),
      properties: setOf(vocabulary.properties),
    };
    const look = new Names(known, context);
    for (const clause of context.analysis.matches) {
      for (const { factors } of clause.paths) for (const factor of factors) look.factor(factor);
    }
    for (const site of context.analysis.sites) {
      for (const node of expressionsIn(site.root)) {
        if (node.kind === 'is-labeled')
          look.labels(node.labels, site.find(node.element.name)?.kind === 'edge');
        else if (node.kind === 'property-exists' || (node.kind === 'property' && !isField(node, site)))
          look.property(node.key);
      }
    }
  },
};

/** The names of a graph come as sets already. */
function setOf(names: Iterable<string> | undefined): ReadonlySet<string> | undefined {
  return names === undefined || names instanceof Set ? names : new Set(names);
}

/** Whether a property is a field of a record that the text makes, or may be one. */
function isField({ object }: PropertyReference, site: Site): boolean {
  if (object.kind === 'record') return true;
  if (object.kind === 'property') return isField(object, site);
  return object.kind === 'variable' && site.find(object.name)?.kind === 'value';
}

interface Known {
  readonly labels: ReadonlySet<string> | undefined;
  readonly edgeLabels: ReadonlySet<string> | undefined;
  readonly properties: ReadonlySet<string> | undefined;
}

class Names {
  readonly #known: Known;
  readonly #context: CheckContext;

  constructor(known: Known, context: CheckContext) {
    this.#known = known;
    this.#context = context;
  }

  factor(factor: PathFactor): void {
    switch (factor.kind) {
      case 'node-pattern':
      case 'edge-pattern':
        if (factor.labels) this.labels(factor.labels, factor.kind === 'edge-pattern');
        for (const { key } of factor.properties) this.property(key);
        return;
      case 'parenthesized-path':
        for (const inner of factor.factors) this.factor(inner);
        return;
      case 'quantified-path':
      case 'questioned-path':
        this.factor(factor.path);
        return;
      case 'path-alternation':
        for (const { factors } of factor.branches) for (const inner of factors) this.factor(inner);
        return;
      default:
        factor satisfies never;
    }
  }

  labels(labels: LabelExpression, ofEdge: boolean): void {
    switch (labels.kind) {
      case 'label-wildcard':
        return;
      case 'label-name':
        if (ofEdge) this.#name(labels.name, labels.span, 'edgeLabels');
        else this.#name(labels.name, labels.span, 'labels');
        return;
      case 'label-negation':
        this.labels(labels.operand, ofEdge);
        return;
      case 'label-conjunction':
      case 'label-disjunction':
        for (const operand of labels.operands) this.labels(operand, ofEdge);
        return;
      default:
        labels satisfies never;
    }
  }

  property({ text, span }: Name): void {
    this.#name(text, span, 'properties');
  }

  #name(name: string, span: Span, group: keyof Known): void {
    const known = this.#known[group];
    if (!known || known.has(name)) return;
    const { code, what } = WORDS[group];
    const elsewhere =
      group === 'labels' && this.#known.edgeLabels?.has(name)
        ? ' It is an edge label; edges are written in brackets: -[:…]-.'
        : group === 'edgeLabels' && this.#known.labels?.has(name)
          ? ' It is a node label; nodes are written in parentheses: (:…).'
          : '';
    this.#context.report(code, span, `No ${what} "${name}".${elsewhere}`, {
      near: nearOrAlike(name, known),
      severity: this.#context.options.unknownNames ?? 'warning',
    });
  }
}

/** Names that a mistyped one may mean: those a few letters away, else those that it ends with or that end with it. */
function nearOrAlike(name: string, known: ReadonlySet<string>): readonly string[] {
  const near = nearNames(name, known);
  if (near.length > 0) return near;
  const alike = [...known].filter((other) => endsWithWord(name, other) || endsWithWord(other, name));
  return alike.sort((a, b) => b.length - a.length || (a < b ? -1 : 1)).slice(0, MAX_ALIKE);
}

const MAX_ALIKE = 3;

/** Whether a name in capitals and small letters ends with a whole word or more: ButtonCell with Cell. */
function endsWithWord(name: string, end: string): boolean {
  return /^\p{Lu}\p{Ll}/u.test(end) && name.length > end.length && name.endsWith(end);
}

const WORDS = {
  labels: { code: 'unknown-label', what: 'node in the graph has the label' },
  edgeLabels: { code: 'unknown-edge-label', what: 'edge in the graph has the label' },
  properties: { code: 'unknown-property', what: 'node or edge in the graph has the property' },
} as const;
