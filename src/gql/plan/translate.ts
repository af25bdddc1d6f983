/**
 * From the syntax tree of the clauses to what the search works on: node and edge patterns without their order,
 * quantified paths as chains, conditions as tests.
 */
import { elementKindOf, itemKindOf } from '../expression/element-kind.ts';
import type {
  Clause,
  EdgePattern,
  Expression,
  ForClause,
  MatchClause,
  MatchingClause,
  Name,
  NodePattern,
  PageClause,
  PathAlternation,
  PathFactor,
  PathMode,
  PathPattern,
  Span,
  TableClause,
} from '../language/ast.ts';
import { Distinct, type DistinctSet } from './distinct.ts';
import { chainMode, directionsOf, testsOf } from './element-patterns.ts';
import { conjunction, conjuncts, declaredInFactors, namesIn } from './free-names.ts';
import { NEVER, otherElements, sameElement } from './identity.ts';
import { bothLabels, labelTest } from './label-of.ts';
import type { LabelTest } from './label-test.ts';
import { type Match, type MatchRepeat, type PlannableClause, repeatSlots } from './match.ts';
import { endsOfPath, isNode } from './path-ends.ts';
import type { Condition, PatternEdge, PatternNode } from './pattern.ts';
import type { PathPart, WholePath } from './quantified-path.ts';
import type { Binding, Earlier, RepeatSlots, Scope } from './scope.ts';
import type { TranslateContext } from './translate-context.ts';
import { type Body, BodyLowering } from './translate-iteration.ts';
import { chainOf } from './translate-walk.ts';

const NOTHING_EARLIER: Earlier = { nodes: new Set(), repeats: [] };

/**
 * Translates clauses in order; their variables are added to the scope.
 * @param before what earlier clauses bind
 */
export function translateClauses(
  clauses: readonly MatchingClause[],
  scope: Scope,
  context: TranslateContext,
  before: Earlier = NOTHING_EARLIER,
): PlannableClause[] {
  return translateRows(clauses, scope, context, {
    nodes: new Set(before.nodes),
    repeats: [...before.repeats],
  });
}

/** What clauses have bound so far. */
export interface Bound extends Earlier {
  readonly nodes: Set<number>;
  readonly repeats: RepeatSlots[];
}

/** Clauses that take one row at a time. */
export type RowClause = Exclude<Clause, PageClause | TableClause>;

/** The same for all clauses that take one row at a time; what they bind is added to `earlier`. */
export function translateRows(
  clauses: readonly RowClause[],
  scope: Scope,
  context: TranslateContext,
  earlier: Bound,
): PlannableClause[] {
  return clauses.map((clause) => translateClause(clause, scope, context, earlier));
}

function translateClause(
  clause: RowClause,
  scope: Scope,
  context: TranslateContext,
  earlier: Bound,
): PlannableClause {
  if (clause.kind === 'let') return translateLet(clause.variable.text, clause.value, scope, scope, context);
  if (clause.kind === 'for') return translateFor(clause, scope, context);
  if (clause.kind === 'filter')
    return { kind: 'filter', condition: context.condition(clause.condition, scope, []) };
  if (clause.kind === 'match') {
    // What is earlier for this clause must not grow with it.
    const before = { nodes: new Set(earlier.nodes), repeats: [...earlier.repeats] };
    const match = new MatchLowering(clause, scope, context, before).match();
    for (const { slot } of match.pattern.nodes) earlier.nodes.add(slot);
    earlier.repeats.push(...repeatSlots(match));
    return { kind: 'match', match };
  }
  const before = new Map(scope.visible());
  const boundBefore = new Set([...before.values()].map(({ slot }) => slot));
  const readings = context.readings(clause.clauses, scope, earlier);
  const known = { nodes: earlier.nodes.size, repeats: earlier.repeats.length };
  const clauses = clause.clauses.map((inner) => translateClause(inner, scope, context, earlier));
  // Also what the text gives no name, for those who look whether nodes differ.
  const elements = [...earlier.nodes].slice(known.nodes).filter((slot) => !boundBefore.has(slot));
  const values = earlier.repeats.slice(known.repeats).map((repeat) => repeat.elements);
  for (const [name, binding] of scope.own()) {
    if (before.has(name) || boundBefore.has(binding.slot)) continue;
    if (binding.kind === 'node' || binding.kind === 'edge') elements.push(binding.slot);
    else values.push(binding.slot);
  }
  return { kind: 'optional', clauses, readings, nulls: { elements, values } };
}

/**
 * A variable for the value of an expression.
 * @param scope what the expression sees
 * @param target where the variable is declared
 */
export function translateLet(
  name: string,
  value: Expression,
  scope: Scope,
  target: Scope,
  context: TranslateContext,
): PlannableClause {
  const { evaluate, readsLabels } = context.value(value, scope);
  const { kind, items } = kindsOf(value, scope);
  const slot = scope.slots.take();
  target.set(
    name,
    kind ? { kind, slot } : { kind: 'value', slot, items, again: readsLabels ? evaluate : undefined },
  );
  return { kind: 'let', target: { slot, isElement: kind !== undefined }, value: evaluate };
}

function translateFor(
  { variable, list, position }: ForClause,
  scope: Scope,
  context: TranslateContext,
): PlannableClause {
  const { evaluate } = context.value(list, scope);
  const { items } = kindsOf(list, scope);
  const slot = scope.slots.take();
  scope.set(variable.text, items ? { kind: items, slot } : { kind: 'value', slot });
  const target = { slot, isElement: items !== undefined };
  if (!position) return { kind: 'for', target, list: evaluate, position: undefined };
  const at = scope.slots.take();
  scope.set(position.variable.text, { kind: 'value', slot: at });
  const first = position.kind === 'ORDINALITY' ? 1 : 0;
  return { kind: 'for', target, list: evaluate, position: { slot: at, first } };
}

/** Whether a value is a node or an edge, and whether its items are, as far as the text shows. */
export function kindsOf(value: Expression, scope: Scope) {
  const held = (name: string) => scope.held(name);
  return { kind: elementKindOf(value, held), items: itemKindOf(value, held) };
}

/** A node of the pattern while it is being built; several variables may name the same node. */
interface NodeDraft {
  index: number;
  slot: number;
  names: string[];
  label: LabelTest | undefined;
  bound: boolean;
  /** Labels that a bound node has from before. */
  known: LabelTest | undefined;
  place: Span | undefined;
  /** Its number among all drafts. */
  readonly made: number;
  mergedInto: NodeDraft | undefined;
}

type Item =
  | { readonly kind: 'node'; readonly draft: NodeDraft }
  | { readonly kind: 'edge'; readonly slot: number }
  | { readonly kind: 'repeat'; readonly draft: RepeatDraft };

interface EdgeDraft {
  readonly slot: number;
  readonly name: string | undefined;
  readonly label: LabelTest | undefined;
  readonly directions: number;
  readonly from: NodeDraft;
  readonly to: NodeDraft;
  readonly bound: boolean;
  readonly place: Span;
}

interface RepeatDraft {
  readonly from: NodeDraft;
  readonly to: NodeDraft;
  /** Given later where it needs to know what all the rest of the MATCH binds. */
  body: Body;
  /** Modes of the paths around, outermost first. */
  readonly modes: readonly PathMode[];
  readonly search?: MatchRepeat['search'];
  readonly place: Span;
}

const NO_BODY: Body = {
  items: [],
  least: 1,
  most: 1,
  optional: false,
  elementsSlot: -1,
  groups: [],
  known: [],
  linked: [],
  mayBeEmpty: true,
  binds: [],
  paths: [],
  conditions: [],
  reads: new Set(),
};

class MatchLowering {
  readonly #clause: MatchClause;
  readonly #scope: Scope;
  readonly #context: TranslateContext;
  readonly #earlier: Earlier;
  readonly #edgesDiffer: boolean;
  readonly #nodes: NodeDraft[] = [];
  /** Drafts by variable; they may have been merged since. */
  readonly #nodeNamed = new Map<string, NodeDraft>();
  readonly #edges: EdgeDraft[] = [];
  readonly #edgeNamed = new Map<string, EdgeDraft>();
  readonly #repeats: RepeatDraft[] = [];
  /** What is translated when all plain nodes and edges are there. */
  readonly #waiting: (() => void)[] = [];
  readonly #paths: WholePath[] = [];
  /** Conditions are made when all variables are known. */
  readonly #wanted: { expression: Expression; scope: Scope }[] = [];
  readonly #distinct: DistinctSet[] = [];
  readonly #equal: [number, number][] = [];
  /** Names of nodes that no earlier clause has. */
  readonly #fresh = new Set<string>();
  /** Labels asked of the nodes in a slot: elements inside quantified paths, and the lists they become. */
  readonly #labelOfSlot = new Map<number, LabelTest>();
  readonly #bodies: BodyLowering;

  constructor(clause: MatchClause, scope: Scope, context: TranslateContext, earlier: Earlier) {
    this.#clause = clause;
    this.#scope = scope;
    this.#context = context;
    this.#earlier = earlier;
    this.#edgesDiffer = clause.mode !== 'REPEATABLE ELEMENTS';
    this.#bodies = new BodyLowering(context, this.#labelOfSlot);
  }

  match(): Match {
    const items = this.#clause.paths.map((path) => this.#path(path));
    for (const lower of this.#waiting) lower();
    for (const expression of conjuncts(this.#clause.where))
      this.#wanted.push({ expression, scope: this.#scope });
    const nodes = this.#nodes.filter((draft) => draft.mergedInto === undefined);
    nodes.forEach((draft, i) => {
      draft.index = i;
    });
    this.#clause.paths.forEach((path, i) => {
      this.#whole(path.mode, path.variable, items[i]!, true);
    });
    // Paths inside paths were noted before their nodes were final; see `#whole`.
    const paths = this.#paths.map((path) => this.#settled(path));

    // Later clauses, and those inside EXISTS, can rely on these labels.
    for (const { names, slot, label, known } of nodes)
      for (const name of names)
        this.#scope.set(name, { kind: 'node', slot, label: bothLabels(label, known) });
    this.#bodies.finish();
    const inside = this.#scope.inner();
    const aliases = this.#aliases(nodes, inside);

    const conditions: Condition[] = [];
    const late: Condition[] = [];
    const own = new Set([...this.#nodes, ...this.#edges].filter((d) => !d.bound).map((d) => d.slot));
    const lists = new Set([
      ...this.#repeats.flatMap(({ body }) => body.binds.map(({ binding }) => binding.slot)),
      ...this.#paths.map((path) => path.slot),
    ]);
    for (const { expression, scope: where } of this.#wanted) {
      const scope = where === this.#scope ? inside : where;
      const { slots, isLate } = this.#reads(expression, scope, own, lists);
      (isLate ? late : conditions).push(this.#context.condition(expression, scope, slots));
    }
    for (const [a, b] of this.#equal) conditions.push(sameElement(a, b));
    // An edge at two places of a match is not different from itself.
    const edgeSlots = this.#edges.map(({ slot }) => slot);
    if (this.#edgesDiffer && new Set(edgeSlots).size < edgeSlots.length) conditions.push(NEVER);
    // Sets only cut the search short where quantified paths are about; see `nodesDiffer` of the match.
    if (this.#context.distinctNodes) {
      const own = new Set(nodes.map(({ slot }) => slot));
      const kin = this.#kin(nodes);
      this.#distinct.push({ slots: [...own], kin });
      const earlier = [...this.#earlier.nodes].filter((slot) => !own.has(slot));
      // A node at the same place as one of an earlier clause may be what that one was together with there.
      const kinOfBound = new Set(nodes.flatMap(({ bound, slot }) => (bound ? [kin?.get(slot)] : [])));
      if (earlier.length > 0)
        for (const { bound, slot } of nodes)
          if (!bound && !(kin?.has(slot) && kinOfBound.has(kin.get(slot))))
            conditions.push(otherElements(slot, earlier));
    }
    if (this.#edgesDiffer) this.#distinct.push({ slots: [...new Set(edgeSlots)] });

    const patternNodes: PatternNode[] = nodes.map((draft) => ({
      kind: 'node',
      slot: draft.slot,
      name: draft.names[0],
      label: draft.label,
      bound: draft.bound,
      known: draft.known,
      leastTruth: this.#context.leastTruth,
      place: draft.place,
    }));
    const patternEdges: PatternEdge[] = this.#edges.map((draft) => ({
      kind: 'edge',
      slot: draft.slot,
      name: draft.name,
      label: draft.label,
      from: final(draft.from).index,
      to: final(draft.to).index,
      directions: draft.directions,
      bound: draft.bound,
      leastTruth: this.#context.leastTruth,
      place: draft.place,
    }));
    const bindable = new Set([...own, ...lists]);
    const repeats = this.#repeats.map((draft): MatchRepeat => this.#repeat(draft, inside, bindable));
    const hasRepeats = repeats.length > 0;
    const { distinctNodes } = this.#context;
    return {
      pattern: {
        nodes: patternNodes,
        edges: patternEdges,
        held: [],
        conditions,
        distinct: new Distinct(this.#distinct),
      },
      repeats,
      paths,
      edgesDiffer: this.#edgesDiffer && hasRepeats,
      nodesDiffer:
        distinctNodes && (hasRepeats || this.#earlier.repeats.length > 0) ? this.#earlier : undefined,
      late,
      labelledGroups: [...this.#scope.own()].flatMap(([, { slot }]) => {
        const label = this.#labelOfSlot.get(slot);
        return label ? [{ slot, label }] : [];
      }),
      apart: this.#apart(nodes),
      aliases,
      place: this.#clause.span,
    };
  }

  /**
   * A further name for a node that an earlier clause has bound gets a slot of its own, since OPTIONAL may leave the name
   * null but not the node. Conditions of this clause read the node.
   */
  #aliases(nodes: readonly NodeDraft[], inside: Scope): Match['aliases'] {
    return nodes.flatMap((draft) => {
      if (!draft.bound) return [];
      return draft.names.flatMap((name) => {
        if (!this.#fresh.has(name)) return [];
        const alias = this.#scope.slots.take();
        inside.set(name, this.#scope.find(name)!);
        this.#scope.set(name, { ...this.#scope.find(name)!, slot: alias });
        return [{ slot: draft.slot, alias }];
      });
    });
  }

  // ─── Paths ────────────────────────────────────────────────────────────────────────────────────────────────────

  #path(path: PathPattern): Item[] {
    const modes = path.mode ? [path.mode] : [];
    const { search } = path;
    if (!search || search === 'ALL' || path.factors.every(isNode)) return this.#factors(path.factors, modes);
    return this.#searched(path, modes, search === 'ALL SHORTEST');
  }

  /** A path pattern with a search prefix: all between its first and its last node is walked as one. */
  #searched(path: PathPattern, modes: readonly PathMode[], all: boolean): Item[] {
    const { around, first, last, between } = endsOfPath(path);
    // Conditions of the ends on what is between them are conditions on the path.
    const inside = new Set([
      ...declaredInFactors(between),
      ...around.flatMap(({ variable }) => variable?.text ?? []),
    ]);
    const reads = (expression: Expression) => [...namesIn(expression)].some((name) => inside.has(name));
    const conditions: Expression[] = around.flatMap(({ where }) => conjuncts(where));
    const end = (pattern: NodePattern | undefined): NodeDraft => {
      if (!pattern) return this.#blank();
      const properties = pattern.properties.filter(({ value }) => !reads(value));
      const moved = pattern.properties.filter(({ value }) => reads(value));
      const where = conjuncts(pattern.where);
      const draft = this.#node({
        ...pattern,
        properties,
        where: conjunction(where.filter((one) => !reads(one))),
      });
      const name = pattern.variable?.text ?? draft.names.at(-1)!;
      const asked = { ...pattern, properties: moved, where: conjunction(where.filter(reads)) };
      conditions.push(...testsOf(asked, name));
      return draft;
    };
    const [from, to] = [end(first), end(last)];
    const lower = () => {
      const ends = [from, to]
        .map(final)
        .flatMap(({ names, slot }) => names.map((name) => [name, slot] as const));
      return this.#bodies.whole(between, conditions, new Map(ends), this.#scope);
    };
    const wholeModes = [...modes, ...around.flatMap(({ mode }) => mode ?? [])].map(chainMode);
    if (this.#edgesDiffer) wholeModes.push('trail');
    const search = { all, modes: wholeModes };
    const items = this.#walked(from, to, lower, { modes, search, place: path.span });
    for (const { mode, variable } of around) if (variable) this.#whole(mode, variable, items, false);
    return items;
  }

  /** Lowers factors into nodes, edges and repeats in turn, starting and ending with a node. */
  #factors(factors: readonly PathFactor[], modes: readonly PathMode[]): Item[] {
    const items: Item[] = [];
    for (const factor of factors) {
      switch (factor.kind) {
        case 'node-pattern':
          this.#join(items, [{ kind: 'node', draft: this.#node(factor) }]);
          break;
        case 'edge-pattern': {
          const [from, to] = [this.#endOf(items), this.#blank()];
          const slot = this.#edge(factor, from, to);
          items.push({ kind: 'edge', slot }, { kind: 'node', draft: to });
          break;
        }
        case 'parenthesized-path': {
          const inner = this.#factors(factor.factors, factor.mode ? [...modes, factor.mode] : modes);
          this.#join(items, inner);
          for (const expression of conjuncts(factor.where))
            this.#wanted.push({ expression, scope: this.#scope });
          if (factor.mode || factor.variable) this.#whole(factor.mode, factor.variable, inner, false);
          break;
        }
        case 'quantified-path':
        case 'questioned-path': {
          const [from, to] = [this.#endOf(items), this.#blank()];
          const questioned = factor.kind === 'questioned-path';
          const [least, most] = questioned ? [0, 1] : [factor.min, factor.max ?? Number.POSITIVE_INFINITY];
          const body = this.#bodies.body(factor.path, least, most, questioned, this.#scope);
          const repeat = { from, to, body, modes, place: factor.span };
          this.#repeats.push(repeat);
          items.push({ kind: 'repeat', draft: repeat }, { kind: 'node', draft: to });
          break;
        }
        case 'path-alternation':
          this.#join(items, this.#alternation(factor, modes));
          break;
        default:
          factor satisfies never;
      }
    }
    if (items.length === 0) items.push({ kind: 'node', draft: this.#blank() });
    return items;
  }

  /** Alternatives are walked from node to node, like something repeated once. */
  #alternation(factor: PathAlternation, modes: readonly PathMode[]): Item[] {
    const [from, to] = [this.#blank(), this.#blank()];
    const lower = () => {
      // Names that are bound elsewhere are bound before.
      const known = new Map<string, number>();
      for (const name of declaredInFactors([factor])) {
        const draft = this.#nodeNamed.get(name);
        const slot = draft ? final(draft).slot : this.#scope.find(name)?.slot;
        if (slot !== undefined) known.set(name, slot);
      }
      return this.#bodies.whole([factor], [], known, this.#scope);
    };
    return this.#walked(from, to, lower, { modes, place: factor.span });
  }

  /** What is walked as one between two nodes, and translated when all other nodes of the MATCH are known. */
  #walked(
    from: NodeDraft,
    to: NodeDraft,
    lower: () => Body,
    rest: Pick<RepeatDraft, 'modes' | 'search' | 'place'>,
  ): Item[] {
    const draft: RepeatDraft = { from, to, body: NO_BODY, ...rest };
    this.#repeats.push(draft);
    this.#waiting.push(() => {
      draft.body = lower();
    });
    return [
      { kind: 'node', draft: from },
      { kind: 'repeat', draft },
      { kind: 'node', draft: to },
    ];
  }

  /** Appends a piece of path: its first node is the last node so far. */
  #join(items: Item[], more: readonly Item[]): void {
    const last = items.at(-1);
    const first = more[0]!;
    if (last?.kind === 'node' && first.kind === 'node') {
      this.#merge(last.draft, first.draft);
      items.push(...more.slice(1));
    } else items.push(...more);
  }

  #endOf(items: Item[]): NodeDraft {
    const last = items.at(-1);
    if (last?.kind === 'node') return last.draft;
    const draft = this.#blank();
    items.push({ kind: 'node', draft });
    return draft;
  }

  #blank(): NodeDraft {
    const draft: NodeDraft = {
      index: -1,
      slot: this.#scope.slots.take(),
      names: [],
      label: undefined,
      bound: false,
      known: undefined,
      place: undefined,
      made: this.#nodes.length,
      mergedInto: undefined,
    };
    this.#nodes.push(draft);
    return draft;
  }

  #node(pattern: NodePattern): NodeDraft {
    const name = pattern.variable?.text;
    const known = name === undefined ? undefined : this.#nodeNamed.get(name);
    let draft: NodeDraft;
    if (known) draft = final(known);
    else {
      draft = this.#blank();
      const before = name === undefined ? undefined : this.#scope.find(name);
      if (before) {
        draft.slot = before.slot;
        draft.bound = true;
        if (before.kind === 'node') draft.known = before.label;
      } else if (name !== undefined) {
        this.#scope.set(name, { kind: 'node', slot: draft.slot });
        this.#fresh.add(name);
      }
      if (name !== undefined) {
        draft.names.push(name);
        this.#nodeNamed.set(name, draft);
      }
    }
    draft.place ??= pattern.span;
    if (pattern.labels) draft.label = bothLabels(draft.label, labelTest(pattern.labels));
    this.#tests(pattern, name ?? this.#hide({ kind: 'node', slot: draft.slot }, draft));
    return draft;
  }

  /** Two node patterns at the same place of a path are the same node. */
  #merge(left: NodeDraft, right: NodeDraft): void {
    const [a, b] = [final(left), final(right)];
    if (a === b) return;
    if (a.bound && b.bound) {
      this.#equal.push([a.slot, b.slot]);
      return;
    }
    const [kept, gone] = b.bound || (!a.bound && b.made < a.made) ? [b, a] : [a, b];
    gone.mergedInto = kept;
    kept.names.push(...gone.names);
    kept.label = bothLabels(kept.label, gone.label);
    kept.place ??= gone.place;
    for (const name of gone.names) this.#scope.set(name, { kind: 'node', slot: kept.slot });
  }

  #edge(pattern: EdgePattern, from: NodeDraft, to: NodeDraft): number {
    const name = pattern.variable?.text;
    const before = name === undefined ? undefined : this.#scope.find(name);
    const again = name === undefined ? undefined : this.#edgeNamed.get(name);
    const slot = before ? before.slot : this.#scope.slots.take();
    if (!before && name !== undefined) this.#scope.set(name, { kind: 'edge', slot });
    const draft: EdgeDraft = {
      slot,
      name,
      label: pattern.labels ? labelTest(pattern.labels) : undefined,
      directions: directionsOf(pattern),
      from,
      to,
      bound: again ? again.bound : before !== undefined,
      place: pattern.span,
    };
    this.#edges.push(draft);
    if (name !== undefined && !again) this.#edgeNamed.set(name, draft);
    this.#tests(pattern, name ?? this.#hide({ kind: 'edge', slot }));
    return slot;
  }

  /** A variable that the text cannot name, for the properties of an element without one. */
  #hide(binding: Binding, draft?: NodeDraft): string {
    const name = `\u0000${this.#scope.slots.take()}`;
    this.#scope.set(name, binding);
    draft?.names.push(name);
    return name;
  }

  #tests(pattern: NodePattern | EdgePattern, name: string): void {
    for (const expression of testsOf(pattern, name)) this.#wanted.push({ expression, scope: this.#scope });
  }

  #repeat(
    { from, to, body, modes, search, place }: RepeatDraft,
    inside: Scope,
    own: ReadonlySet<number>,
  ): MatchRepeat {
    const read = [...body.reads].flatMap((name) => inside.find(name)?.slot ?? []);
    // The end of a searched path is known to it once it is there.
    const needs = [...read, ...(search ? [] : body.known)].filter((slot) => own.has(slot));
    return {
      from: final(from).index,
      to: final(to).index,
      forward: chainOf(body, false, this.#context),
      backward: chainOf(body, true, this.#context),
      edgesDiffer: this.#edgesDiffer || modes.includes('TRAIL'),
      nodesDiffer: modes.includes('ACYCLIC')
        ? 'yes'
        : modes.includes('SIMPLE') || (this.#context.distinctNodes && body.linked.length === 0)
          ? 'but ends'
          : 'no',
      needs,
      // Nodes that must differ must do so before one path is taken; ends with two names differ as well.
      search:
        search && this.#context.distinctNodes && body.linked.length === 0
          ? { ...search, modes: [...search.modes, final(from) === final(to) ? 'simple' : 'acyclic'] }
          : search,
      known: body.known,
      linked: body.linked,
      alone: body.reads.size === 0,
      binds: body.binds.map(({ binding }) => binding.slot),
      place,
    };
  }

  // ─── What concerns paths as wholes ────────────────────────────────────────────────────────────────────────────

  readonly #wholeItems = new Map<WholePath, readonly Item[]>();

  #whole(mode: PathMode | undefined, name: Name | undefined, items: readonly Item[], top: boolean): void {
    const slot = name ? this.#scope.slots.take() : -1;
    if (name) this.#scope.set(name.text, { kind: 'path', slot });
    const path: WholePath = {
      mode: chainMode(mode),
      parts: [],
      slot,
      check: mode !== undefined && mode !== 'WALK',
      top,
    };
    this.#wholeItems.set(path, [...items]);
    this.#paths.push(path);
  }

  /** Fills in the parts, and turns the mode into distinct pairs where the path has no quantified part. */
  #settled(path: WholePath): WholePath {
    const items = this.#wholeItems.get(path)!;
    const parts = items.map((item): PathPart => {
      switch (item.kind) {
        case 'node':
          return {
            kind: 'element',
            slot: final(item.draft).slot,
            node: true,
            named: isNamed(final(item.draft)),
          };
        case 'edge': {
          const named = this.#edges.some(({ slot, name }) => slot === item.slot && name !== undefined);
          return { kind: 'element', slot: item.slot, node: false, named };
        }
        case 'repeat': {
          const { elementsSlot, binds } = item.draft.body;
          return { kind: 'walked', slot: elementsSlot, named: binds.some(({ named }) => named) };
        }
        default:
          return item satisfies never;
      }
    });
    // The check at the end decides; the sets only cut the search short.
    if (path.check && path.mode !== 'walk') {
      const wantsNodes = path.mode !== 'trail';
      const kin = path.mode === 'simple' ? endsOf(items, parts) : undefined;
      let slots = new Set<number>();
      for (const part of [...parts, undefined]) {
        if (part?.kind === 'element') {
          if (part.node === wantsNodes) slots.add(part.slot);
        } else {
          this.#distinct.push({ slots: [...slots], kin });
          slots = new Set();
        }
      }
    }
    return { ...path, parts };
  }

  /** Nodes that may be the same because quantified paths between them may be empty: a number for each such group. */
  #kin(nodes: readonly NodeDraft[]): ReadonlyMap<number, number> | undefined {
    const empty = this.#repeats.filter(({ body }) => body.mayBeEmpty);
    // What earlier clauses have bound they have also told apart, or not: empty paths may have put it at one place.
    const bound = this.#earlier.repeats.length > 0 ? nodes.filter((node) => node.bound) : [];
    if (empty.length === 0 && bound.length === 0) return undefined;
    const group = nodes.map((_, i) => i);
    const find = (node: number): number => {
      let root = node;
      while (group[root] !== root) root = group[root]!;
      for (let at = node; at !== root; ) [at, group[at]] = [group[at]!, root];
      return root;
    };
    for (const { from, to } of empty) group[find(final(from).index)] = find(final(to).index);
    for (const { index } of bound) group[find(index)] = find(bound[0]!.index);
    return new Map(nodes.map(({ slot }, i) => [slot, find(i)]));
  }

  #apart(nodes: readonly NodeDraft[]): Match['apart'] {
    const ways = (body: Body): number =>
      body.items.reduce(
        (sum, item) => sum + (item.kind === 'body' ? ways(item.body) : item.kind === 'choice' ? 2 : 0),
        0,
      ) + (body.least === body.most ? 0 : 1);
    const nested = (body: Body): boolean => body.items.some((item) => item.kind === 'body');
    const count = this.#repeats.reduce((sum, { body }) => sum + ways(body), 0);
    if (count < 2 && !this.#repeats.some(({ body }) => nested(body))) return undefined;
    const named = nodes.filter(isNamed);
    const inside = this.#repeats.flatMap(({ body }) =>
      body.binds.flatMap(({ binding, named: byText }) => (byText ? [binding] : [])),
    );
    const isElement = ({ kind }: Binding) => kind === 'node' || kind === 'edge';
    return {
      elements: [
        ...named.map((node) => node.slot),
        ...this.#edges.map((edge) => edge.slot),
        ...inside.filter(isElement).map(({ slot }) => slot),
      ],
      values: inside.filter((binding) => !isElement(binding)).map(({ slot }) => slot),
    };
  }

  /**
   * Slots of this match that an expression reads, and whether it reads lists or paths of it.
   * @param own slots of elements that this match binds, and `lists` those of its lists and paths
   */
  #reads(
    expression: Expression,
    scope: Scope,
    own: ReadonlySet<number>,
    lists: ReadonlySet<number>,
  ): { slots: number[]; isLate: boolean } {
    const slots = new Set<number>();
    let isLate = false;
    for (const name of namesIn(expression)) {
      const binding = scope.find(name);
      if (!binding) continue;
      if (own.has(binding.slot) && (binding.kind === 'node' || binding.kind === 'edge'))
        slots.add(binding.slot);
      else if (lists.has(binding.slot)) isLate = true;
    }
    return { slots: [...slots], isLate };
  }
}

/** Whether the text names a node. */
function isNamed({ names }: NodeDraft): boolean {
  return names.some((name) => !name.startsWith('\u0000'));
}

/** The nodes that may be an end of the path, since all that is further out may be empty: in SIMPLE they may be the same. */
function endsOf(items: readonly Item[], parts: readonly PathPart[]): ReadonlyMap<number, number> {
  const ends = new Map<number, number>();
  for (const order of [[...items.keys()], [...items.keys()].reverse()])
    for (const i of order) {
      const [item, part] = [items[i]!, parts[i]!];
      if (item.kind === 'edge' || (item.kind === 'repeat' && !item.draft.body.mayBeEmpty)) break;
      if (part.kind === 'element') ends.set(part.slot, 0);
    }
  return ends;
}

function final(draft: NodeDraft): NodeDraft {
  let last = draft;
  while (last.mergedInto) last = last.mergedInto;
  // The way is shorter next time.
  for (let at = draft; at.mergedInto && at !== last; ) {
    const next = at.mergedInto;
    at.mergedInto = last;
    at = next;
  }
  return last;
}
