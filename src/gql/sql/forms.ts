/**
 * The paths of a MATCH as forms: a form has no choice left but how often a quantified part is repeated. `?` and `|` become
 * several forms, a quantifier with few repetitions one form for each number, and any other a *hop* that is walked by a recursive
 * query. The matches of a MATCH are those of all its forms together.
 */
import type {
  EdgePattern,
  Expression,
  NodePattern,
  ParenthesizedPath,
  PathFactor,
  PathMode,
  PathPattern,
  QuantifiedPath,
  Span,
} from '../language/ast.ts';
import { declaredInFactors } from '../plan/free-names.ts';
import { NotInSql } from './sql-value.ts';

/** Most forms of one MATCH: each is a SELECT of its own. */
const MOST_FORMS = 96;

/** What a name is bound to, in a form. */
export type Binding =
  | { readonly kind: 'node'; readonly place: number }
  | { readonly kind: 'edge'; readonly link: number }
  | { readonly kind: 'path'; readonly stretch: Stretch }
  | { readonly kind: 'null' }
  | { readonly kind: 'group'; readonly of: 'node' | 'edge' | 'path'; readonly items: readonly GroupItem[] };

/** A part of the list of a group variable: one element, or what a hop adds. */
export type GroupItem =
  | { readonly kind: 'node'; readonly place: number }
  | { readonly kind: 'edge'; readonly link: number }
  | { readonly kind: 'hop'; readonly link: number; readonly name: string };

/** A piece of one path: its places, with the links between them. */
export interface Stretch {
  readonly first: number;
  readonly last: number;
}

/** A place of a path, where a node stands. */
export interface Place {
  readonly patterns: readonly { readonly pattern: NodePattern; readonly scope: number }[];
}

/** What leads from a place to the next one. */
export type Link = EdgeLink | HopLink;

export interface EdgeLink {
  readonly kind: 'edge';
  readonly pattern: EdgePattern;
  readonly scope: number;
  readonly from: number;
}

/** One or more repetitions of what is quantified. */
export interface HopLink {
  readonly kind: 'hop';
  readonly from: number;
  readonly min: number;
  readonly max: number | undefined;
  /** What one repetition may be; none has a hop. */
  readonly bodies: readonly Form[];
  /** Variables inside. */
  readonly names: ReadonlyMap<string, 'node' | 'edge' | 'path'>;
  readonly span: Span;
}

export interface Condition {
  readonly expression: Expression;
  readonly scope: number;
}

/** What a path mode holds for. */
export interface Restricted {
  readonly mode: PathMode;
  readonly stretch: Stretch;
}

export interface Form {
  readonly places: readonly Place[];
  /** `links[i]` leads from its `from` to the place after it. */
  readonly links: readonly Link[];
  /** Scopes of names: the first is that of the MATCH, further ones are those of single repetitions. */
  readonly scopes: readonly ReadonlyMap<string, Binding>[];
  readonly paths: readonly Stretch[];
  readonly restricted: readonly Restricted[];
  readonly conditions: readonly Condition[];
  /** Branches taken where |+| stands between them. */
  readonly taken: string;
  /** Place that the path being read has come to. */
  readonly at: number | undefined;
}

const EMPTY: Form = {
  places: [],
  links: [],
  scopes: [new Map()],
  paths: [],
  restricted: [],
  conditions: [],
  taken: '',
  at: undefined,
};

export interface FormSettings {
  /** Most repetitions that are written out one by one. */
  readonly unrolled: number;
  /** Shortest paths are asked for, so that no repetition need come to a place again. */
  readonly shortest?: boolean;
}

/** Name by which conditions on a place or link without a name know it. */
export function hiddenName(kind: 'node' | 'edge', at: number): string {
  return `\0${kind} ${at}`;
}

/** The forms of the paths of a MATCH. */
export function formsOf(paths: readonly PathPattern[], settings: FormSettings): readonly Form[] {
  return paths.reduce<readonly Form[]>(
    (forms, path) =>
      bounded(
        forms.flatMap((form) =>
          expanded(path.factors, 0, { ...form, at: undefined }, settings).map((whole) => {
            const started = withPlace(whole);
            const stretch = { first: form.places.length, last: started.at! };
            const mode = path.mode ?? 'WALK';
            return bound(
              {
                ...started,
                paths: [...started.paths, stretch],
                restricted: mode === 'WALK' ? started.restricted : [...started.restricted, { mode, stretch }],
              },
              0,
              path.variable?.text,
              { kind: 'path', stretch },
            );
          }),
        ),
        path.span,
      ),
    [EMPTY],
  );
}

function bounded(forms: readonly Form[], span: Span): readonly Form[] {
  if (forms.length > MOST_FORMS)
    throw new NotInSql(
      span,
      `The choices in these paths make ${forms.length} combinations, over the maximum of ${MOST_FORMS}`,
    );
  return forms;
}

function expanded(
  factors: readonly PathFactor[],
  scope: number,
  start: Form,
  settings: FormSettings,
): readonly Form[] {
  return factors.reduce<readonly Form[]>(
    (forms, factor) =>
      bounded(
        forms.flatMap((form) => expandedFactor(factor, scope, form, settings)),
        factor.span,
      ),
    [start],
  );
}

function expandedFactor(
  factor: PathFactor,
  scope: number,
  given: Form,
  settings: FormSettings,
): readonly Form[] {
  const form = withPlace(given);
  const at = form.at!;
  switch (factor.kind) {
    case 'node-pattern':
      return nodeForm(factor, scope, form);
    case 'edge-pattern': {
      const place = form.places.length;
      const link = form.links.length;
      const longer: Form = {
        ...form,
        places: [...form.places, { patterns: [] }],
        links: [...form.links, { kind: 'edge', pattern: factor, scope, from: at }],
        at: place,
      };
      const named = boundOnce(longer, scope, factor.variable?.text, { kind: 'edge', link });
      return named
        ? [withConditions(named, factor, scope, hiddenName('edge', link), { kind: 'edge', link })]
        : [];
    }
    case 'parenthesized-path':
      return expanded(factor.factors, scope, form, settings).map((inner) =>
        enclosed(factor, scope, inner, at),
      );
    case 'questioned-path': {
      const names = [...declaredInFactors([factor.path])].filter((name) => !form.scopes[scope]!.has(name));
      return [nulled(form, scope, names), ...expandedFactor(factor.path, scope, form, settings)];
    }
    case 'path-alternation': {
      const all = [...declaredInFactors([factor])].filter((name) => !form.scopes[scope]!.has(name));
      return factor.branches.flatMap((branch, b) => {
        const own = declaredInFactors(branch.factors);
        const nulls = nulled(
          form,
          scope,
          all.filter((name) => !own.has(name)),
        );
        const taken = factor.multiset ? `${form.taken} ${b}` : form.taken;
        return expanded(branch.factors, scope, { ...nulls, taken }, settings);
      });
    }
    case 'quantified-path':
      return quantified(factor, scope, form, settings);
    default:
      return factor satisfies never;
  }
}

function quantified(
  factor: QuantifiedPath,
  scope: number,
  form: Form,
  settings: FormSettings,
): readonly Form[] {
  const { path, min, max, span } = factor;
  const names = kindsInside(path);
  const groups = [...names].reduce<Form>(
    (so, [name, of]) => bound(so, scope, name, { kind: 'group', of, items: [] }),
    form,
  );
  if (max !== undefined && max <= settings.unrolled) {
    const forms: Form[] = min === 0 ? [groups] : [];
    let longer: readonly Form[] = [groups];
    for (let times = 1; times <= max; times++) {
      longer = bounded(
        longer.flatMap((so) => once(factor, scope, so, names, settings)),
        span,
      );
      if (times >= min) forms.push(...longer);
    }
    return forms;
  }
  // Where a shortest path is asked for, all but one of the least repetitions are written out: they may not be cut out.
  let before: readonly Form[] = [groups];
  const writtenOut = settings.shortest ? Math.max(0, min - 1) : 0;
  if (writtenOut > 8)
    throw new NotInSql(
      span,
      'A shortest path with more than nine repetitions at least is not compiled to SQL',
    );
  for (let times = 0; times < writtenOut; times++)
    before = bounded(
      before.flatMap((so) => once(factor, scope, so, names, settings)),
      span,
    );
  const fresh: Form = { ...EMPTY, places: [{ patterns: [] }], at: 0 };
  const bodies = expandedFactor(path, 0, fresh, settings).map((body) => ({
    ...body,
    paths: [{ first: 0, last: body.at! }],
  }));
  if (bodies.some(({ links }) => links.length === 0))
    throw new NotInSql(span, 'A repetition that may have no edge is not compiled to SQL');
  const forms = before.map((so): Form => {
    const link = so.links.length;
    const place = so.places.length;
    const hop: HopLink = {
      kind: 'hop',
      from: so.at!,
      min: Math.max(1, min - writtenOut),
      max: max === undefined ? undefined : max - writtenOut,
      bodies,
      names,
      span,
    };
    const longer: Form = {
      ...so,
      places: [...so.places, { patterns: [] }],
      links: [...so.links, hop],
      at: place,
    };
    return [...names].reduce<Form>((rest, [name, of]) => {
      const known = rest.scopes[scope]!.get(name) as Extract<Binding, { kind: 'group' }>;
      return bound(rest, scope, name, {
        kind: 'group',
        of,
        items: [...known.items, { kind: 'hop', link, name }],
      });
    }, longer);
  });
  return min === 0 ? [groups, ...forms] : forms;
}

/** One more repetition, with names of its own. */
function once(
  { path, span }: QuantifiedPath,
  scope: number,
  form: Form,
  names: HopLink['names'],
  settings: FormSettings,
): readonly Form[] {
  const own = form.scopes.length;
  const before = form.links.length;
  const inside = expandedFactor(path, own, { ...form, scopes: [...form.scopes, new Map()] }, settings);
  return inside.map((after) => {
    if (after.links.length === before)
      throw new NotInSql(span, 'A repetition that may have no edge is not compiled to SQL');
    return [...names].reduce<Form>((so, [name, of]) => {
      const binding = so.scopes[own]!.get(name);
      // What was left out adds nothing.
      if (binding?.kind !== 'node' && binding?.kind !== 'edge') {
        if (binding?.kind === 'path')
          throw new NotInSql(
            span,
            `The list of paths "${name}" is not compiled to SQL; name its elements instead`,
          );
        return so;
      }
      const known = so.scopes[scope]!.get(name) as Extract<Binding, { kind: 'group' }>;
      return bound(so, scope, name, { kind: 'group', of, items: [...known.items, binding] });
    }, after);
  });
}

function kindsInside(path: QuantifiedPath['path']): ReadonlyMap<string, 'node' | 'edge' | 'path'> {
  const kinds = new Map<string, 'node' | 'edge' | 'path'>();
  const visit = (factor: PathFactor): void => {
    switch (factor.kind) {
      case 'node-pattern':
      case 'edge-pattern':
        if (factor.variable)
          kinds.set(factor.variable.text, factor.kind === 'node-pattern' ? 'node' : 'edge');
        return;
      case 'parenthesized-path':
        if (factor.variable) kinds.set(factor.variable.text, 'path');
        factor.factors.forEach(visit);
        return;
      case 'path-alternation':
        for (const { factors } of factor.branches) factors.forEach(visit);
        return;
      default:
        visit(factor.path);
    }
  };
  visit(path);
  return kinds;
}

function enclosed(factor: ParenthesizedPath, scope: number, inner: Form, first: number): Form {
  const stretch = { first, last: inner.at! };
  const mode = factor.mode ?? 'WALK';
  const named = bound(inner, scope, factor.variable?.text, { kind: 'path', stretch });
  return {
    ...named,
    restricted: mode === 'WALK' ? named.restricted : [...named.restricted, { mode, stretch }],
    conditions: factor.where ? [...named.conditions, { expression: factor.where, scope }] : named.conditions,
  };
}

function nodeForm(pattern: NodePattern, scope: number, form: Form): readonly Form[] {
  const at = form.at!;
  const places = form.places.map((place, i) =>
    i === at ? { patterns: [...place.patterns, { pattern, scope }] } : place,
  );
  const named = boundOnce({ ...form, places }, scope, pattern.variable?.text, { kind: 'node', place: at });
  return named
    ? [withConditions(named, pattern, scope, hiddenName('node', at), { kind: 'node', place: at })]
    : [];
}

/** The form with the conditions of an element pattern. */
function withConditions(
  form: Form,
  { properties, where, variable }: NodePattern | EdgePattern,
  scope: number,
  hidden: string,
  binding: Binding,
): Form {
  if (properties.length === 0 && !where) return form;
  const conditions: Condition[] = properties.map(({ key, value, span }) => {
    const object = { kind: 'variable', name: variable?.text ?? hidden, span } as const;
    const left = { kind: 'property', object, key, span } as const;
    return { expression: { kind: 'comparison', operator: '=', left, right: value, span }, scope };
  });
  if (where) conditions.push({ expression: where, scope });
  const named = variable ? form : bound(form, scope, hidden, binding);
  return { ...named, conditions: [...named.conditions, ...conditions] };
}

/** The form with a name for an element; the first place that has the name keeps it. Undefined when the name is null there. */
function boundOnce(form: Form, scope: number, name: string | undefined, binding: Binding): Form | undefined {
  const known = name === undefined ? undefined : form.scopes[scope]!.get(name);
  if (known?.kind === 'null') return undefined;
  return known ? form : bound(form, scope, name, binding);
}

function bound(form: Form, scope: number, name: string | undefined, binding: Binding): Form {
  if (name === undefined) return form;
  const scopes = form.scopes.map((names, i) => (i === scope ? new Map(names).set(name, binding) : names));
  return { ...form, scopes };
}

function nulled(form: Form, scope: number, names: readonly string[]): Form {
  return names.reduce<Form>((so, name) => bound(so, scope, name, { kind: 'null' }), form);
}

/** The form with a place to go on from. */
function withPlace(form: Form): Form {
  if (form.at !== undefined) return form;
  return { ...form, places: [...form.places, { patterns: [] }], at: form.places.length };
}

/** Edges of a form, hops counted as undefined. */
export function edgesIn(form: Form): number | undefined {
  return form.links.some(({ kind }) => kind === 'hop') ? undefined : form.links.length;
}
