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

const COLUMNS = [
  'nodeKind',
  'adjStart',
  'adjNode',
  'adjEdge',
  'edgeSource',
  'edgeTarget',
  'edgeKind',
  'nodeRecord',
  'edgeRecord',
  'nodeSegment',
  'runKind',
  'runStart',
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
  const make = new Function('binding', 'constants', 'seek', 'counter', body) as (
    binding: Binding,
    constants: readonly unknown[],
    seek: typeof seekEntry,
    counter: Float64Array,
  ) => (from: number, to: number) => boolean;
  return (binding) => make(binding, writer.constants, seekEntry, COUNTER);
}

/** Matches that counting stages have found; read and set by the caller around a run. */
export const COUNTER = new Float64Array(1);

/** First entry in `start .. end` whose code is at least `code` and, there, whose neighbour is at least `node`. */
function seekEntry(
  codes: Uint16Array,
  nodes: Int32Array,
  start: number,
  end: number,
  code: number,
  node: number,
): number {
  let low = start;
  let high = end;
  while (low < high) {
    const middle = (low + high) >>> 1;
    const c = codes[middle]!;
    if (c < code || (c === code && nodes[middle]! < node)) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Lists longer than this are entered by binary search. */
const LONG = 16;

class Writer {
  readonly constants: unknown[] = [];
  readonly #pattern: Pattern;
  readonly #steps: readonly Step[];
  readonly #options: GenerateOptions;
  readonly #lines: string[] = [];
  readonly #bySlot = new Map<number, PatternNode | PatternEdge>();
  readonly #bound = new Set<number>();
  readonly #stored = new Set<number>();
  readonly #checked = new Set<Condition>();
  readonly #labels = { n: 0 };
  #scans = 0;
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
    const used = this.#lines.join('\n');
    const head = [
      `const { run, store, visible, scans, next } = binding; const row = run.row;`,
      ...this.constants.map((_, i) => `const k${i} = constants[${i}];`),
      `return function stage(from, to) {`,
      ...COLUMNS.filter((c) => new RegExp(`\\b${c}\\b`).test(used)).map(
        (c) => `const ${c} = store.${c}.view;`,
      ),
      used.includes('adjCode') ? `const adjCode = store.adjCode.view;` : '',
      /\bwords\b/.test(used) ? `const words = store.records.words;` : '',
      /\bdoubles\b/.test(used) ? `const doubles = store.records.doubles;` : '',
      `let fuel = run.fuel;`,
      this.#declared.length > 0 ? `let ${this.#declared.map((v) => `${v} = 0`).join(', ')};` : '',
      this.#options.counting ? 'let count = 0;' : '',
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
    if (this.#options.trace && at > 0) this.#line(`${this.#constant(this.#options.trace)}[${at - 1}]++;`);
    const step = this.#steps[at];
    if (!step) {
      this.#leaf();
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
        this.#walk(step.edge, step.reversed, at);
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
    const [list, s, seg, r] = [this.#fresh('list'), this.#fresh('s'), this.#fresh('seg'), this.#fresh('r')];
    this.#line(`const ${list} = scans[${scan}];`);
    const range = at === 0 ? [`from`, `to`] : ['0', `${list}.length`];
    this.#line(`for (let ${s} = ${range[0]}; ${s} < ${range[1]}; ${s}++) {`);
    this.#line(`const ${seg} = ${list}[${s}] * ${SEGMENT_ROW}; let ${r} = segmentTable[${seg} + ${S.runs}];`);
    this.#line(
      `for (const ${r}_end = ${r} + segmentTable[${seg} + ${S.runCount}]; ${r} < ${r}_end; ${r}++) {`,
    );
    if (table) this.#line(`if (${this.#constant(table)}[runKind[${r}]] === 0) continue;`);
    this.#line(`const ${n}_end = runStart[${r} + 1]; let ${n}_at = runStart[${r}];`);
    this.#line(`fuel -= ${n}_end - ${n}_at; if (fuel < 0) fuel = run.refuel();`);
    this.#line(`for (; ${n}_at < ${n}_end; ${n}_at++) { const ${n} = ${n}_at;`);
    this.#bind(node, false);
    this.#step(at + 1);
    this.#line('} } }');
    this.#scans--;
  }

  /** From the bound end of an edge to the other one, which is not bound. */
  #walk(index: number, reversed: boolean, at: number): void {
    const edge = this.#pattern.edges[index]!;
    const start = this.#pattern.nodes[reversed ? edge.to : edge.from]!;
    const end = this.#pattern.nodes[reversed ? edge.from : edge.to]!;
    const codes = this.#codes(edge, reversed);
    this.#entries(name(start), codes, name(end), edge, undefined, end, () => {
      this.#bind(end, true);
      this.#step(at + 1);
    });
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
    const plain = (codes: readonly number[]) =>
      !codes.some((code) => this.#options.entered(code) || this.#options.leaves(code));
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
      this.#line(
        `if (${i}_end - ${i} > ${LONG}) ${i} = seek(adjCode, adjNode, ${i}, ${i}_end, ${code}, ${b});`,
      );
      this.#line(`for (; ${i} < ${i}_end; ${i}++) {`);
      this.#line(`if (adjNode[${i}] !== ${b}) { if (adjCode[${i}] > ${code}) break; continue; }`);
      this.#line(`if (adjCode[${i}] !== ${code}) continue;`);
      this.#edge(edge, `adjEdge[${i}]`);
      inside();
      this.#line('}');
      return;
    }
    if (reach(forward) && !reach(backward))
      this.#entries(to, backward, undefined, edge, from, undefined, inside);
    else this.#entries(from, forward, undefined, edge, to, undefined, inside);
  }

  /**
   * Loops over the edges at `at` with one of `codes`. The other end goes to the new variable `other`, or has to be
   * `known`.
   */
  #entries(
    at: string,
    codes: readonly number[],
    other: string | undefined,
    pattern: PatternEdge,
    known: string | undefined,
    far: PatternNode | undefined,
    inside: () => void,
  ): void {
    if (codes.length === 0) return;
    const i = this.#fresh('i');
    const y = other ?? this.#fresh('y');
    const leaves = codes.some((code) => this.#options.leaves(code));
    const entered = codes.some((code) => this.#options.entered(code));
    const single = codes.length === 1 ? String(codes[0]) : undefined;
    const table = single ? '' : this.#constant(this.#codeTable(codes));
    this.#line(`let ${i} = adjStart[${at}]; const ${i}_end = adjStart[${at} + 1];`);
    this.#line(`fuel -= ${i}_end - ${i} + 1; if (fuel < 0) fuel = run.refuel();`);
    if (single)
      this.#line(
        `if (${i}_end - ${i} > ${LONG}) ${i} = seek(adjCode, adjNode, ${i}, ${i}_end, ${single}, -2147483648);`,
      );
    const loops = this.#loopCodes(codes);
    const resolve = leaves
      ? `if (${y} < 0) { ${y} = handleNode[~${y}]; if (${y} < 0 || visible[nodeSegment[${y}]] === 0) continue; }`
      : '';
    const hit = known ? `if (${y} !== ${known}) continue;` : '';
    const declare = leaves ? 'let' : 'const';
    if (!entered) {
      this.#line(`for (; ${i} < ${i}_end; ${i}++) {`);
      if (single)
        this.#line(`if (adjCode[${i}] !== ${single}) { if (adjCode[${i}] > ${single}) break; continue; }`);
      else this.#line(`if (${table}[adjCode[${i}]] !== 1) continue;`);
      this.#line(`${declare} ${y} = adjNode[${i}]; ${resolve} ${hit}`);
      if (loops) this.#line(`if (${y} === ${at} && ${loops}[adjCode[${i}]] === 1) continue;`);
      this.#edge(pattern, `adjEdge[${i}]`);
      inside();
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
    this.#line(`if (visible[${c}_owner] === 0) continue;`);
    this.#line(`${y} = (x & 1) === 1 ? edgeSource[${edge}] : edgeTarget[${edge}];`);
    this.#line(`} else if (${p} >= 0) {`);
    const fits = sets ? ` && (portSet[${p}] < 0 || ${this.#constant(sets)}[portSet[${p}]] !== 0)` : '';
    this.#line(`if (${ports}[portCode[${p}]] === 1${fits}) ${c} = portFirst[${p}];`);
    this.#line(`${p} = portNext[${p}]; if (--fuel < 0) fuel = run.refuel(); continue;`);
    this.#line(`} else break;`);
    this.#line(
      `if (${y} < 0) { ${y} = handleNode[~${y}]; if (${y} < 0 || visible[nodeSegment[${y}]] === 0) continue; } ${hit}`,
    );
    this.#edge(pattern, edge);
    inside();
    this.#line('}');
  }

  /** Binds an edge, or checks it against the binding that its variable has already. */
  #edge(edge: PatternEdge, found: string): void {
    if (this.#bound.has(edge.slot)) {
      this.#line(`if (${found} !== ${name(edge)}) continue;`);
      return;
    }
    this.#line(`const ${name(edge)} = ${found};`);
    this.#bind(edge, false);
  }

  /** Tests and distinctness of a new binding; the code around it is a loop, so failing means `continue`. */
  #bind(element: PatternNode | PatternEdge, test: boolean): void {
    const before = [...this.#bound].map((slot) => this.#bySlot.get(slot)!);
    this.#bound.add(element.slot);
    this.#distinct(element.slot, 'continue;', before);
    if (test) this.#tests(element, 'continue;');
    this.#conditions('continue;');
  }

  #distinct(slot: number, fail: string, before: readonly (PatternNode | PatternEdge)[]): void {
    for (const other of before) {
      if (other.slot === slot) continue;
      const needed = this.#pattern.distinct.some(
        ({ a, b }) => (a === slot && b === other.slot) || (b === slot && a === other.slot),
      );
      if (needed) this.#line(`if (${name(this.#bySlot.get(slot)!)} === ${name(other)}) ${fail}`);
    }
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
      const emitted = condition.emit?.({
        element: (slot) => {
          const element = this.#bySlot.get(slot);
          return element && this.#bound.has(slot) ? name(element) : `row[${slot}]`;
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
