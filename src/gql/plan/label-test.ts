/**
 * Label expressions over label sets whose membership may be uncertain, in Kleene's strong three-valued logic
 * (Kleene, "Introduction to Metamathematics", 1952, section 64): a certain label is true, an uncertain one unknown.
 * An expression that is unknown holds in some of the possible worlds (Suciu, Olteanu, Ré and Koch, "Probabilistic
 * Databases", 2011, chapter 1).
 */
import type { Catalog } from '../storage/catalog.ts';

export type LabelTest =
  | { readonly kind: 'label'; readonly name: string }
  | { readonly kind: 'any' }
  | { readonly kind: 'and'; readonly left: LabelTest; readonly right: LabelTest }
  | { readonly kind: 'or'; readonly left: LabelTest; readonly right: LabelTest }
  | { readonly kind: 'not'; readonly of: LabelTest };

export const FALSE = 0;
export const UNKNOWN = 1;
export const TRUE = 2;

/** Truth of an expression, given that of each label and of "has any label at all". */
export function truthOf(test: LabelTest, has: (label: string) => number, any: number): number {
  switch (test.kind) {
    case 'label':
      return has(test.name);
    case 'any':
      return any;
    case 'and':
      return Math.min(truthOf(test.left, has, any), truthOf(test.right, has, any));
    case 'or':
      return Math.max(truthOf(test.left, has, any), truthOf(test.right, has, any));
    case 'not':
      return TRUE - truthOf(test.of, has, any);
    default:
      return test satisfies never;
  }
}

interface Truths {
  readonly sets: number;
  readonly kinds: number;
  readonly edgeLabels: number;
  readonly bySet: Map<string, Uint8Array>;
  readonly byKind: Map<string, Uint8Array>;
  readonly ofEdges: Map<string, Uint8Array>;
}

const kept = new WeakMap<Catalog, Truths>();
/** Expressions kept per catalog. */
const KEPT = 2000;

function truthsOf(catalog: Catalog): Truths {
  let truths = kept.get(catalog);
  const sets = catalog.labelSets.length;
  const kinds = catalog.nodeKinds.length;
  const edgeLabels = catalog.edgeLabels.length;
  const isCurrent = truths?.sets === sets && truths.kinds === kinds && truths.edgeLabels === edgeLabels;
  if (!truths || !isCurrent || truths.bySet.size + truths.ofEdges.size > KEPT) {
    truths = { sets, kinds, edgeLabels, bySet: new Map(), byKind: new Map(), ofEdges: new Map() };
    kept.set(catalog, truths);
  }
  return truths;
}

/** A text that is equal for equal expressions. */
export function nameOfTest(test: LabelTest | undefined): string {
  if (!test) return '';
  return test.kind === 'label' ? `=${test.name}` : JSON.stringify(test);
}

/** Truth of an expression for every label set. The answer is shared: do not write to it. */
export function labelSetTruths(test: LabelTest | undefined, catalog: Catalog): Uint8Array {
  const { sets, bySet } = truthsOf(catalog);
  const name = nameOfTest(test);
  let truths = bySet.get(name);
  if (truths) return truths;
  truths = new Uint8Array(sets).fill(TRUE);
  bySet.set(name, truths);
  if (!test) return truths;
  const numbers = new Map(labelsIn(test).map((label) => [label, catalog.findLabel(label)]));
  for (let set = 0; set < sets; set++) {
    const { labels, uncertain } = catalog.labelSets[set]!;
    const has = (label: string) => {
      const number = numbers.get(label)!;
      if (!labels.includes(number)) return FALSE;
      return uncertain.length > 0 && uncertain.includes(number) ? UNKNOWN : TRUE;
    };
    const any = labels.length === 0 ? FALSE : labels.length > uncertain.length ? TRUE : UNKNOWN;
    truths[set] = truthOf(test, has, any);
  }
  return truths;
}

/** Truth of an expression for every node kind. The answer is shared: do not write to it. */
export function nodeKindTruths(test: LabelTest | undefined, catalog: Catalog): Uint8Array {
  const { kinds, byKind } = truthsOf(catalog);
  const name = nameOfTest(test);
  let truths = byKind.get(name);
  if (!truths) {
    const sets = labelSetTruths(test, catalog);
    truths = new Uint8Array(kinds);
    for (let kind = 0; kind < kinds; kind++) truths[kind] = sets[catalog.nodeKinds[kind]!.labelSet]!;
    byKind.set(name, truths);
  }
  return truths;
}

/**
 * Whether an edge of every label (0 is none) fits the expression. The answer is shared: do not write to it.
 * @param leastTruth `TRUE` leaves out edges that may not be there
 */
export function edgeLabelTruths(
  test: LabelTest | undefined,
  catalog: Catalog,
  leastTruth: number,
): Uint8Array {
  const { ofEdges } = truthsOf(catalog);
  const name = `${leastTruth} ${nameOfTest(test)}`;
  let truths = ofEdges.get(name);
  if (!truths) {
    truths = edgeTruths(test, catalog, leastTruth);
    ofEdges.set(name, truths);
  }
  return truths;
}

function edgeTruths(test: LabelTest | undefined, catalog: Catalog, leastTruth: number): Uint8Array {
  return Uint8Array.from(catalog.edgeLabels, (_, id) => {
    if (leastTruth === TRUE && catalog.isMaybe(id)) return 0;
    if (!test) return 1;
    const label = catalog.edgeLabelName(id);
    const truth = (holds: boolean) => (holds ? TRUE : FALSE);
    return truthOf(test, (name) => truth(label !== '' && name === label), truth(label !== '')) === TRUE
      ? 1
      : 0;
  });
}

/** The labels an expression names. */
export function labelsIn(test: LabelTest): string[] {
  switch (test.kind) {
    case 'label':
      return [test.name];
    case 'any':
      return [];
    case 'and':
    case 'or':
      return [...labelsIn(test.left), ...labelsIn(test.right)];
    case 'not':
      return labelsIn(test.of);
    default:
      return test satisfies never;
  }
}
