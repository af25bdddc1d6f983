/**
 * Writes the nested loops of a plan as JavaScript, so that a step costs what it would cost if a person had written
 * it: Neumann, "Efficiently compiling efficient query plans for modern hardware", VLDB 2011. Only numbers, names
 * made here and constants handed over by reference go into the text; nothing of the query's own text does.
 *
 * The search is backtracking in a fixed order (Ullmann, "An algorithm for subgraph isomorphism", J. ACM 23, 1976;
 * Lee, Han, Kasperovics and Lee, "An in-depth comparison of subgraph isomorphism algorithms in graph databases",
 * VLDB 2013): every step either walks along an edge to a new node, checks an edge between two bound nodes, or scans
 * the nodes of a label.
 */
import { adjacencyCodes } from '../plan/codes.ts';
import type { Condition, Pattern, PatternEdge, PatternNode } from '../plan/pattern.ts';
import type { Step } from '../plan/step.ts';
import { IN, OUT } from '../storage/catalog.ts';
import { S, SEGMENT_ROW, type Store } from '../storage/store.ts';
import { SPAN_ROW, spansOf } from './spans.ts';
import type { Run } from './stage.ts';

/** What generated code is bound to for one run. */
export interface Binding {
  readonly run: Run;
  readonly store: Store;
  /** Per segment row, 1 when the query may see the segment. */
  readonly visible: Uint8Array;
  /** Segments (rows) that each scan goes through. */
  readonly scans: readonly Int32Array[];
  readonly next: () => boolean;
}

/**
 * A generated stage. When the first step is a scan, `from` and `to` bound the part of `scans[0]` to go through.
 * With `counting` the code calls nothing at a match, and adds to `counter[0]` instead.
 */
export type Generated = (binding: Binding) => (from: number, to: number) => boolean;

export interface GenerateOptions {
  readonly counting?: boolean;
  /** First step of a tail whose findings are kept for the node it starts at; -1 for none. */
  readonly keepFrom: number;
  /** The body of an EXISTS, by its number, when it can be written in place. */
  readonly body: (
    number: number,
  ) => { readonly pattern: Pattern; readonly steps: readonly Step[] } | undefined;
  /** Counts the bindings after each step, for explain. */
  readonly trace?: Float64Array | undefined;
  /** Per adjacency code: whether an entry with it may lead to another segment, or from another one. */
  readonly leaves: (code: number) => boolean;
  readonly entered: (code: number) => boolean;
  /** Truth per node kind that counts as a match, and per edge label. */
  readonly nodeTable: (node: PatternNode) => Uint8Array | undefined;
  readonly edgeTable: (edge: PatternEdge) => Uint8Array;
  /** Adjacency codes in the graph. */
  readonly codes: number;
  /** The node table, by label set. */
  readonly setTable: (node: PatternNode) => Uint8Array | undefined;
}

/** Names that the code may use for one word of a row: the column, words a row, and the word. */
const WORDS: Readonly<Record<string, readonly [column: string, stride: number, word: number]>> = {
  nodeKind: ['nodeRow', 4, 0],
  adjStart: ['nodeRow', 4, 1],
  nodeRecord: ['nodeRow', 4, 2],
  nodeSegment: ['nodeRow', 4, 3],
  adjCode: ['adjRow', 2, 0],
  adjNode: ['adjRow', 2, 1],
  edgeKind: ['edgeRow', 4, 0],
  edgeSource: ['edgeRow', 4, 1],
  edgeTarget: ['edgeRow', 4, 2],
  edgeRecord: ['edgeRow', 4, 3],
  runKind: ['runRow', 2, 0],
  runStart: ['runRow', 2, 1],
};
const WORD = new RegExp(`\\b(${Object.keys(WORDS).join('|')})\\[([^\\[\\]]+)\\]`, 'g');

/** Replaces `nodeKind[n]` and the like by the place in the row. Indices hold no brackets. */
function placed(code: string): string {
  return code.replace(WORD, (_, name: string, index: string) => {
    const [column, stride, word] = WORDS[name]!;
    return `${column}[(${index}) * ${stride}${word > 0 ? ` + ${word}` : ''}]`;
  });
}

const COLUMNS = [
  'nodeRow',
  'adjRow',
  'adjEdge',
  'edgeRow',
  'runRow',
  'segmentTable',
  'handleNode',
  'handlePort',
  'portCode',
  'portSet',
  'portFirst',
  'portNext',
  'exportHandle',
  'crossingNext',
  'crossingEdge',
  'crossingSegment',
] as const;

/** Compiles the steps of one clause. */
export function generate(pattern: Pattern, steps: readonly Step[], options: GenerateOptions): Generated {
  const writer = new Writer(pattern, steps, options);
  const body = writer.write();
  // The text holds only what this file wrote; see above. It is the point of this module.
  const make = new Function('binding', 'constants', 'seek', 'counter', 'memory', body) as (
    binding: Binding,
    constants: readonly unknown[],
    seek: typeof seekEntry,
    counter: Float64Array,
    memory: () => Memory,
  ) => (from: number, to: number) => boolean;
  return (binding) => make(binding, writer.constants, seekEntry, COUNTER, () => new Memory());
}

/** Tuples that a kept tail has found, by the node that it starts at. */
class Memory {
  readonly first = new Map<number, number>();
  readonly last = new Map<number, number>();
  tuples = new Int32Array(1024);
  length = 0;

  /** Begins the tuples of a node; forgets all others when they have become many. */
  start(node: number): number {
    if (this.length > MOST_KEPT) {
      this.first.clear();
      this.last.clear();
      this.length = 0;
    }
    this.first.set(node, this.length);
    return this.length;
  }

  finish(node: number): void {
    this.last.set(node, this.length);
  }

  /** Makes room for one tuple more. */
  room(size: number, run: Run): void {
    if (this.length + size <= this.tuples.length) return;
    run.remember(this.tuples.byteLength);
    const bigger = new Int32Array(this.tuples.length * 2);
    bigger.set(this.tuples);
    this.tuples = bigger;
  }
}

/** Numbers kept before everything is forgotten. */
const MOST_KEPT = 2 ** 22;

/** Matches that counting stages have found; read and set by the caller around a run. */
export const COUNTER = new Float64Array(1);

/** First entry in `start .. end` whose code is at least `code` and, there, whose neighbour is at least `node`. */
function seekEntry(rows: Int32Array, start: number, end: number, code: number, node: number): number {
  let low = start;
  let high = end;
  while (low < high) {
    const middle = (low + high) >>> 1;
    const c = rows[middle * 2]!;
    if (c < code || (c === code && rows[middle * 2 + 1]! < node)) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Variables that hold where the nodes of a label stand in a segment. */
interface Range {
  readonly table: string;
  readonly spans: string;
  readonly rows: string;
  readonly low: string;
  readonly high: string;
  readonly mixed: string;
}

/** Lists longer than this are entered by binary search. */
const LONG = 16;

class Writer {
  readonly constants: unknown[] = [];
  #pattern: Pattern;
  #steps: readonly Step[];
  /** What stands where all steps are done; undefined for the end of the search. */
  #end: (() => void) | undefined;
  readonly #options: GenerateOptions;
  readonly #lines: string[] = [];
  readonly #bySlot = new Map<number, PatternNode | PatternEdge>();
  readonly #bound = new Set<number>();
  readonly #stored = new Set<number>();
  readonly #checked = new Set<Condition>();
  readonly #labels = { n: 0 };
  #scans = 0;
  /** Nodes that stand in the segment that the first scan has come to. */
  readonly #tied = new Set<number>();
  readonly #ranges: Range[] = [];
  /** The range that the first scan goes through. */
  #scanned: Range | undefined;
  /** Lines at the head of the code. */
  readonly #heads: string[] = [];
  /** Line at which ranges are found, -1 when the code starts with no scan. */
  #rangeLine = -1;
  /** For nodes reached over an edge that may leave the segment: the variable with the reference as it stood there. */
  readonly #raw = new Map<string, string>();
  readonly #outer: string[] = [];
  /** Memories of kept tails. */
  readonly #memos: string[] = [];
  /** Variables of conditions, declared ahead. */
  readonly #declared: string[] = [];

  constructor(pattern: Pattern, steps: readonly Step[], options: GenerateOptions) {
    this.#pattern = pattern;
    this.#steps = steps;
    this.#options = options;
    for (const element of [...pattern.nodes, ...pattern.edges, ...pattern.held])
      this.#bySlot.set(element.slot, element);
  }

  write(): string {
    const before = [...this.#bySlot.values()].filter((element) => element.bound);
    for (const element of before) {
      this.#line(`const ${name(element)} = row[${element.slot}];`);
      // A null element, left by an optional clause, matches nothing.
      this.#line(`if (${name(element)} < 0) return true;`);
      this.#bound.add(element.slot);
      this.#stored.add(element.slot);
    }
    const fail = '{ run.fuel = fuel; return true; }';
    for (const element of before) {
      this.#tests(element, fail);
      this.#distinct(element.slot, fail, before);
    }
    this.#conditions(fail);
    this.#step(0);
    const used = placed(this.#lines.join('\n'));
    const head = [
      `const { run, store, visible, scans, next } = binding; const row = run.row;`,
      ...this.constants.map((_, i) => `const k${i} = constants[${i}];`),
      ...this.#memos,
      `return function stage(from, to) {`,
      ...COLUMNS.filter((c) => new RegExp(`\\b${c}\\b`).test(used)).map(
        (c) => `const ${c} = store.${c}.view;`,
      ),
      /\bwords\b/.test(used) ? `const words = store.records.words;` : '',
      /\bdoubles\b/.test(used) ? `const doubles = store.records.doubles;` : '',
      `let fuel = run.fuel;`,
      ...this.#heads,
      this.#declared.length > 0 ? `let ${this.#declared.map((v) => `${v} = 0`).join(', ')};` : '',
      this.#options.counting ? 'let count = 0;' : '',
      ...this.#outer,
    ];
    const done = this.#options.counting ? 'counter[0] += count;' : '';
    return [...head, used, `run.fuel = fuel; ${done} return true;`, '};'].join('\n');
  }

  #line(text: string): void {
    this.#lines.push(text);
  }

  #constant(value: unknown): string {
    const known = this.constants.indexOf(value);
    if (known >= 0) return `k${known}`;
    this.constants.push(value);
    return `k${this.constants.length - 1}`;
  }

  #fresh(letter: string): string {
    return `${letter}_${this.#labels.n++}`;
  }

  #step(at: number): void {
    if (this.#options.trace && at > 0 && !this.#end)
      this.#line(`${this.#constant(this.#options.trace)}[${at - 1}]++;`);
    const step = this.#steps[at];
    if (!step) {
      if (this.#end) this.#end();
      else this.#leaf();
      return;
    }
    if (at === this.#options.keepFrom && !this.#end && !this.#options.trace) {
      this.#kept(at);
      return;
    }
    const bound = new Set(this.#bound);
    const stored = new Set(this.#stored);
    const checked = new Set(this.#checked);
    switch (step.kind) {
      case 'scan':
        this.#scan(step.node, at);
        break;
      case 'walk':
        this.#walk(step, at);
        break;
      case 'connect':
        this.#connect(step.edge, at);
        break;
      default:
        step satisfies never;
    }
    restore(this.#bound, bound);
    restore(this.#stored, stored);
    restore(this.#checked, checked);
  }

  /**
   * The steps from `at` on hang on one node. What they find is kept in a list of tuples, so that it is found once
   * for each such node; conditions and distinctness that reach beyond are checked for every tuple taken from there.
   */
  #kept(at: number): void {
    const step = this.#steps[at] as Extract<Step, { kind: 'walk' }>;
    const { from, to } = this.#pattern.edges[step.edge]!;
    const start = this.#pattern.nodes[step.reversed ? to : from]!;
    const outer = {
      bound: new Set(this.#bound),
      stored: new Set(this.#stored),
      checked: new Set(this.#checked),
    };
    const [memo, begin, end, t] = ['memo', 'begin', 'end', 't'].map((letter) => this.#fresh(letter)) as [
      string,
      string,
      string,
      string,
    ];
    this.#memos.push(`const ${memo} = memory();`);
    this.#line(`let ${begin} = ${memo}.first.get(${name(start)}), ${end} = 0;`);
    this.#line(`if (${begin} === undefined) { ${begin} = ${memo}.start(${name(start)});`);
    // Inside, only the start is known.
    restore(this.#bound, new Set([start.slot]));
    this.#bound.add(start.slot);
    const tied = this.#rangeLine;
    this.#rangeLine = -1;
    const tuple: (PatternNode | PatternEdge)[] = [];
    this.#end = () => {
      tuple.push(
        ...[...this.#bound].filter((slot) => slot !== start.slot).map((slot) => this.#bySlot.get(slot)!),
      );
      this.#line(`${memo}.room(${tuple.length}, run);`);
      for (const element of tuple) this.#line(`${memo}.tuples[${memo}.length++] = ${name(element)};`);
    };
    const insideChecked = new Set(this.#checked);
    this.#walk(step, at);
    this.#end = undefined;
    this.#rangeLine = tied;
    this.#line(`${memo}.finish(${name(start)}); }`);
    this.#line(`${end} = ${memo}.last.get(${name(start)});`);
    this.#line(`fuel -= ${end} - ${begin} + 1; if (fuel < 0) fuel = run.refuel();`);
    this.#line(`for (let ${t} = ${begin}; ${t} < ${end}; ${t} += ${tuple.length}) {`);
    tuple.forEach((element, i) => {
      this.#line(`const ${name(element)} = ${memo}.tuples[${t}${i > 0 ? ` + ${i}` : ''}];`);
    });
    restore(this.#bound, new Set());
    for (const slot of outer.bound) this.#bound.add(slot);
    restore(this.#stored, outer.stored);
    // Whatever was checked inside reads the tuple and its start alone; the rest follows here.
    restore(this.#checked, insideChecked);
    for (const condition of this.#pattern.conditions)
      if (this.#withinTuple(condition, tuple, start)) this.#checked.add(condition);
    for (const element of tuple) {
      const before = [...this.#bound].map((slot) => this.#bySlot.get(slot)!);
      this.#bound.add(element.slot);
      // Among themselves the elements of a tuple have been told apart already.
      const others = before.filter((other) => other === start || !tuple.includes(other));
      this.#distinct(
        element.slot,
        'continue;',
        others.filter((other) => other !== start),
      );
    }
    this.#conditions('continue;');
    this.#leaf();
    this.#line('}');
    restore(this.#bound, outer.bound);
    restore(this.#stored, outer.stored);
    restore(this.#checked, outer.checked);
  }

  #withinTuple(
    { slots }: Condition,
    tuple: readonly (PatternNode | PatternEdge)[],
    start: PatternNode,
  ): boolean {
    return (
      slots.some((slot) => tuple.some((element) => element.slot === slot)) &&
      slots.every((slot) => slot === start.slot || tuple.some((element) => element.slot === slot))
    );
  }

  /** Writes the body of an EXISTS in place; false when it cannot be. */
  #inPlace(condition: Condition, fail: string): boolean {
    const body = condition.exists && this.#options.body(condition.exists.number);
    if (!condition.exists || !body) return false;
    const outer = { pattern: this.#pattern, steps: this.#steps, end: this.#end };
    const sets = {
      bound: new Set(this.#bound),
      stored: new Set(this.#stored),
      checked: new Set(this.#checked),
    };
    const elements = [...body.pattern.nodes, ...body.pattern.edges];
    const hidden = elements.map(({ slot }) => [slot, this.#bySlot.get(slot)] as const);
    // Conditions inside may be evaluated from the row.
    this.#store(condition.slots);
    const [found, label] = [this.#fresh('found'), this.#fresh('exists')];
    this.#line(`let ${found} = false; ${label}: do {`);
    this.#pattern = body.pattern;
    this.#steps = body.steps;
    this.#end = () => this.#line(`${found} = true; break ${label};`);
    const before = elements.filter((element) => element.bound);
    for (const element of before) {
      if (!this.#bound.has(element.slot)) {
        this.#line(`const ${name(element)} = row[${element.slot}]; if (${name(element)} < 0) continue;`);
        this.#bound.add(element.slot);
        this.#stored.add(element.slot);
      }
    }
    for (const element of elements) this.#bySlot.set(element.slot, element);
    for (const element of before) {
      this.#tests(element, 'continue;');
      this.#distinct(element.slot, 'continue;', before);
    }
    this.#conditions('continue;');
    this.#step(0);
    this.#line('} while (false);');
    this.#line(`if (${found} !== ${condition.exists.wanted}) ${fail}`);
    this.#pattern = outer.pattern;
    this.#steps = outer.steps;
    this.#end = outer.end;
    for (const [slot, element] of hidden) {
      if (element) this.#bySlot.set(slot, element);
      else this.#bySlot.delete(slot);
    }
    restore(this.#bound, sets.bound);
    restore(this.#stored, sets.stored);
    restore(this.#checked, sets.checked);
    return true;
  }

  #leaf(): void {
    if (this.#options.counting) {
      this.#line('count++;');
      return;
    }
    this.#store([...this.#bound]);
    this.#line('run.fuel = fuel; if (!next()) return false; fuel = run.fuel;');
  }

  /** Writes bound elements into the row, those that are not there yet. */
  #store(slots: readonly number[]): void {
    for (const slot of slots) {
      if (this.#stored.has(slot)) continue;
      const element = this.#bySlot.get(slot);
      if (!element || !this.#bound.has(slot)) continue;
      this.#line(`row[${slot}] = ${name(element)};`);
      this.#stored.add(slot);
    }
  }

  #scan(index: number, at: number): void {
    const node = this.#pattern.nodes[index]!;
    const table = this.#options.nodeTable(node);
    const n = name(node);
    const scan = this.#scans++;
    const [list, s, seg, slot] = ['list', 's', 'seg', 'slot'].map((letter) => this.#fresh(letter)) as [
      string,
      string,
      string,
      string,
    ];
    this.#line(`const ${list} = scans[${scan}];`);
    const range = at === 0 ? [`from`, `to`] : ['0', `${list}.length`];
    this.#line(`for (let ${s} = ${range[0]}; ${s} < ${range[1]}; ${s}++) {`);
    this.#line(`const ${slot} = ${list}[${s}], ${seg} = ${slot} * ${SEGMENT_ROW};`);
    // Only the first scan says where the ranges of other nodes are; a further one keeps to itself.
    const span = table ? (at === 0 ? this.#spanOf(table) : this.#newSpan(table)) : undefined;
    if (span) this.#line(this.#spanSource(span, slot, seg));
    const [low, high] = span
      ? [span.low, span.high]
      : [
          `segmentTable[${seg} + ${S.nodes}]`,
          `segmentTable[${seg} + ${S.nodes}] + segmentTable[${seg} + ${S.nodeCount}]`,
        ];
    this.#line(
      `let ${n}_at = ${low}; const ${n}_end = ${high}${span ? `, ${n}_mixed = ${span.mixed}` : ''};`,
    );
    this.#line(
      `if (${n}_at >= ${n}_end) continue; fuel -= ${n}_end - ${n}_at; if (fuel < 0) fuel = run.refuel();`,
    );
    if (at === 0) {
      this.#rangeLine = this.#lines.push('') - 1;
      this.#scanned = span;
    }
    this.#line(`for (; ${n}_at < ${n}_end; ${n}_at++) { const ${n} = ${n}_at;`);
    if (table)
      this.#line(`if (${n}_mixed === 1 && ${this.#constant(table)}[nodeKind[${n}]] === 0) continue;`);
    this.#bind(node);
    if (at === 0) this.#tied.add(node.slot);
    this.#conditions('continue;');
    this.#step(at + 1);
    this.#line('} }');
    if (at === 0)
      this.#lines[this.#rangeLine] = this.#ranges
        .filter((other) => other !== span)
        .map((other) => this.#spanSource(other, slot, seg))
        .join('\n');
    this.#scans--;
  }

  /** From the bound end of an edge to the other one, which is not bound. */
  #walk(step: Extract<Step, { kind: 'walk' }>, at: number): void {
    const { reversed } = step;
    const edge = this.#pattern.edges[step.edge]!;
    const start = this.#pattern.nodes[reversed ? edge.to : edge.from]!;
    const end = this.#pattern.nodes[reversed ? edge.from : edge.to]!;
    const codes = this.#codes(edge, reversed);
    const inside = () => this.#step(at + 1);
    if (step.long && this.#tied.has(start.slot) && codes.length === 1 && this.#stays(codes)) {
      const range = this.#rangeOf(end);
      const back = this.#codes(edge, !reversed);
      if (range && step.meet && back.length === 1) {
        this.#tied.add(end.slot);
        this.#meeting(name(start), back[0]!, end, edge, range, inside);
        return;
      }
      if (range) {
        this.#tied.add(end.slot);
        this.#entriesInRange(name(start), codes[0]!, end, edge, range, inside);
        return;
      }
    }
    if (this.#tied.has(start.slot) && this.#stays(codes)) this.#tied.add(end.slot);
    this.#entries(name(start), codes, end, edge, undefined, inside, step.sure);
  }

  /** An edge between two bound nodes. */
  #connect(index: number, at: number): void {
    const edge = this.#pattern.edges[index]!;
    const from = name(this.#pattern.nodes[edge.from]!);
    const to = name(this.#pattern.nodes[edge.to]!);
    const forward = this.#codes(edge, false);
    const backward = this.#codes(edge, true);
    // Look from the side whose list holds every such edge; when both do, from the shorter list.
    const reach = (codes: readonly number[]) => codes.some((code) => this.#options.entered(code));
    const plain = (codes: readonly number[]) => this.#stays(codes);
    const inside = () => this.#step(at + 1);
    if (from !== to && plain(forward) && plain(backward) && forward.length === 1) {
      const [a, b, c] = [this.#fresh('a'), this.#fresh('b'), this.#fresh('c')];
      this.#line(
        `const ${c} = adjStart[${from} + 1] - adjStart[${from}] <= adjStart[${to} + 1] - adjStart[${to}];`,
      );
      this.#line(`const ${a} = ${c} ? ${from} : ${to}; const ${b} = ${c} ? ${to} : ${from};`);
      const code = forward[0] === backward[0] ? String(forward[0]) : this.#fresh('code');
      if (forward[0] !== backward[0]) this.#line(`const ${code} = ${c} ? ${forward[0]} : ${backward[0]};`);
      const i = this.#fresh('i');
      this.#line(`let ${i} = adjStart[${a}]; const ${i}_end = adjStart[${a} + 1]; fuel -= 2;`);
      this.#line(`if (fuel < 0) fuel = run.refuel();`);
      this.#line(`if (${i}_end - ${i} > ${LONG}) ${i} = seek(adjRow, ${i}, ${i}_end, ${code}, ${b});`);
      this.#line(`for (; ${i} < ${i}_end; ${i}++) {`);
      this.#line(`if (adjNode[${i}] !== ${b}) { if (adjCode[${i}] > ${code}) break; continue; }`);
      this.#line(`if (adjCode[${i}] !== ${code}) continue;`);
      this.#edge(edge, `adjEdge[${i}]`);
      this.#conditions('continue;');
      inside();
      this.#line('}');
      return;
    }
    if (reach(forward) && !reach(backward)) this.#entries(to, backward, undefined, edge, from, inside);
    else this.#entries(from, forward, undefined, edge, to, inside);
  }

  /** Whether edges with these codes never join two segments. */
  #stays(codes: readonly number[]): boolean {
    return !codes.some((code) => this.#options.entered(code) || this.#options.leaves(code));
  }

  /** Variables that hold where the nodes that fit stand in the segment that the first scan has come to. */
  #rangeOf(node: PatternNode): Range | undefined {
    const table = this.#options.nodeTable(node);
    if (!table || this.#rangeLine < 0) return undefined;
    const range = this.#spanOf(table);
    if (!this.#ranges.includes(range) && range !== this.#scanned) this.#ranges.push(range);
    return range;
  }

  readonly #spans = new Map<Uint8Array, Range>();

  #spanOf(table: Uint8Array): Range {
    let range = this.#spans.get(table);
    if (!range) {
      range = this.#newSpan(table);
      this.#spans.set(table, range);
    }
    return range;
  }

  #newSpan(table: Uint8Array): Range {
    const [rows, low, high, mixed] = ['rows', 'low', 'high', 'mixed'].map((letter) =>
      this.#fresh(letter),
    ) as [string, string, string, string];
    this.#declared.push(low, high, mixed);
    const spans = this.#constant(spansOf(table));
    this.#heads.push(`let ${rows} = ${spans}.fit(visible.length);`);
    return { table: this.#constant(table), spans, rows, low, high, mixed };
  }

  /** Brings the variables of a range to a segment. */
  #spanSource({ spans, rows, low, high, mixed }: Range, slot: string, seg: string): string {
    const at = `${slot} * ${SPAN_ROW}`;
    return [
      `if (${rows}[${at}] !== segmentTable[${seg} + ${S.version}]) ${rows} = ${spans}.find(${slot}, store);`,
      `${low} = ${rows}[${at} + 1]; ${high} = ${rows}[${at} + 2]; ${mixed} = ${rows}[${at} + 3];`,
    ].join('\n');
  }

  /** Goes through the nodes of a range and looks for the edge to `at` in their lists. */
  #meeting(
    at: string,
    code: number,
    far: PatternNode,
    edge: PatternEdge,
    { table, low, high, mixed }: Range,
    inside: () => void,
  ): void {
    const i = this.#fresh('i');
    const y = name(far);
    this.#line(`for (let ${y}_at = ${low}; ${y}_at < ${high}; ${y}_at++) { const ${y} = ${y}_at;`);
    this.#line(`if (${mixed} === 1 && ${table}[nodeKind[${y}]] === 0) continue;`);
    this.#bind(far);
    this.#line(`let ${i} = adjStart[${y}]; const ${i}_end = adjStart[${y} + 1];`);
    this.#line(`if ((fuel -= 2) < 0) fuel = run.refuel();`);
    this.#line(`for (; ${i} < ${i}_end; ${i}++) {`);
    this.#line(`if (adjCode[${i}] !== ${code}) { if (adjCode[${i}] > ${code}) break; continue; }`);
    this.#line(`if (adjNode[${i}] !== ${at}) continue;`);
    this.#edge(edge, `adjEdge[${i}]`);
    this.#conditions('continue;');
    inside();
    this.#line('} }');
  }

  #entriesInRange(
    at: string,
    code: number,
    far: PatternNode,
    edge: PatternEdge,
    { table, low, high, mixed }: Range,
    inside: () => void,
  ): void {
    const i = this.#fresh('i');
    const y = name(far);
    this.#line(`const ${i}_end = adjStart[${at} + 1];`);
    this.#line(`let ${i} = seek(adjRow, adjStart[${at}], ${i}_end, ${code}, ${low});`);
    this.#line(`if ((fuel -= 8) < 0) fuel = run.refuel();`);
    this.#line(`for (; ${i} < ${i}_end; ${i}++) { const ${y} = adjNode[${i}];`);
    this.#line(`if (${y} >= ${high} || adjCode[${i}] !== ${code}) break; fuel--;`);
    this.#line(`if (${mixed} === 1 && ${table}[nodeKind[${y}]] === 0) continue;`);
    this.#bind(far);
    this.#edge(edge, `adjEdge[${i}]`);
    this.#conditions('continue;');
    inside();
    this.#line('}');
  }

  /**
   * Loops over the edges at `at` with one of `codes`. The other end is the new node `far`, or has to be the bound
   * `known`.
   */
  #entries(
    at: string,
    codes: readonly number[],
    far: PatternNode | undefined,
    pattern: PatternEdge,
    known: string | undefined,
    inside: () => void,
    sure = false,
  ): void {
    if (codes.length === 0) return;
    const i = this.#fresh('i');
    const y = far ? name(far) : this.#fresh('y');
    const found = (edge: string) => {
      // What is likely to fail and cheap to see comes first.
      if (far) {
        if (!sure) this.#tests(far, 'continue;');
        this.#bind(far);
      }
      this.#edge(pattern, edge);
      this.#conditions('continue;');
      inside();
    };
    const leaves = codes.some((code) => this.#options.leaves(code));
    const entered = codes.some((code) => this.#options.entered(code));
    const single = codes.length === 1 ? String(codes[0]) : undefined;
    const table = single ? '' : this.#constant(this.#codeTable(codes));
    this.#line(`let ${i} = adjStart[${at}]; const ${i}_end = adjStart[${at} + 1];`);
    this.#line(`fuel -= ${i}_end - ${i} + 1; if (fuel < 0) fuel = run.refuel();`);
    if (single)
      this.#line(
        `if (${i}_end - ${i} > ${LONG}) ${i} = seek(adjRow, ${i}, ${i}_end, ${single}, -2147483648);`,
      );
    const loops = this.#loopCodes(codes);
    const resolve = leaves
      ? `if (${y} < 0) { ${y} = handleNode[~${y}]; if (${y} < 0 || visible[nodeSegment[${y}]] !== 1) continue; }`
      : '';
    const hit = known ? `if (${y} !== ${known}) continue;` : '';
    const declare = leaves ? 'let' : 'const';
    if (!entered) {
      this.#line(`for (; ${i} < ${i}_end; ${i}++) {`);
      if (single)
        this.#line(`if (adjCode[${i}] !== ${single}) { if (adjCode[${i}] > ${single}) break; continue; }`);
      else this.#line(`if (${table}[adjCode[${i}]] !== 1) continue;`);
      const raw = known === undefined ? undefined : this.#raw.get(known);
      if (leaves && raw) {
        // The same handle is the same node; two handles are two.
        this.#line(`let ${y} = adjNode[${i}]; if (${y} !== ${raw}) { if ((${y} & ${raw}) < 0) continue;`);
        this.#line(`${resolve} ${hit} }`);
      } else if (leaves && far) {
        const reference = this.#fresh('raw');
        this.#raw.set(y, reference);
        this.#line(`const ${reference} = adjNode[${i}]; let ${y} = ${reference}; ${resolve} ${hit}`);
      } else this.#line(`${declare} ${y} = adjNode[${i}]; ${resolve} ${hit}`);
      if (loops) this.#line(`if (${y} === ${at} && ${loops}[adjCode[${i}]] === 1) continue;`);
      found(`adjEdge[${i}]`);
      this.#line('}');
      return;
    }
    // Entries of the node's own list first, then the edges of other segments that point to its handle.
    const [c, p, h, seg, edge] = ['c', 'p', 'h', 'seg', 'e'].map((letter) => this.#fresh(letter)) as [
      string,
      string,
      string,
      string,
      string,
    ];
    const ports = this.#constant(this.#codeTable(codes));
    const sets = far && this.#options.setTable(far);
    this.#line(`let ${c} = -1, ${p} = -1; { const ${seg} = nodeSegment[${at}] * ${SEGMENT_ROW};`);
    this.#line(`const ${h}x = segmentTable[${seg} + ${S.exports}]; if (${h}x >= 0) {`);
    this.#line(`const ${h} = exportHandle[${h}x + ${at} - segmentTable[${seg} + ${S.nodes}]];`);
    this.#line(`if (${h} >= 0) ${p} = handlePort[${h}]; } }`);
    this.#line(`for (;;) { let ${y}, ${edge};`);
    this.#line(`if (${i} < ${i}_end) { const ${i}_code = adjCode[${i}];`);
    this.#line(
      single
        ? `if (${i}_code !== ${single}) { ${i} = ${i}_code > ${single} ? ${i}_end : ${i} + 1; continue; }`
        : `if (${table}[${i}_code] !== 1) { ${i}++; continue; }`,
    );
    this.#line(`${y} = adjNode[${i}]; ${edge} = adjEdge[${i}]; ${i}++;`);
    if (loops) this.#line(`if (${y} === ${at} && ${loops}[${i}_code] === 1) continue;`);
    this.#line(`} else if (${c} >= 0) { const x = crossingEdge[${c}]; ${edge} = x >> 1;`);
    this.#line(`if (--fuel < 0) fuel = run.refuel();`);
    this.#line(`const ${c}_owner = crossingSegment[${c}]; ${c} = crossingNext[${c}];`);
    this.#line(`if (visible[${c}_owner] !== 1) continue;`);
    this.#line(`${y} = (x & 1) === 1 ? edgeSource[${edge}] : edgeTarget[${edge}];`);
    this.#line(`} else if (${p} >= 0) {`);
    const fits = sets ? ` && (portSet[${p}] < 0 || ${this.#constant(sets)}[portSet[${p}]] !== 0)` : '';
    this.#line(`if (${ports}[portCode[${p}]] === 1${fits}) ${c} = portFirst[${p}];`);
    this.#line(`${p} = portNext[${p}]; if (--fuel < 0) fuel = run.refuel(); continue;`);
    this.#line(`} else break;`);
    this.#line(
      `if (${y} < 0) { ${y} = handleNode[~${y}]; if (${y} < 0 || visible[nodeSegment[${y}]] !== 1) continue; } ${hit}`,
    );
    found(edge);
    this.#line('}');
  }

  /** Binds an edge, or checks it against the binding that its variable has already. */
  #edge(edge: PatternEdge, found: string): void {
    if (this.#bound.has(edge.slot)) {
      this.#line(`if (${found} !== ${name(edge)}) continue;`);
      return;
    }
    this.#line(`const ${name(edge)} = ${found};`);
    this.#bind(edge);
  }

  /** Notes a new binding and checks that it is distinct; the code around it is a loop, so failing is `continue`. */
  #bind(element: PatternNode | PatternEdge): void {
    const before = [...this.#bound].map((slot) => this.#bySlot.get(slot)!);
    this.#bound.add(element.slot);
    this.#distinct(element.slot, 'continue;', before);
  }

  #distinct(slot: number, fail: string, before: readonly (PatternNode | PatternEdge | undefined)[]): void {
    const element = this.#bySlot.get(slot)!;
    for (const other of before) {
      if (!other || other.slot === slot || !this.#mustDiffer(slot, other.slot)) continue;
      if (element.kind === 'node' && other.kind === 'node' && this.#cannotBeOne(element, other)) continue;
      if (element.kind === 'edge' && other.kind === 'edge' && this.#differAnyway(element, other)) continue;
      this.#line(`if (${name(element)} === ${name(other)}) ${fail}`);
    }
  }

  #mustDiffer(slot: number, other: number): boolean {
    return this.#pattern.distinct.some(
      ({ a, b }) => (a === slot && b === other) || (b === slot && a === other),
    );
  }

  /** No kind fits both. */
  #cannotBeOne(a: PatternNode, b: PatternNode): boolean {
    const [x, y] = [this.#options.nodeTable(a), this.#options.nodeTable(b)];
    return x !== undefined && y !== undefined && !x.some((fits, kind) => fits !== 0 && y[kind] !== 0);
  }

  /** Two edge patterns whose labels, or whose ends, keep them apart without looking. */
  #differAnyway(a: PatternEdge, b: PatternEdge): boolean {
    if (!this.#pattern.edges.includes(a) || !this.#pattern.edges.includes(b)) return false;
    const [x, y] = [this.#options.edgeTable(a), this.#options.edgeTable(b)];
    if (!x.some((fits, label) => fits === 1 && y[label] === 1)) return true;
    const ends = ({ from, to }: PatternEdge) => [from, to].map((n) => this.#pattern.nodes[n]!);
    const apart = (node: PatternNode, others: readonly PatternNode[]) =>
      others.every(
        (other) =>
          other.slot !== node.slot &&
          (this.#mustDiffer(node.slot, other.slot) || this.#cannotBeOne(node, other)),
      );
    return ends(a).some((node) => apart(node, ends(b))) || ends(b).some((node) => apart(node, ends(a)));
  }

  #tests(element: PatternNode | PatternEdge, fail: string): void {
    if (element.kind === 'edge') return;
    const table = this.#options.nodeTable(element);
    if (table) this.#line(`if (${this.#constant(table)}[nodeKind[${name(element)}]] === 0) ${fail}`);
  }

  /** Conditions whose slots are all bound by now. */
  #conditions(fail: string): void {
    for (const condition of this.#pattern.conditions) {
      if (this.#checked.has(condition) || !condition.slots.every((slot) => this.#bound.has(slot))) continue;
      this.#checked.add(condition);
      if (this.#inPlace(condition, fail)) continue;
      const emitted = condition.emit?.({
        element: (slot) => {
          const element = this.#bySlot.get(slot);
          return element && this.#bound.has(slot) ? name(element) : this.#outerElement(slot);
        },
        constant: (value) => this.#constant(value),
        fresh: () => {
          const variable = this.#fresh('v');
          this.#declared.push(variable);
          return variable;
        },
      });
      if (emitted) {
        this.#line(`if (!(${emitted})) ${fail}`);
        continue;
      }
      this.#store(condition.slots);
      this.#line(
        `run.fuel = fuel - 1; if (!${this.#constant(condition.test)}(run)) ${fail} fuel = run.fuel;`,
      );
    }
  }

  /** What an earlier clause has bound, read once. */
  #outerElement(slot: number): string {
    const variable = `o${slot}`;
    const line = `const ${variable} = row[${slot}];`;
    if (!this.#outer.includes(line)) this.#outer.push(line);
    return variable;
  }

  #codes(edge: PatternEdge, reversed: boolean): number[] {
    const table = this.#options.edgeTable(edge);
    return adjacencyCodes(edge.directions, table, reversed);
  }

  #codeTable(codes: readonly number[]): Uint8Array {
    const table = new Uint8Array(this.#options.codes);
    for (const code of codes) table[code] = 1;
    return table;
  }

  /** A directed loop stands twice in its node's list; walked in any direction it still is one edge. */
  #loopCodes(codes: readonly number[]): string | undefined {
    const twice = codes.filter((code) => code % 3 === IN && codes.includes(code - IN + OUT));
    return twice.length > 0 ? this.#constant(this.#codeTable(twice)) : undefined;
  }
}

function name(element: PatternNode | PatternEdge): string {
  return `${element.kind === 'node' ? 'n' : 'e'}${element.slot}`;
}

function restore<T>(set: Set<T>, to: ReadonlySet<T>): void {
  for (const item of set) if (!to.has(item)) set.delete(item);
}
