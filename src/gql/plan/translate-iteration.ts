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
  | { readonly kind: 'body'; readonly body: Body };

/** The inside of one iteration, while it is lowered. */
interface Inside {
  readonly scope: Scope;
  readonly reads: Set<string>;
  /** Conditions on a complete iteration. */
  readonly last: Condition[];
  /** Slots of elements that are bound step by step. */
  readonly slots: Set<number>;
  readonly around: Inside | undefined;
}

export class BodyLowering {
  /** Conditions wait until all names are known: a text may refer to what comes later. */
  readonly #pending: {
    readonly expression: Expression;
    readonly place: Inside;
    /** The element it is asked of; undefined for a condition on the iteration. */
    readonly item: Exclude<BodyItem, { kind: 'body' }> | undefined;
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
    const place: Inside = { scope, reads, last, slots: new Set(), around };
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
    for (const [name, binding] of scope.own()) {
      // A node without a variable goes out as well when it has labels: they may be uncertain.
      const label = this.#labelOfSlot.get(binding.slot);
      if (name.startsWith('\u0000') && !label) continue;
      const element = binding.kind === 'node' || binding.kind === 'edge';
      const slot = scope.slots.take();
      const holds = element ? 'element' : binding.kind === 'group' ? 'list' : 'path';
      groups.push({ inner: binding.slot, outer: slot, named: !name.startsWith('\u0000'), holds });
      const of = binding.kind === 'group' ? binding.of : binding;
      outer.set(name, optional ? { ...binding, slot } : { kind: 'group', slot, of });
      if (label) this.#labelOfSlot.set(slot, label);
    }
    return {
      items,
      least,
      most,
      optional,
      elementsSlot: scope.slots.take(),
      groups,
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
      const slot = known ?? scope.slots.take();
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
          const slot = known ?? scope.slots.take();
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
          const inside = this.#bodyItems(factor.factors, place, items, paths, named);
          parts.push(...inside);
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
    if (item.kind === 'body') return;
    for (const expression of testsOf(pattern, variable)) this.#pending.push({ expression, place, item });
  }

  /** Makes the conditions of all bodies so far; every variable of the MATCH must be in its scope by now. */
  finish(): void {
    for (const { expression, place, item } of this.#pending.splice(0)) {
      const { scope } = place;
      const slots = new Set<number>();
      let waits = false;
      for (const name of namesIn(expression)) {
        for (let at: Inside | undefined = place; at && !at.scope.owns(name); at = at.around)
          at.reads.add(name);
        if (!scope.owns(name)) continue;
        const { slot } = scope.find(name)!;
        slots.add(slot);
        // What an inner quantified path binds is known when it has been walked.
        if (!place.slots.has(slot)) waits = true;
      }
      const condition = this.#context.condition(expression, scope, [...slots]);
      if (item && !waits) item.conditions.push(condition);
      else place.last.push(condition);
    }
  }
}
