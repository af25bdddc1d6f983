/**
 * Quantified paths: the content of an iteration, and what its variables become outside.
 */
import type {
  EdgePattern,
  Expression,
  Name,
  NodePattern,
  ParenthesizedPath,
  PathFactor,
  PathMode,
} from '../language/ast.ts';
import { chainMode, directionsOf, testsOf } from './element-patterns.ts';
import { conjuncts, namesIn } from './free-names.ts';
import { bothLabels, labelTest } from './label-of.ts';
import type { LabelTest } from './label-test.ts';
import type { Condition } from './pattern.ts';
import type { ChainRepeat, PathPart, WholePath } from './quantified-path.ts';
import type { Binding, Scope } from './scope.ts';
import type { TranslateContext } from './translate-context.ts';

/** A quantified path before its direction is chosen. */
export interface Body {
  readonly items: readonly BodyItem[];
  readonly least: number;
  readonly most: number;
  readonly optional: boolean;
  readonly elementsSlot: number;
  readonly groups: ChainRepeat['groups'];
  /** Slots of elements that are bound when the walk begins. */
  readonly known: readonly number[];
  /** Slots of nodes whose name stands at several places, or also elsewhere, so that these places are one. */
  readonly linked: readonly number[];
  /** Whether it may walk no edge. */
  readonly mayBeEmpty: boolean;
  /** What it binds outside, and whether the text gives it a name. */
  readonly binds: readonly { readonly binding: Binding; readonly named: boolean }[];
  readonly paths: readonly WholePath[];
  readonly conditions: readonly Condition[];
  /** Names that the conditions inside read and that are not bound inside. */
  readonly reads: ReadonlySet<string>;
}

export type BodyItem =
  | {
      readonly kind: 'node';
      readonly slot: number;
      readonly again: boolean;
      readonly label: LabelTest | undefined;
      readonly conditions: Condition[];
    }
  | {
      readonly kind: 'edge';
      readonly slot: number;
      readonly again: boolean;
      readonly label: LabelTest | undefined;
      readonly directions: number;
      readonly conditions: Condition[];
    }
  | { readonly kind: 'body'; readonly body: Body }
  | {
      readonly kind: 'choice';
      readonly branches: readonly (readonly BodyItem[])[];
      readonly tagSlot: number;
      readonly elementsSlot: number;
    };

/** The inside of one iteration, while it is lowered. */
interface Inside {
  readonly scope: Scope;
  readonly reads: Set<string>;
  /** Conditions on a complete iteration. */
  readonly last: Condition[];
  /** Slots of elements that are bound step by step. */
  readonly slots: Set<number>;
  readonly around: Inside | undefined;
  /** Names that are bound inside; undefined when they are those of the scope. */
  own?: ReadonlySet<string>;
  /** Slots that say which branch of a |+| was taken, which tells matches apart. */
  readonly tags: number[];
  /** For a branch: slots of names in the other branches, and the inside it is a branch of. */
  readonly shared?: ReadonlyMap<string, number>;
  readonly base?: Inside;
}

function owns({ base, own, scope }: Inside, name: string): boolean {
  if (base) return owns(base, name);
  return own ? own.has(name) : scope.owns(name);
}

function linkedIn(items: readonly BodyItem[], known: readonly number[]): number[] {
  const seen = new Set(known);
  const linked = new Set<number>();
  const visit = (item: BodyItem): void => {
    if (item.kind === 'choice') item.branches.flat().forEach(visit);
    if (item.kind !== 'node') return;
    if (seen.has(item.slot)) linked.add(item.slot);
    seen.add(item.slot);
  };
  items.forEach(visit);
  return [...linked];
}

function mayBeEmpty(items: readonly BodyItem[]): boolean {
  return items.every((item) => {
    if (item.kind === 'choice') return item.branches.some(mayBeEmpty);
    return item.kind === 'node' || (item.kind === 'body' && item.body.mayBeEmpty);
  });
}

export class BodyLowering {
  /** Conditions wait until all names are known: a text may refer to what comes later. */
  readonly #pending: {
    readonly expression: Expression;
    readonly place: Inside;
    /** The element it is asked of; undefined for a condition on the iteration. */
    readonly item: Exclude<BodyItem, { kind: 'body' | 'choice' }> | undefined;
  }[] = [];
  readonly #context: TranslateContext;
  readonly #labelOfSlot: Map<number, LabelTest>;

  /** @param labelOfSlot receives the labels asked of nodes inside, by slot, and of the lists they become outside */
  constructor(context: TranslateContext, labelOfSlot: Map<number, LabelTest>) {
    this.#context = context;
    this.#labelOfSlot = labelOfSlot;
  }

  /** Lowers a quantified path but for its conditions (see `finish`); what its variables become outside is added to the outer scope. */
  body(
    path: EdgePattern | ParenthesizedPath,
    least: number,
    most: number,
    optional: boolean,
    outer: Scope,
    around?: Inside,
  ): Body {
    const scope = outer.inner();
    const reads = new Set<string>();
    const inner = new Map<string, number>();
    const items: BodyItem[] = [];
    const paths: WholePath[] = [];
    const last: Condition[] = [];
    const place: Inside = { scope, reads, last, slots: new Set(), around, tags: [] };
    const parts = this.#bodyItems(
      path.kind === 'edge-pattern' ? [path] : path.factors,
      place,
      items,
      paths,
      inner,
    );
    if (path.kind === 'parenthesized-path') {
      if (path.variable || path.mode) paths.push(this.#bodyWhole(path.mode, path.variable, parts, scope));
      for (const expression of conjuncts(path.where))
        this.#pending.push({ expression, place, item: undefined });
    }
    const groups: ChainRepeat['groups'][number][] = [];
    const binds: Body['binds'][number][] = [];
    for (const [name, binding] of scope.own()) {
      // A node without a variable goes out as well when it has labels: they may be uncertain.
      const label = this.#labelOfSlot.get(binding.slot);
      if (name.startsWith('\u0000') && !label) continue;
      const element = binding.kind === 'node' || binding.kind === 'edge';
      const slot = scope.slots.take();
      const holds = element ? 'element' : binding.kind === 'group' ? 'list' : 'path';
      groups.push({ inner: binding.slot, outer: slot, holds });
      const of = binding.kind === 'group' ? binding.of : binding;
      const bound: Binding = optional ? { ...binding, slot } : { kind: 'group', slot, of };
      binds.push({ binding: bound, named: !name.startsWith('\u0000') });
      outer.set(name, bound);
      if (label) this.#labelOfSlot.set(slot, label);
    }
    for (const inner of place.tags) {
      const slot = scope.slots.take();
      groups.push({ inner, outer: slot, holds: 'path' });
      binds.push({ binding: { kind: 'value', slot }, named: true });
      around?.tags.push(slot);
    }
    return {
      items,
      least,
      most,
      optional,
      elementsSlot: scope.slots.take(),
      groups,
      known: [],
      linked: [],
      mayBeEmpty: least === 0,
      binds,
      paths,
      conditions: last,
      reads,
    };
  }

  /**
   * A whole path pattern but for its ends, as one iteration whose variables are those of the MATCH.
   * @param conditions what is asked of the complete path
   * @param ends slots of the nodes at its ends by their names, some of them hidden
   */
  whole(
    factors: readonly PathFactor[],
    conditions: readonly Expression[],
    ends: ReadonlyMap<string, number>,
    scope: Scope,
  ): Body {
    const reads = new Set<string>();
    const last: Condition[] = [];
    const items: BodyItem[] = [];
    const paths: WholePath[] = [];
    const before = new Set([...scope.own()].map(([name]) => name));
    const place: Inside = { scope, reads, last, slots: new Set(ends.values()), around: undefined, tags: [] };
    this.#bodyItems(factors, place, items, paths, new Map(ends));
    const inside = [...scope.own()].filter(([name]) => !before.has(name));
    place.own = new Set([...ends.keys(), ...inside.map(([name]) => name)]);
    for (const expression of conditions) this.#pending.push({ expression, place, item: undefined });
    const elementsSlot = scope.slots.take();
    return {
      items,
      least: 1,
      most: 1,
      optional: true,
      elementsSlot,
      groups: [],
      known: [...ends.values()],
      linked: linkedIn(items, [...ends.values()]),
      mayBeEmpty: mayBeEmpty(items),
      binds: [
        ...inside.map(([name, binding]) => ({ binding, named: !name.startsWith('\u0000') })),
        ...place.tags.map((slot): Body['binds'][number] => ({
          binding: { kind: 'value', slot },
          named: true,
        })),
      ],
      paths,
      conditions: last,
      reads,
    };
  }

  #bodyItems(
    factors: readonly PathFactor[],
    place: Inside,
    items: BodyItem[],
    paths: WholePath[],
    named: Map<string, number>,
  ): PathPart[] {
    const { scope } = place;
    const parts: PathPart[] = [];
    const node = (label: LabelTest | undefined, name: string | undefined): number => {
      const known = name === undefined ? undefined : named.get(name);
      const slot = known ?? place.shared?.get(name ?? '') ?? scope.slots.take();
      if (name !== undefined && known === undefined) {
        named.set(name, slot);
        scope.set(name, { kind: 'node', slot });
      }
      place.slots.add(slot);
      items.push({ kind: 'node', slot, again: known !== undefined, label, conditions: [] });
      if (label) this.#labelOfSlot.set(slot, bothLabels(this.#labelOfSlot.get(slot), label)!);
      parts.push({ kind: 'element', slot, node: true });
      return slot;
    };
    const ensureNode = () => {
      const end = items.at(-1);
      if (end?.kind !== 'node') node(undefined, undefined);
    };
    for (const factor of factors) {
      switch (factor.kind) {
        case 'node-pattern': {
          const name = factor.variable?.text;
          const slot = node(factor.labels ? labelTest(factor.labels) : undefined, name);
          this.#bodyTests(factor, name, { kind: 'node', slot }, place, items);
          break;
        }
        case 'edge-pattern': {
          ensureNode();
          const name = factor.variable?.text;
          const known = name === undefined ? undefined : named.get(name);
          const slot = known ?? place.shared?.get(name ?? '') ?? scope.slots.take();
          if (name !== undefined && known === undefined) {
            named.set(name, slot);
            scope.set(name, { kind: 'edge', slot });
          }
          place.slots.add(slot);
          items.push({
            kind: 'edge',
            slot,
            again: known !== undefined,
            label: factor.labels ? labelTest(factor.labels) : undefined,
            directions: directionsOf(factor),
            conditions: [],
          });
          parts.push({ kind: 'element', slot, node: false });
          this.#bodyTests(factor, name, { kind: 'edge', slot }, place, items);
          break;
        }
        case 'parenthesized-path': {
          // Its path begins with a node, whether or not the text writes one.
          if (factor.variable || factor.mode) node(undefined, undefined);
          const first = parts.length - 1;
          parts.push(...this.#bodyItems(factor.factors, place, items, paths, named));
          const inside = parts.slice(first);
          if (factor.variable || factor.mode)
            paths.push(this.#bodyWhole(factor.mode, factor.variable, inside, scope));
          for (const expression of conjuncts(factor.where))
            this.#pending.push({ expression, place, item: undefined });
          break;
        }
        case 'quantified-path':
        case 'questioned-path': {
          ensureNode();
          const questioned = factor.kind === 'questioned-path';
          const [least, most] = questioned ? [0, 1] : [factor.min, factor.max ?? Number.POSITIVE_INFINITY];
          const body = this.body(factor.path, least, most, questioned, scope, place);
          items.push({ kind: 'body', body });
          parts.push({ kind: 'walked', slot: body.elementsSlot });
          break;
        }
        case 'path-alternation': {
          // Each branch begins with the node that is reached, and binds its variables by itself.
          ensureNode();
          const before = new Map(named);
          const tagSlot = scope.slots.take();
          const elementsSlot = scope.slots.take();
          if (factor.multiset) place.tags.push(tagSlot);
          // A name that several branches have stands for one element, whichever of them is taken.
          const shared = new Map(place.shared);
          const branches = factor.branches.map((branch) => {
            const inside: BodyItem[] = [];
            const own = new Map(before);
            const at: Inside = { ...place, slots: new Set(), shared, base: place.base ?? place };
            this.#bodyItems(branch.factors, at, inside, paths, own);
            for (const [name, slot] of own) {
              shared.set(name, slot);
              named.set(name, slot);
            }
            return inside;
          });
          items.push({ kind: 'choice', branches, tagSlot, elementsSlot });
          parts.push({ kind: 'walked', slot: elementsSlot });
          break;
        }
        default:
          factor satisfies never;
      }
    }
    ensureNode();
    return parts;
  }

  #bodyWhole(
    mode: PathMode | undefined,
    name: Name | undefined,
    parts: readonly PathPart[],
    scope: Scope,
  ): WholePath {
    const slot = name ? scope.slots.take() : -1;
    if (name) scope.set(name.text, { kind: 'path', slot });
    return { mode: chainMode(mode), parts, slot, check: mode !== undefined && mode !== 'WALK', top: false };
  }

  #bodyTests(
    pattern: NodePattern | EdgePattern,
    name: string | undefined,
    binding: Binding,
    place: Inside,
    items: BodyItem[],
  ): void {
    const variable = name ?? `\u0000${place.scope.slots.take()}`;
    if (name === undefined) place.scope.set(variable, binding);
    const item = items.at(-1)!;
    if (item.kind === 'body' || item.kind === 'choice') return;
    for (const expression of testsOf(pattern, variable)) this.#pending.push({ expression, place, item });
  }

  /** Makes the conditions of all bodies so far; every variable of the MATCH must be in its scope by now. */
  finish(): void {
    for (const { expression, place, item } of this.#pending.splice(0)) {
      const { scope } = place;
      const slots = new Set<number>();
      let waits = false;
      for (const name of namesIn(expression)) {
        let at: Inside | undefined = place;
        for (; at && !owns(at, name); at = at.around) at.reads.add(name);
        if (!at) continue;
        const { slot } = scope.find(name)!;
        slots.add(slot);
        if (at !== place) continue;
        // What an inner quantified path binds is known when it has been walked.
        if (!place.slots.has(slot)) waits = true;
      }
      const condition = this.#context.condition(expression, scope, [...slots]);
      if (item && !waits) item.conditions.push(condition);
      else place.last.push(condition);
    }
  }
}
