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
import type { Condition, Pattern, PatternEdge, PatternNode } from '../plan/pattern.ts';
import type { Step } from '../plan/step.ts';
import type { Entering } from '../storage/entering.ts';
import { S, SEGMENT_ROW, type Store } from '../storage/store.ts';
import { seekEntry } from './adjacency-search.ts';
import { type GenerateOptions, nameOf, restore } from './code-state.ts';
import { COLUMNS, placed } from './code-words.ts';
import { EdgeLoops, LONG } from './edge-loops.ts';
import { Memory } from './kept-tails.ts';
import type { Run } from './stage.ts';

/** What generated code is bound to for one run. */
export interface Binding {
  readonly run: Run;
  readonly store: Store;
  /** Per segment row, 1 when the query may see the segment, 2 when it may see the nodes that roam. */
  readonly visible: Uint8Array;
  /** Per node kind, 1 for nodes that roam. */
  readonly roams: Uint8Array;
  /** Nodes of other segments that scans may find. */
  readonly near: ReadonlySet<number>;
  readonly entering: Entering;
  /** Segments (rows) that each scan goes through. */
  readonly scans: readonly Int32Array[];
  readonly next: () => boolean;
}

/**
 * A generated stage. When the first step is a scan, `from` and `to` bound the part of `scans[0]` to go through.
 * With `counting` the code calls nothing at a match, and adds to `counter[0]` instead.
 */
export type Generated = (binding: Binding) => (from: number, to: number) => boolean;

/** Compiles the steps of one clause. */
export function generate(pattern: Pattern, steps: readonly Step[], options: GenerateOptions): Generated {
  const writer = new Writer(pattern, steps, options);
  const body = writer.write();
  const make = made(body);
  return (binding) => make(binding, writer.constants, seekEntry, COUNTER, () => new Memory());
}

type Make = (
  binding: Binding,
  constants: readonly unknown[],
  seek: typeof seekEntry,
  counter: Float64Array,
  memory: () => Memory,
) => (from: number, to: number) => boolean;

/** Functions by their text: what differs between two graphs is mostly in the constants. The oldest go first. */
const makers = new Map<string, Make>();
const KEPT = 500;

function made(body: string): Make {
  let make = makers.get(body);
  // The text holds only what this file wrote; see above. It is the point of this module.
  make ??= new Function('binding', 'constants', 'seek', 'counter', 'memory', body) as Make;
  makers.delete(body);
  makers.set(body, make);
  if (makers.size > KEPT) makers.delete(makers.keys().next().value!);
  return make;
}

/** Matches that counting stages have found; read and set by the caller around a run. */
export const COUNTER = new Float64Array(1);

const COLUMNS_USED = COLUMNS.map((column) => [column, new RegExp(`\\b${column}\\b`)] as const);

class Writer extends EdgeLoops {
  write(): string {
    const before = [...this.bySlot.values()].filter((element) => element.bound);
    for (const element of before) {
      this.line(`const ${nameOf(element)} = row[${element.slot}];`);
      // A null element, left by an optional clause, matches nothing.
      this.line(`if (${nameOf(element)} < 0) return true;`);
      this.bound.add(element.slot);
      this.stored.add(element.slot);
    }
    const fail = '{ run.fuel = fuel; return true; }';
    for (const element of before) {
      this.tests(element, fail);
      this.distinct(element.slot, fail, before);
    }
    this.conditions(fail);
    this.step(0);
    const used = placed(this.lines.join('\n'));
    const head = [
      `const { run, store, visible, roams, near, entering, scans, next } = binding; const row = run.row;`,
      `const none = [];`,
      ...this.constants.map((_, i) => `const k${i} = constants[${i}];`),
      ...this.memos,
      `return function stage(from, to) {`,
      ...COLUMNS_USED.flatMap(([c, isUsed]) => (isUsed.test(used) ? [`const ${c} = store.${c}.view;`] : [])),
      /\bwords\b/.test(used) ? `const words = store.records.words;` : '',
      /\bdoubles\b/.test(used) ? `const doubles = store.records.doubles;` : '',
      `let fuel = run.fuel;`,
      ...this.heads,
      this.declared.length > 0 ? `let ${this.declared.map((v) => `${v} = 0`).join(', ')};` : '',
      this.options.counting ? 'let count = 0;' : '',
      ...this.outer,
    ];
    // What has been counted is told also when the search ends early.
    const [begin, done] = this.options.counting ? ['try {', '} finally { counter[0] += count; }'] : ['', ''];
    return [...head, begin, used, 'run.fuel = fuel; return true;', done, '};'].join('\n');
  }

  protected step(at: number): void {
    if (this.options.trace && at > 0 && !this.end)
      this.line(`${this.constant(this.options.trace)}[${at - 1}]++;`);
    const step = this.steps[at];
    if (!step) {
      if (this.end) this.end();
      else this.leaf();
      return;
    }
    if (at === this.options.keepFrom && !this.end && !this.options.trace) {
      this.kept(at);
      return;
    }
    const bound = new Set(this.bound);
    const stored = new Set(this.stored);
    const checked = new Set(this.checked);
    switch (step.kind) {
      case 'scan':
        this.scan(step, at);
        break;
      case 'walk':
        this.walk(step, at);
        break;
      case 'connect':
        this.connect(step.edge, at);
        break;
      default:
        step satisfies never;
    }
    restore(this.bound, bound);
    restore(this.stored, stored);
    restore(this.checked, checked);
  }

  /**
   * The steps from `at` on depend on a single node. What they find is kept in a list of tuples, so that it is found
   * once for each such node; conditions and distinctness that reach beyond are checked for every tuple taken from
   * there.
   */
  protected kept(at: number): void {
    const step = this.steps[at] as Extract<Step, { kind: 'walk' }>;
    const { from, to } = this.pattern.edges[step.edge]!;
    const start = this.pattern.nodes[step.reversed ? to : from]!;
    const outer = {
      bound: new Set(this.bound),
      stored: new Set(this.stored),
      checked: new Set(this.checked),
    };
    const [memo, begin, end, t] = ['memo', 'begin', 'end', 't'].map((letter) => this.fresh(letter)) as [
      string,
      string,
      string,
      string,
    ];
    this.memos.push(`const ${memo} = memory();`);
    this.line(`let ${begin} = ${memo}.first.get(${nameOf(start)}), ${end} = 0;`);
    this.line(`if (${begin} === undefined) { ${begin} = ${memo}.start(${nameOf(start)});`);
    // Inside, only the start is known.
    restore(this.bound, new Set([start.slot]));
    this.bound.add(start.slot);
    const tied = this.rangeLine;
    this.rangeLine = -1;
    const tuple: (PatternNode | PatternEdge)[] = [];
    this.end = () => {
      tuple.push(
        ...[...this.bound].filter((slot) => slot !== start.slot).map((slot) => this.bySlot.get(slot)!),
      );
      this.line(`${memo}.room(${tuple.length}, run);`);
      for (const element of tuple) this.line(`${memo}.tuples[${memo}.length++] = ${nameOf(element)};`);
    };
    const insideChecked = new Set(this.checked);
    this.walk(step, at);
    this.end = undefined;
    this.rangeLine = tied;
    this.line(`${memo}.finish(${nameOf(start)}); }`);
    this.line(`${end} = ${memo}.last.get(${nameOf(start)});`);
    this.line(`fuel -= ${end} - ${begin} + 1; if (fuel < 0) fuel = run.refuel();`);
    this.line(`for (let ${t} = ${begin}; ${t} < ${end}; ${t} += ${tuple.length}) {`);
    tuple.forEach((element, i) => {
      this.line(`const ${nameOf(element)} = ${memo}.tuples[${t}${i > 0 ? ` + ${i}` : ''}];`);
    });
    restore(this.bound, new Set());
    for (const slot of outer.bound) this.bound.add(slot);
    restore(this.stored, outer.stored);
    // Whatever was checked inside reads the tuple and its start alone; the rest follows here.
    restore(this.checked, insideChecked);
    for (const condition of this.pattern.conditions)
      if (this.withinTuple(condition, tuple, start)) this.checked.add(condition);
    for (const element of tuple) {
      const before = [...this.bound].map((slot) => this.bySlot.get(slot)!);
      this.bound.add(element.slot);
      // The elements of a tuple have already been compared with one another.
      const others = before.filter((other) => other === start || !tuple.includes(other));
      this.distinct(
        element.slot,
        'continue;',
        others.filter((other) => other !== start),
      );
    }
    this.conditions('continue;');
    this.leaf();
    this.line('}');
    restore(this.bound, outer.bound);
    restore(this.stored, outer.stored);
    restore(this.checked, outer.checked);
  }

  protected withinTuple(
    { slots }: Condition,
    tuple: readonly (PatternNode | PatternEdge)[],
    start: PatternNode,
  ): boolean {
    return (
      slots.some((slot) => tuple.some((element) => element.slot === slot)) &&
      slots.every((slot) => slot === start.slot || tuple.some((element) => element.slot === slot))
    );
  }

  protected leaf(): void {
    if (this.options.counting) {
      this.line('count++;');
      return;
    }
    this.store([...this.bound]);
    this.line('run.fuel = fuel; if (!next()) return false; fuel = run.fuel;');
  }

  protected scan({ node: index, list: asked }: Extract<Step, { kind: 'scan' }>, at: number): void {
    const node = this.pattern.nodes[index]!;
    const table = this.nodeTable(node);
    const n = nameOf(node);
    const scan = this.scans++;
    const [list, s, seg, slot] = ['list', 's', 'seg', 'slot'].map((letter) => this.fresh(letter)) as [
      string,
      string,
      string,
      string,
    ];
    this.line(`const ${list} = scans[${scan}];`);
    const [begin, end] = at === 0 ? [`from`, `to`] : ['0', `${list}.length`];
    this.line(`for (let ${s} = ${begin}; ${s} < ${end}; ${s}++) {`);
    this.line(`const ${slot} = ${list}[${s}], ${seg} = ${slot} * ${SEGMENT_ROW};`);
    // Only the first scan sets the ranges of other nodes; further scans do not.
    const newRange = () => (asked ? this.newListSpan(asked, table) : table && this.newSpan(table));
    const firstRange = () => (asked ? this.listSpanOf(asked, table) : table && this.spanOf(table));
    const roams = this.options.mayRoam(node);
    // Other segments are gone through for what is near in them alone.
    if (this.options.isAlone && !roams) this.line(`if (visible[${slot}] === 2) continue;`);
    const range = at === 0 ? firstRange() : newRange();
    if (range) this.line(this.spanSource(range, slot, seg));
    if (at === 0) {
      this.rangeLine = this.lines.push('') - 1;
      this.scanned = range;
    }
    const inside = () => {
      if (roams) this.line(`if (visible[${slot}] === 2 && !near.has(${n})) continue;`);
      if (asked) this.passed(asked, node);
      this.bind(node);
      if (at === 0) this.tied.add(node.slot);
      this.conditions('continue;');
      this.step(at + 1);
    };
    if (range) this.nodesOf(range, n, inside);
    else {
      const first = `segmentTable[${seg} + ${S.nodes}]`;
      this.line(`const ${n}_low = ${first}, ${n}_high = ${first} + segmentTable[${seg} + ${S.nodeCount}];`);
      this.line(`fuel -= ${n}_high - ${n}_low; if (fuel < 0) fuel = run.refuel();`);
      this.line(`for (let ${n}_at = ${n}_low; ${n}_at < ${n}_high; ${n}_at++) { const ${n} = ${n}_at;`);
      inside();
      this.line('}');
    }
    this.line('}');
    if (at === 0)
      this.lines[this.rangeLine] = this.ranges
        .filter((other) => other.at !== range?.at)
        .map((other) => this.spanSource(other, slot, seg))
        .join('\n');
    this.scans--;
  }

  /** From the bound end of an edge to the other one, which is not bound. */
  protected walk(step: Extract<Step, { kind: 'walk' }>, at: number): void {
    const { reversed } = step;
    const edge = this.pattern.edges[step.edge]!;
    const start = this.pattern.nodes[reversed ? edge.to : edge.from]!;
    const end = this.pattern.nodes[reversed ? edge.from : edge.to]!;
    const codes = this.codes(edge, reversed);
    const inside = () => {
      // From a node that roams, what is inside its segment lies one step away.
      if (this.options.mayRoam(start)) {
        const y = nameOf(end);
        this.line(`if (visible[nodeSegment[${y}]] === 2 && roams[nodeKind[${y}]] !== 1) continue;`);
      }
      this.step(at + 1);
    };
    if ((step.long || step.meet) && this.tied.has(start.slot) && codes.length === 1 && this.stays(codes)) {
      const back = this.codes(edge, !reversed);
      const list = step.meet && step.list && back.length === 1 ? this.listOf(step.list, end) : undefined;
      if (list) {
        this.tied.add(end.slot);
        this.passed(step.list!, end);
        this.meeting(nameOf(start), back[0]!, end, edge, list, inside);
        return;
      }
      const range = this.rangeOf(end);
      if (range && step.meet && back.length === 1) {
        this.tied.add(end.slot);
        this.meeting(nameOf(start), back[0]!, end, edge, range, inside);
        return;
      }
      if (range) {
        this.tied.add(end.slot);
        this.entriesInRange(nameOf(start), codes[0]!, end, edge, range, inside);
        return;
      }
    }
    if (this.tied.has(start.slot) && this.stays(codes)) this.tied.add(end.slot);
    this.entries(nameOf(start), codes, end, edge, undefined, inside, step.sure);
  }

  /** An edge between two bound nodes. */
  protected connect(index: number, at: number): void {
    const edge = this.pattern.edges[index]!;
    const from = nameOf(this.pattern.nodes[edge.from]!);
    const to = nameOf(this.pattern.nodes[edge.to]!);
    const forward = this.codes(edge, false);
    const backward = this.codes(edge, true);
    // Look from the side whose list holds every such edge; when both do, from the shorter list.
    const reach = (codes: readonly number[]) => codes.some((code) => this.options.entered(code));
    const plain = (codes: readonly number[]) => this.stays(codes);
    const inside = () => this.step(at + 1);
    if (from !== to && plain(forward) && plain(backward) && forward.length === 1) {
      const [a, b, c] = [this.fresh('a'), this.fresh('b'), this.fresh('c')];
      this.line(
        `const ${c} = adjStart[${from} + 1] - adjStart[${from}] <= adjStart[${to} + 1] - adjStart[${to}];`,
      );
      this.line(`const ${a} = ${c} ? ${from} : ${to}; const ${b} = ${c} ? ${to} : ${from};`);
      const code = forward[0] === backward[0] ? String(forward[0]) : this.fresh('code');
      if (forward[0] !== backward[0]) this.line(`const ${code} = ${c} ? ${forward[0]} : ${backward[0]};`);
      const i = this.fresh('i');
      this.line(`let ${i} = adjStart[${a}]; const ${i}_end = adjStart[${a} + 1]; fuel -= 2;`);
      this.line(`if (fuel < 0) fuel = run.refuel();`);
      this.line(`if (${i}_end - ${i} > ${LONG}) ${i} = seek(adjRow, ${i}, ${i}_end, ${code}, ${b});`);
      this.line(`for (; ${i} < ${i}_end; ${i}++) {`);
      this.line(`if (adjNode[${i}] !== ${b}) { if (adjCode[${i}] > ${code}) break; continue; }`);
      this.line(`if (adjCode[${i}] !== ${code}) continue;`);
      this.edge(edge, `adjEdge[${i}]`);
      this.conditions('continue;');
      inside();
      this.line('}');
      return;
    }
    if (reach(forward) && !reach(backward)) this.entries(to, backward, undefined, edge, from, inside);
    else this.entries(from, forward, undefined, edge, to, inside);
  }
}
