/**
 * Which operator goes first, against a reader of value expressions that is written after the published grammar
 * (opengql/grammar, GQL.g4, rules valueExpression, predicate and valueExpressionPrimary) and the way its toolkit resolves
 * left recursion: alternatives bind in the order in which they are listed, prefixes take operands as tight as
 * themselves (T. Parr, S. Harwell, K. Fisher, "Adaptive LL(*) Parsing", OOPSLA 2014, on precedence climbing).
 */
import { expect, test } from 'vitest';
import type { Expression } from '../../../src/gql/language/ast.ts';
import { parsePattern } from '../../../src/gql/language/parse.ts';

/** Alternatives of valueExpression, the tightest first. */
const ORDER = ['sign', '*', '+', '||', '=', 'NOT', 'IS', 'AND', 'OR'] as const;
const tightness = (alternative: (typeof ORDER)[number]): number => ORDER.length - ORDER.indexOf(alternative);
const BINARY: Readonly<Record<string, (typeof ORDER)[number]>> = {
  '*': '*',
  '/': '*',
  '+': '+',
  '-': '+',
  '||': '||',
  '=': '=',
  '<': '=',
  AND: 'AND',
  OR: 'OR',
  XOR: 'OR',
};

interface Derived {
  /** The tree in full parentheses. */
  readonly text: string;
  readonly isTruth: boolean;
}

/**
 * The tree, or undefined where the grammar derives none. It leaves types to others: `calculates` says whether the tree
 * calculates with a truth value.
 */
function derived(tokens: readonly string[]): (Derived & { readonly calculates: boolean }) | undefined {
  let at = 0;
  let calculates = false;
  const taken = (token: string): boolean => tokens[at] === token && ++at > 0;
  const primary = (): Derived | undefined => {
    if (taken('(')) {
      const inner = expression(0);
      return inner !== undefined && taken(')') ? inner : undefined;
    }
    const token = tokens[at];
    if (token === undefined || !/^[a-z0-9]/.test(token)) return undefined;
    at++;
    return { text: token, isTruth: false };
  };
  const predicateOrPrimary = (): Derived | undefined => {
    const start = tokens[at]!;
    const value = primary();
    if (value === undefined) return undefined;
    if (/^[ab]$/.test(start) && tokens[at] === ':A') {
      at++;
      return { text: `(${value.text} :A)`, isTruth: true };
    }
    const not = tokens[at] === 'IS' && tokens[at + 1] === 'NOT' ? 1 : 0;
    if (tokens[at] !== 'IS' || tokens[at + 1 + not] !== 'NULL') return value;
    at += 2 + not;
    return { text: `(${value.text} IS ${not ? 'NOT ' : ''}NULL)`, isTruth: true };
  };
  const expression = (least: number): Derived | undefined => {
    let left: Derived | undefined;
    const first = tokens[at];
    if (taken('-') || taken('+')) {
      const operand = expression(tightness('sign'));
      calculates ||= operand?.isTruth ?? false;
      left = operand && { text: `(${first} ${operand.text})`, isTruth: false };
    } else if (taken('NOT')) {
      const operand = expression(tightness('NOT'));
      left = operand && { text: `(NOT ${operand.text})`, isTruth: true };
    } else left = predicateOrPrimary();
    while (left !== undefined) {
      const token = tokens[at] ?? '';
      const alternative = BINARY[token];
      if (alternative && tightness(alternative) >= least) {
        at++;
        const right = expression(tightness(alternative) + 1);
        const isTruth = tightness(alternative) <= tightness('=');
        calculates ||= !isTruth && (left.isTruth || !!right?.isTruth);
        left = right && { text: `(${left.text} ${token} ${right.text})`, isTruth };
      } else if (token === 'IS' && tightness('IS') >= least) {
        at++;
        const not = taken('NOT') ? 'NOT ' : '';
        left = taken('TRUE') ? { text: `(${left.text} IS ${not}TRUE)`, isTruth: true } : undefined;
      } else return left;
    }
    return undefined;
  };
  const tree = expression(0);
  return tree && at === tokens.length ? { ...tree, calculates } : undefined;
}

/** Our tree, in the same writing. */
function written(node: Expression): string {
  switch (node.kind) {
    case 'logical': {
      const [first, ...rest] = node.operands.map(written);
      return rest.reduce((left, right) => `(${left} ${node.operator} ${right})`, first!);
    }
    case 'arithmetic':
    case 'comparison':
      return `(${written(node.left)} ${node.operator} ${written(node.right)})`;
    case 'concatenation':
      return `(${written(node.left)} || ${written(node.right)})`;
    case 'sign':
      return `(${node.operator} ${written(node.operand)})`;
    case 'not':
      return `(NOT ${written(node.operand)})`;
    case 'is-null':
      return `(${written(node.operand)} IS ${node.negated ? 'NOT ' : ''}NULL)`;
    case 'is-truth':
      return `(${written(node.operand)} IS ${node.negated ? 'NOT ' : ''}TRUE)`;
    case 'is-labeled':
      return `(${node.element.name} :A)`;
    case 'property':
      return `${written(node.object)}.${node.key.text}`;
    case 'variable':
      return node.name;
    case 'number':
      return String(node.value);
    default:
      throw new Error(`${node.kind} is not drawn`);
  }
}

/** A row of tokens that may or may not be an expression. */
function drawn(random: () => number): string[] {
  const pick = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)]!;
  const operand = (depth: number): string[] => {
    const roll = random();
    if (roll < 0.08) return ['NOT', ...operand(depth)];
    if (roll < 0.16) return [pick(['-', '+']), ...operand(depth)];
    const value =
      depth > 0 && roll < 0.35 ? ['(', ...row(depth - 1), ')'] : [pick(['a.x', 'b.y', '1', 'a', 'b'])];
    const last = random();
    if (last < 0.12) return [...value, 'IS', ...(random() < 0.4 ? ['NOT'] : []), 'NULL'];
    if (last < 0.2) return [...value, ':A'];
    return value;
  };
  const row = (depth: number): string[] => {
    const tokens = operand(depth);
    while (random() < 0.55) {
      if (random() < 0.2) tokens.push('IS', ...(random() < 0.4 ? ['NOT'] : []), 'TRUE');
      else tokens.push(pick(Object.keys(BINARY)), ...operand(depth));
    }
    return tokens;
  };
  return row(2);
}

/** Numbers from 0 to 1 that are the same each time (linear congruential; constants of D. Knuth's MMIX). */
function randomFrom(seed: bigint): () => number {
  let state = seed;
  return () => {
    state = BigInt.asUintN(64, state * 6_364_136_223_846_793_005n + 1_442_695_040_888_963_407n);
    return Number(state >> 11n) / 2 ** 53;
  };
}

/** What we refuse although the published grammar derives it and types allow it; CONFORMANCE.md says why. */
const REFUSED = /comparison does not go on|comparison is not followed by NOT|Readers of GQL differ/;

test('3,000 rows of tokens are read as the published grammar derives them, or refused', () => {
  const random = randomFrom(13n);
  const seen = { same: 0, neither: 0, refused: 0 };
  for (let i = 0; i < 3000; i++) {
    const tokens = drawn(random);
    const text = tokens.join(' ').replaceAll('- -', '- (-').replaceAll(' :A', ':A');
    if (text.includes('(-')) continue;
    const tree = derived(tokens);
    const { query, errors } = parsePattern(`MATCH (a)->(b) RETURN ${text}`);
    if (query) {
      expect([text, written(query.result.items![0]!.value)]).toEqual([text, tree?.text]);
      seen.same++;
    } else if (tree === undefined) seen.neither++;
    else {
      const messages = `${text}: ${errors.map(({ message }) => message).join(' ')}`;
      if (!tree.calculates) expect(messages).toMatch(REFUSED);
      seen.refused++;
    }
  }
  expect(seen.same).toBeGreaterThan(1000);
  expect(seen.neither).toBeGreaterThan(50);
  expect(seen.refused).toBeGreaterThan(100);
});

test.each([
  ['FALSE = TRUE IS NULL', 'FALSE = (TRUE IS NULL)'],
  ['NOT a.x IS NULL', 'NOT (a.x IS NULL)'],
  ['a.x = 1 IS TRUE', '(a.x = 1) IS TRUE'],
  ['a.x IS NULL = b.y IS NOT NULL', '(a.x IS NULL) = (b.y IS NOT NULL)'],
  ['a:A = b:A', '(a:A) = (b:A)'],
  ['a.x IS NOT NULL IS TRUE', '(a.x IS NOT NULL) IS TRUE'],
  ['- - a.x', '-(-a.x)'],
])('%s means %s', (text, same) => {
  const tree = (expression: string): unknown =>
    JSON.parse(
      JSON.stringify(
        parsePattern(`MATCH (a)->(b) RETURN ${expression} AS c`).query!.result.items,
        (field, value) => (field === 'span' ? undefined : value),
      ),
    );
  expect(tree(text)).toEqual(tree(same));
});

test.each([
  ['a.x + 1 IS NULL', '(… + 1) IS NULL'],
  ['-a.x IS NOT NULL', '(-a.x) IS NOT NULL'],
  ["a.x || 'b' IS NULL", "(… || 'b') IS NULL"],
  ['a.x IN [1, 2] IS NULL', '(… IN [1, 2]) IS NULL'],
  ['a.x IS TRUE IS NULL', '(a = b) IS NULL'],
  ['NOT a.x IS NOT TRUE', '(NOT …) IS NOT TRUE'],
  ['1 < a.x < 3', 'a < b AND b < c'],
  ['a.x = b.y IN [TRUE]', 'in parentheses'],
  ['a.x = NOT b.y', 'a = (NOT b)'],
])('%s is refused, and the message shows the parentheses: %s', (text, shown) => {
  const { errors } = parsePattern(`MATCH (a)->(b) RETURN ${text} AS c`);
  expect(errors).toHaveLength(1);
  expect(errors[0]!.message).toContain(shown);
});
