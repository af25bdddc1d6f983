/**
 * Constructs of the dialect that many people know from graph databases, found in texts that could not be read, and what
 * this language writes instead. Looks at tokens only, since such a text has no tree; over 400 lines because each
 * construct needs its own words and example.
 */
import type { IToken } from 'chevrotain';
import { MAX_PROBLEMS } from './limits.ts';
import { insteadOfFunction } from './older-functions.ts';
import { OPERATORS, Pieces } from './older-pieces.ts';
import type { ProblemCode } from './problem.ts';
import { NUMBER, PARAMETER, STRING } from './tokens.ts';
import { CONTEXTUAL_WORDS, STRUCTURAL_WORDS } from './words.ts';

/** A construct, by offsets. The message has no full stop. */
export interface OlderConstruct {
  readonly code: ProblemCode;
  readonly start: number;
  readonly end: number;
  readonly message: string;
}

const known: ReadonlySet<string> = new Set<string>([...STRUCTURAL_WORDS, ...CONTEXTUAL_WORDS]);

/** `, which is not supported here` where the language has a word and this subset does not. */
function unless(word: string): string {
  return known.has(word) ? '' : ', which is not supported here';
}

const CHANGING: ReadonlySet<string> = new Set(
  'CREATE MERGE SET DELETE DETACH REMOVE DROP INSERT FOREACH ALTER GRANT'.split(' '),
);
/** Words after which a condition begins. */
const BEFORE_CONDITION: ReadonlySet<string> = new Set('WHERE AND OR XOR NOT WHEN FILTER'.split(' '));

/** The constructs in a text, in its order; what stands inside one is not looked at. */
export function olderConstructs(
  text: string,
  tokens: readonly IToken[],
  strays: readonly { readonly offset: number; readonly length: number }[],
): OlderConstruct[] {
  return new Reader(text, tokens, strays).constructs();
}

class Reader extends Pieces {
  readonly #found: OlderConstruct[] = [];

  constructs(): OlderConstruct[] {
    for (let i = 0; i < this.pieces.length && this.#found.length < MAX_PROBLEMS; ) {
      const next = this.#at(i);
      // What follows a clause that changes data would have to be read as one.
      if (next === Number.POSITIVE_INFINITY) break;
      i = Math.max(next, i + 1);
    }
    return this.#found;
  }

  /** Reports what begins at a piece; answers the piece to go on with. */
  #at(i: number): number {
    const piece = this.pieces[i]!;
    if (piece.isWord && !this.isName(i)) {
      const next = this.#clause(i) ?? this.#wordedOperator(i) ?? this.#call(i);
      if (next !== undefined) return next;
    }
    if (piece.isWord && this.is(i + 1, '{')) {
      const next = this.#braced(i);
      if (next !== undefined) return next;
    }
    return this.#symbol(i) ?? this.#bracket(i) ?? this.#inPattern(i) ?? i + 1;
  }

  // Clauses

  #clause(i: number): number | undefined {
    const { upper } = this.pieces[i]!;
    const after = this.pieces[i + 1];
    if (upper === 'UNWIND') {
      const as = this.find(i + 1, (at) => this.word(at) === 'AS');
      const list = as === undefined ? 'list' : this.short(i + 1, as - 1);
      const name = as === undefined ? 'x' : (this.pieces[as + 1]?.image ?? 'x');
      return this.#report(
        i,
        i,
        `GQL has no UNWIND; it writes FOR x IN list, as in FOR ${name} IN ${list}${unless('FOR')}`,
        'syntax',
        as === undefined ? i + 1 : as + 2,
      );
    }
    const isBatch = upper === 'USING' && this.word(i + 1) === 'PERIODIC';
    if (isBatch || (upper === 'LOAD' && this.word(i + 1) === 'CSV')) {
      return this.#report(
        i,
        i + 1,
        'LOAD CSV reads a file; patterns read only the graph, which is made of files beside the text',
        'not-supported',
        Number.POSITIVE_INFINITY,
      );
    }
    if (upper === 'USING') {
      const last =
        this.find(i + 1, (at) => /^(WHERE|RETURN|MATCH|USING|OPTIONAL)$/.test(this.word(at))) ??
        this.pieces.length;
      return this.#report(
        i,
        Math.min(i + 1, last - 1),
        'USING gives hints to a planner; the plan is chosen by the engine here, so leave it out',
        'not-supported',
        last,
      );
    }
    if (upper === 'WITH' && !/^(ORDINALITY|OFFSET)$/.test(this.word(i + 1))) {
      return this.#report(
        i,
        i,
        `GQL has no WITH clause: LET x = … names a value, FILTER leaves rows out, and RETURN … NEXT … groups or sorts before going on${unless('NEXT')}`,
        'not-supported',
        i + 1,
      );
    }
    if (CHANGING.has(upper) && (after?.isWord || after?.image === '(' || after?.image === ':')) {
      const word = upper === 'DETACH' ? 'DETACH DELETE' : upper;
      const find = upper === 'MERGE' ? '; what is there is found with MATCH, or OPTIONAL MATCH' : '';
      return this.#report(
        i,
        upper === 'DETACH' ? i + 1 : i,
        `${word} changes data; patterns only read${find}`,
        'not-supported',
        Number.POSITIVE_INFINITY,
      );
    }
    if (upper === 'CALL') {
      if (this.is(i + 1, '{') || this.is(i + 1, '(')) {
        const open = this.is(i + 1, '{') ? i + 1 : (this.close(i + 1) ?? i + 1) + 1;
        return this.#report(
          i,
          i,
          `CALL with a subquery is not supported here; write EXISTS { … } for a condition, VALUE { … RETURN … } for one value, OPTIONAL { … } for what may be missing`,
          'not-supported',
          (this.close(open) ?? this.pieces.length) + 1,
        );
      }
      if (after?.isWord) {
        const end = this.find(i + 1, (at) => /^(RETURN|MATCH|WITH|WHERE)$/.test(this.word(at)));
        return this.#report(
          i,
          i,
          'CALL runs a procedure; there are no procedures here, patterns read only the graph',
          'not-supported',
          end ?? this.pieces.length,
        );
      }
    }
    if (i === 0 && (upper === 'EXPLAIN' || upper === 'PROFILE')) {
      return this.#report(
        i,
        i,
        `${upper} is no part of the text; the plan with its counts is asked for beside it, with --explain on the command line or explainPattern()`,
        'not-supported',
        i + 1,
      );
    }
    if (i === 0 && upper === 'SELECT') {
      return this.#report(
        i,
        i,
        'SELECT is not supported here; write MATCH … RETURN …',
        'not-supported',
        Number.POSITIVE_INFINITY,
      );
    }
    if (i === 0 && (/^(SESSION|COMMIT|ROLLBACK)$/.test(upper) || this.word(1) === 'TRANSACTION')) {
      const message =
        'Sessions and transactions are not supported here; a text is one query, which only reads';
      return this.#report(i, i, message, 'not-supported', Number.POSITIVE_INFINITY);
    }
    if (i === 0 && (upper === 'START' || upper === 'SHOW')) {
      const message =
        upper === 'START'
          ? 'START is MATCH in GQL, with conditions that say where to begin'
          : 'SHOW lists what a database has; a pattern finds what is in the graph and begins with MATCH';
      return this.#report(i, i, message, 'not-supported', Number.POSITIVE_INFINITY);
    }
    if (upper === 'RETURN') return this.#return(i);
    if (upper === 'WHERE') {
      const earlier = this.back(i, (at) =>
        /^(WHERE|RETURN|MATCH|FILTER|NEXT|UNION|EXCEPT|INTERSECT|OTHERWISE)$/.test(this.word(at)),
      );
      if (earlier !== undefined && this.word(earlier) === 'WHERE' && this.valueEnds(i - 1))
        return this.#report(i, i, 'A MATCH has one WHERE; join its conditions with AND', 'syntax', i + 1);
      if (earlier !== undefined && this.word(earlier) === 'RETURN')
        return this.#report(
          i,
          i,
          `WHERE stands before RETURN; what is grouped is filtered in a next step, RETURN … NEXT FILTER …${unless('NEXT')}`,
          'syntax',
          i + 1,
        );
    }
    if ((upper === 'SKIP' || upper === 'OFFSET') && this.word(i - 2) === 'LIMIT') {
      return this.#report(i, i, `${upper} stands before LIMIT: write ${upper} … LIMIT …`, 'syntax', i + 2);
    }
    if (upper === 'HAVING')
      return this.#report(
        i,
        i,
        `GQL has no HAVING; filter in a next step, RETURN … NEXT FILTER …${unless('NEXT')}`,
        'not-supported',
        i + 1,
      );
    if (upper === 'GROUP' && this.word(i + 1) === 'BY') {
      const clause = this.back(i, (at) => /^(RETURN|MATCH)$/.test(this.word(at)));
      if (clause !== undefined && this.word(clause) === 'MATCH')
        return this.#report(i, i + 1, 'GROUP BY stands behind the columns of RETURN', 'syntax', i + 3);
      let at = i + 2;
      while (this.pieces[at]?.isWord && this.is(at + 1, ',')) at += 2;
      if (this.pieces[at]?.isWord && (this.is(at + 1, '.') || this.is(at + 1, '(')))
        return this.#report(
          at,
          at + (this.is(at + 1, '.') ? 2 : 0),
          'GROUP BY takes variables and names of columns; name the column with AS in RETURN and group by the name',
          'syntax',
          at + 3,
        );
    }
    return undefined;
  }

  #return(i: number): number | undefined {
    const star = this.word(i + 1) === 'DISTINCT' ? i + 2 : i + 1;
    if (this.is(star, '*') && this.is(star + 1, ','))
      return this.#report(
        star,
        star + 1,
        'RETURN * stands alone; list the variables by name beside other columns',
        'syntax',
        star + 2,
      );
    const brace = this.opening(i, '{');
    if (brace !== undefined && this.close(brace) !== undefined && this.word(brace - 1) === 'EXISTS')
      return this.#report(
        i,
        i,
        'EXISTS holds no RETURN here; leave it out, since only whether something matches counts',
        'not-supported',
        this.close(brace) ?? i + 1,
      );
    return undefined;
  }

  // Operators

  #wordedOperator(i: number): number | undefined {
    const { upper } = this.pieces[i]!;
    const value = this.short(this.valueStart(i - 1), i - 1);
    if ((upper === 'STARTS' || upper === 'ENDS') && this.word(i + 1) === 'WITH') {
      const side = upper === 'STARTS' ? 'LEFT' : 'RIGHT';
      const end = this.valueEnd(i + 2);
      const part = this.short(i + 2, end);
      const { type } = this.pieces[i + 2] ?? {};
      const isText = type?.CATEGORIES?.includes(STRING) && end === i + 2 && !/[\\]|''|""/.test(part);
      const length = isText ? String([...part].length - 2) : `CHAR_LENGTH(${part})`;
      return this.#report(
        i,
        i + 1,
        `GQL has no ${upper} WITH; write ${side}(${value}, ${length}) = ${part}`,
        'syntax',
        end + 1,
      );
    }
    if (!this.valueEnds(i - 1)) {
      if (upper !== 'LIKE') return undefined;
    }
    if (upper === 'CONTAINS')
      return this.#report(
        i,
        i,
        'GQL has no CONTAINS: there is no search inside a text, and none here; LEFT(text, n) and RIGHT(text, n) compare beginnings and ends, and x IN list finds an item',
        'not-supported',
        this.valueEnd(i + 1) + 1,
      );
    if (upper === 'BETWEEN') {
      const and = this.find(i + 1, (at) => this.word(at) === 'AND');
      const low = and === undefined ? 'low' : this.short(i + 1, and - 1);
      const high = and === undefined ? 'high' : this.short(and + 1, this.valueEnd(and + 1));
      return this.#report(
        i,
        i,
        `GQL has no BETWEEN; write ${value} >= ${low} AND ${value} <= ${high}`,
        'syntax',
        and === undefined ? i + 1 : this.valueEnd(and + 1) + 1,
      );
    }
    if (/^(ILIKE|RLIKE|REGEXP|MATCHES)$/.test(upper)) return this.#regular(i, i, upper);
    return undefined;
  }

  #symbol(i: number): number | undefined {
    const { image, start } = this.pieces[i]!;
    const touching = (second: string): boolean =>
      this.is(i + 1, second) && this.pieces[i + 1]!.start === start + image.length;
    if (image === '=' && touching('~')) return this.#regular(i, i + 1, '=~');
    if (image === '=' && touching('='))
      return this.#report(i, i + 1, 'Equality is written = once, not ==', 'syntax', i + 2);
    if (image === '!' && touching('='))
      return this.#report(i, i + 1, 'In conditions "not equal" is written <>, not !=', 'syntax', i + 2);
    if (image === '!' && !this.isLabel(i) && !this.valueEnds(i - 1) && this.valueBegins(i + 1))
      return this.#report(i, i, 'In conditions "not" is written NOT, not !', 'syntax', i + 1);
    if (image === '&' && touching('&'))
      return this.#report(i, i + 1, 'Conditions are joined with AND, not &&', 'syntax', i + 2);
    if (!this.valueEnds(i - 1) || !this.valueBegins(i + 1)) return undefined;
    const start_ = this.valueStart(i - 1);
    const [left, right] = [this.short(start_, i - 1), this.short(i + 1, this.valueEnd(i + 1))];
    if (image === '%' && !this.isLabel(i)) {
      return this.#report(i, i, `GQL has no operator %; write MOD(${left}, ${right})`, 'syntax', i + 1);
    }
    if (image === '^')
      return this.#report(i, i, `GQL has no operator ^; write POWER(${left}, ${right})`, 'syntax', i + 1);
    return undefined;
  }

  #regular(from: number, to: number, written: string): number {
    return this.#report(
      from,
      to,
      `GQL has no regular expressions (${written}), and there are none here; LEFT(text, n) and RIGHT(text, n) compare beginnings and ends, UPPER(text) makes case alike`,
      'not-supported',
      this.valueEnd(to + 1) + 1,
    );
  }

  // Calls, lists and braces

  #call(i: number): number | undefined {
    const { upper, image } = this.pieces[i]!;
    if (upper === 'EXISTS' && this.is(i + 1, '(')) {
      const close = this.close(i + 1);
      const inside = close === undefined ? '' : this.slice(i + 2, close - 1);
      if (close !== undefined && /^[\p{L}_`][^()\s]*[.[][^()\s]+$/u.test(inside))
        return this.#report(
          i,
          close,
          `EXISTS(${inside}) as a test of a property is ${inside} IS NOT NULL in GQL`,
          'syntax',
          close + 1,
        );
      return undefined;
    }
    const chain = this.chain(i);
    if (chain > i && this.is(chain + 1, '(')) {
      const name = this.slice(i, chain);
      const close = this.close(chain + 1) ?? chain + 1;
      const fix = /^duration\.(between|in\w+)$/i.test(name)
        ? 'write DURATION_BETWEEN(from, to)'
        : 'calls of libraries are not part of GQL, and none are here; names of functions have no dot';
      return this.#report(i, chain, `There is no function ${name}; ${fix}`, 'not-supported', close + 1);
    }
    if (!this.is(i + 1, '(')) return undefined;
    const close = this.close(i + 1) ?? this.pieces.length - 1;
    if (/^(ANY|ALL|NONE|SINGLE)$/.test(upper) && this.pieces[i + 2]?.isWord && this.word(i + 3) === 'IN') {
      const called = `${image.toLowerCase()}(${this.pieces[i + 2]!.image} IN list WHERE …)`;
      const fix = {
        ANY: 'value IN list asks for an item, and EXISTS { … } for elements of a pattern',
        ALL: 'along a path, put the condition into the quantified path, as in ((a)-[e WHERE e.x > 1]->(b))+',
        NONE: 'write NOT value IN list, or NOT EXISTS { … } for elements of a pattern',
        SINGLE: 'match the elements and compare COUNT(*) with 1 in RETURN',
      }[upper as 'ANY'];
      return this.#report(i, close, `GQL has no ${called}; ${fix}`, 'not-supported', close + 1);
    }
    if (upper === 'SIZE' && this.is(i + 2, '(') && this.#edge((this.close(i + 2) ?? i) + 1) !== undefined)
      return this.#report(
        i,
        close,
        'GQL has no size(pattern); write VALUE { MATCH … RETURN COUNT(*) AS n }, or EXISTS { … } where any will do',
        'not-supported',
        close + 1,
      );
    if (upper === 'REDUCE')
      return this.#report(
        i,
        close,
        'GQL has no reduce(…); along a path aggregates add up, as in SUM(e.length) for a variable e of the quantified path',
        'not-supported',
        close + 1,
      );
    if (upper === 'SHORTESTPATH' || upper === 'ALLSHORTESTPATHS') {
      const search = upper === 'SHORTESTPATH' ? 'ANY SHORTEST' : 'ALL SHORTEST';
      return this.#report(
        i,
        close,
        `${image}(…) is ${search} in GQL: ${search} (a)-[:T]->*(b)${unless('SHORTEST')}${known.has('SHORTEST') ? '' : '; use a path mode such as TRAIL and a quantifier'}`,
        known.has('SHORTEST') ? 'syntax' : 'not-supported',
        close + 1,
      );
    }
    const temporal = TEMPORAL[upper];
    if (temporal && this.is(i + 2, '{'))
      return this.#report(i, close, `${image}({…}) is a literal here: ${temporal}`, 'syntax', close + 1);
    if (upper === 'POINT')
      return this.#report(
        i,
        close,
        `There is no function ${image}(); ${insteadOfFunction('POINT')}`,
        'not-supported',
        close + 1,
      );
    return undefined;
  }

  #braced(i: number): number | undefined {
    const { upper, image } = this.pieces[i]!;
    const close = this.close(i + 1) ?? this.pieces.length - 1;
    if (this.is(i + 2, '.')) {
      return this.#report(
        i,
        close,
        `GQL has no map projection ${image} {.name}; return columns, as in ${image}.name AS name, a record {name: ${image}.name}, or ${image} with all its properties`,
        'not-supported',
        close + 1,
      );
    }
    if (this.isName(i) || this.is(i - 1, '(')) return undefined;
    if (upper === 'COUNT')
      return this.#report(
        i,
        close,
        'GQL has no COUNT { … }; write VALUE { MATCH … RETURN COUNT(*) }, OPTIONAL MATCH and COUNT(x), or EXISTS { … } where any will do',
        'not-supported',
        close + 1,
      );
    if (upper === 'COLLECT')
      return this.#report(
        i,
        close,
        'GQL has no COLLECT { … }; write VALUE { MATCH … RETURN COLLECT_LIST(x) }, or OPTIONAL MATCH and COLLECT_LIST(x)',
        'not-supported',
        close + 1,
      );
    return undefined;
  }

  #bracket(i: number): number | undefined {
    if (this.is(i, '{')) {
      // {p}, as parameters were once written.
      if (!this.pieces[i + 1]?.isWord || !this.is(i + 2, '}')) return undefined;
      const before = this.pieces[i - 1];
      if (before && !/^([=<>:,([+*-]|<>|<=|>=)$/.test(before.image) && !OPERATORS.has(before.upper))
        return undefined;
      const { image } = this.pieces[i + 1]!;
      return this.#report(i, i + 2, `A parameter is written $${image}, not {${image}}`, 'syntax', i + 3);
    }
    if (!this.is(i, '[')) return undefined;
    const close = this.close(i);
    if (close === undefined) return undefined;
    const before = this.pieces[i - 1];
    const isEdge =
      before !== undefined && /^[-~]$/.test(before.image) && before.end === this.pieces[i]!.start;
    if (isEdge && !this.valueEnds(i - 2)) return this.#repeated(i, close);
    if (isEdge) {
      const edge = this.#repeated(i, close);
      if (edge !== undefined) return edge;
    }
    // An edge that lacks its stroke.
    if (
      this.word(i - 1) === 'PATH' ||
      (before?.image === ')' && /^[-~]$/.test(this.pieces[close + 1]?.image ?? ''))
    )
      return undefined;
    if (this.valueEnds(i - 1) && before!.end === this.pieces[i]!.start) return this.#subscript(i, close);
    if (isEdge) return undefined;
    const isList = this.pieces[i + 1]?.isWord && this.word(i + 2) === 'IN';
    const depth = (image: string, word?: string): number | undefined =>
      this.find(
        i + 1,
        (at) => at < close && (this.is(at, image) || (word !== undefined && this.word(at) === word)),
      );
    if (isList && depth('|', 'WHERE') !== undefined)
      return this.#report(
        i,
        close,
        `GQL has no list comprehension; FOR x IN list makes rows of the items${unless('FOR')}, FILTER leaves some out, and COLLECT_LIST(x) makes a list again`,
        'not-supported',
        close + 1,
      );
    const starts =
      this.is(i + 1, '(') || (this.pieces[i + 1]?.isWord && this.is(i + 2, '=') && this.is(i + 3, '('));
    if (starts && depth('|') !== undefined)
      return this.#report(
        i,
        close,
        'GQL has no pattern comprehension; write VALUE { MATCH … RETURN COLLECT_LIST(m.name) AS list }, or the pattern in an OPTIONAL MATCH and COLLECT_LIST(m.name) in RETURN',
        'not-supported',
        close + 1,
      );
    return undefined;
  }

  /** `list[0]`, `list[1..2]`, `n['name']`. */
  #subscript(open: number, close: number): number {
    const from = this.valueStart(open - 1);
    const inside = this.slice(open + 1, close - 1);
    const whole = this.short(from, close);
    const [item] = this.pieces.slice(open + 1, close);
    if (inside.includes('..'))
      return this.#report(
        from,
        close,
        `GQL has no slice ${whole}; TRIM(list, n) leaves off the last n items`,
        'not-supported',
        close + 1,
      );
    if (close === open + 2 && item?.type?.CATEGORIES?.includes(STRING)) {
      const value = this.short(from, open - 1);
      return this.#report(
        from,
        close,
        `${whole} is ${value}.${item.image.slice(1, -1)} in GQL: a property is named, not calculated`,
        'syntax',
        close + 1,
      );
    }
    if (item?.type !== NUMBER && !this.is(open + 1, '-')) {
      const message = `GQL has neither a list item by position nor a property by a calculated name, such as [${inside}], and there is none here; a property is named, as in n.name, and x IN list asks for an item`;
      return this.#report(from, close, message, 'not-supported', close + 1);
    }
    return this.#report(
      from,
      close,
      `GQL has no list item by position, such as [${inside}], and there is none here; x IN list asks whether it holds an item, TRIM(list, n) leaves off the last n`,
      'not-supported',
      close + 1,
    );
  }

  // Patterns

  /** `-[:T*1..2]->`: the edge without its repetition, and the quantifier behind it. */
  #repeated(open: number, close: number): number | undefined {
    const star = this.find(open + 1, (at) => at < close && (this.is(at, '*') || this.word(at) === 'WHERE'));
    if (star === undefined || !this.is(star, '*')) return undefined;
    const text = this.text.slice(this.pieces[star]!.start, this.pieces[close]!.start);
    const [written = '*', low = '', dots, high = ''] = /^\*\s*(\d*)\s*(\.\.)?\s*(\d*)/.exec(text) ?? [];
    const quantifier = dots
      ? high === ''
        ? low === '0'
          ? '*'
          : low === '' || low === '1'
            ? '+'
            : `{${low},}`
        : `{${low || '1'},${high}}`
      : low === ''
        ? '+'
        : `{${low}}`;
    const before = this.text.slice(this.pieces[open]!.start, this.pieces[star]!.start).trimEnd();
    const rest = text.slice(written.length).trim();
    const inside = `${before}${rest === '' ? '' : ` ${rest}`}]`.replace('[ ', '[');
    const left = this.is(open - 2, '<') ? '<' : '';
    const stroke = this.pieces[open - 1]!.image;
    const right = this.is(close + 2, '>') ? '>' : '';
    const edge = `${left}${stroke}${inside}${stroke}${right}`.replace(/\[\]/, '[]');
    const start = this.pieces[star]!.start;
    this.#found.push({
      code: 'syntax',
      start,
      end: start + written.trimEnd().length,
      message: `In GQL the quantifier stands behind the edge, not inside as ${written.trim()}: ${edge.replace('[]', '[]')}${quantifier}`,
    });
    return close + 1;
  }

  #inPattern(i: number): number | undefined {
    const piece = this.pieces[i]!;
    if (piece.image === ':') {
      if (this.is(i - 1, '|')) {
        const first = this.pieces[i - 2]?.image ?? 'A';
        const second = this.pieces[i + 1]?.image ?? 'B';
        let last = i + 1;
        while (this.is(last + 1, '|') && this.is(last + 2, ':')) last += 3;
        return this.#report(
          i - 1,
          i,
          `A colon stands before the first label only, not as |: write :${first}|${second}`,
          'syntax',
          last + 1,
        );
      }
      if (this.is(i - 2, ':') && this.pieces[i - 1]?.isWord && this.pieces[i + 1]?.isWord) {
        let last = i + 1;
        const names = [this.pieces[i - 1]!.image, this.pieces[i + 1]!.image];
        while (this.is(last + 1, ':') && this.pieces[last + 2]?.isWord) {
          names.push(this.pieces[last + 2]!.image);
          last += 2;
        }
        return this.#report(
          i,
          last,
          `In GQL several labels are joined with &: :${names.join('&')} instead of :${names.join(':')}`,
          'syntax',
          last + 1,
        );
      }
      if (
        piece.end === this.pieces[i + 1]?.start &&
        this.is(i + 1, ':') &&
        /^(IS|NOT)$/.test(this.word(i - 1))
      ) {
        return this.#report(
          i - 1,
          i + 1,
          'GQL asks for the type of a value with IS ::, and there is none here; CAST(x AS type) is null where it does not fit',
          'not-supported',
          i + 3,
        );
      }
    }
    if (piece.type === PARAMETER) {
      const { image } = piece;
      if (/^[&|!:]$/.test(this.pieces[i - 1]?.image ?? '') && this.isLabel(i) && !this.isInBraces(i))
        return this.#report(
          i,
          i,
          `A label does not come from a parameter, such as ${image}; write a text for each label`,
          'not-supported',
          i + 1,
        );
      const next = this.pieces[i + 1]?.image;
      if (
        (this.pieces[i - 1]?.isWord || this.is(i - 1, '(')) &&
        !OPERATORS.has(this.word(i - 1)) &&
        /^[)\]]$/.test(next ?? '') &&
        this.opensElement(i)
      )
        return this.#report(
          i,
          i,
          `A list of properties does not come from a parameter, such as ${image}; write {name: $name} with one parameter each`,
          'not-supported',
          i + 1,
        );
    }
    if (piece.image === '(' && BEFORE_CONDITION.has(this.word(i - 1))) {
      const close = this.close(i);
      if (close === undefined || !this.#isNode(i, close)) return undefined;
      let last = close;
      for (
        let edge = this.#edge(last + 1);
        edge !== undefined && this.is(edge + 1, '(');
        edge = this.#edge(last + 1)
      ) {
        last = this.close(edge + 1) ?? edge;
        if (last === edge) break;
      }
      if (last > close)
        return this.#report(
          i,
          last,
          `A pattern as a condition is written in braces: EXISTS { ${this.short(i, last).replaceAll('--', '-')} }`,
          'syntax',
          last + 1,
        );
    }
    return undefined;
  }

  /** The last piece of an edge that begins at one, if it can only be an edge. */
  #edge(i: number): number | undefined {
    let at = this.is(i, '<') ? i + 1 : i;
    if (!this.is(at, '-') && !this.is(at, '~')) return undefined;
    if (!this.is(at + 1, '[')) {
      if (this.is(at + 1, '>')) return at + 1;
      // Written with two strokes, it is no minus.
      const { start, end } = this.pieces[at]!;
      return this.text.slice(Math.max(0, start - 1), end + 1).includes('--') ? at : undefined;
    }
    const close = this.close(at + 1);
    if (close === undefined) return undefined;
    at = close + 1;
    if (!this.is(at, '-') && !this.is(at, '~')) return undefined;
    return this.is(at + 1, '>') ? at + 1 : at;
  }

  /** Whether what stands between two parentheses is the inside of a node pattern without WHERE. */
  #isNode(open: number, close: number): boolean {
    let at = open + 1;
    if (this.pieces[at]?.isWord) at++;
    if (this.is(at, ':'))
      for (at++; this.pieces[at]?.isWord || /^[&|!%:]$/.test(this.pieces[at]?.image ?? ''); ) at++;
    if (this.is(at, '{')) at = (this.close(at) ?? at) + 1;
    return at === close;
  }

  #report(from: number, to: number, message: string, code: ProblemCode, next: number): number {
    const last = this.pieces[Math.min(to, this.pieces.length - 1)]!;
    this.#found.push({ code, start: this.pieces[from]!.start, end: last.end, message });
    return next;
  }
}

/** Literals in place of functions of a record. */
const TEMPORAL: Readonly<Record<string, string>> = {
  DATE: "DATE '2024-05-31'",
  TIME: "TIME '08:00:00'",
  LOCALTIME: "TIME '08:00:00'",
  DATETIME: "DATETIME '2024-05-31T08:00:00Z'",
  LOCALDATETIME: "DATETIME '2024-05-31T08:00:00'",
  DURATION: "DURATION 'P1Y6M' or DURATION 'P2DT3H'",
};
