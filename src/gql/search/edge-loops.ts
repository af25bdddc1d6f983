/**
 * The loops over edges: through a node's list, through the part of it that leads to one label, from the far side, and
 * through the edges that other segments point to a node.
 */
import type { PatternEdge, PatternNode } from '../plan/pattern.ts';
import type { ValueAsked } from '../plan/step.ts';
import { S, SEGMENT_ROW } from '../storage/store.ts';
import { CodeState, nameOf, type Range } from './code-state.ts';
import { labelRangesOf, MIXED, RANGE_ROW } from './label-ranges.ts';
import { LIST_ROW } from './value-lists.ts';

/** Lists longer than this are entered by binary search. */
export const LONG = 16;

export abstract class EdgeLoops extends CodeState {
  /** Variables with the places of matching nodes in the current segment of the first scan. */
  protected rangeOf(node: PatternNode): Range | undefined {
    const table = this.nodeTable(node);
    if (!table || this.rangeLine < 0) return undefined;
    const range = this.spanOf(table);
    if (!this.ranges.includes(range) && range !== this.scanned) this.ranges.push(range);
    return range;
  }

  protected readonly spans = new Map<Uint8Array, Range>();

  protected spanOf(table: Uint8Array): Range {
    let range = this.spans.get(table);
    if (!range) {
      range = this.newSpan(table);
      this.spans.set(table, range);
    }
    return range;
  }

  protected newSpan(table: Uint8Array): Range {
    const [rows, at] = [this.fresh('rows'), this.fresh('at')];
    this.declared.push(at);
    const spans = this.constant(labelRangesOf(table));
    this.heads.push(`let ${rows} = ${spans}.fit(visible.length);`);
    return { table: this.constant(table), spans, rows, at };
  }

  /** Variables with the places of the nodes with a value in the current segment of the first scan. */
  protected listOf(asked: ValueAsked, node: PatternNode): Range | undefined {
    if (this.rangeLine < 0) return undefined;
    const list = this.listSpanOf(asked, this.options.nodeTable(node));
    if (list.at !== this.scanned?.at && !this.ranges.some(({ at }) => at === list.at)) this.ranges.push(list);
    return list;
  }

  readonly #lists = new Map<string, Range>();

  protected listSpanOf(asked: ValueAsked, table: Uint8Array | undefined): Range {
    const name = `${asked.key} ${asked.storage} ${asked.value}`;
    let list = this.#lists.get(name);
    if (!list) {
      list = this.newListSpan(asked);
      this.#lists.set(name, list);
    }
    // The list is of all nodes with the value, whatever their labels.
    return table ? { ...list, table: this.constant(table) } : list;
  }

  protected newListSpan(asked: ValueAsked, table?: Uint8Array): Range {
    const [rows, at, list] = [this.fresh('rows'), this.fresh('at'), this.fresh('list')];
    this.declared.push(at);
    const spans = this.constant(this.options.valueLists(asked));
    this.heads.push(`let ${rows} = ${spans}.fit(visible.length), ${list} = ${spans}.list;`);
    return { table: table ? this.constant(table) : '', spans, rows, at, list };
  }

  /** Brings a range to a segment. */
  protected spanSource({ spans, rows, at, list }: Range, slot: string, seg: string): string {
    // Another stage may have looked more segments through, and moved the list.
    if (list)
      return [
        `${at} = ${slot} * ${LIST_ROW}; ${rows} = ${spans}.rows;`,
        `if (${rows}[${at}] !== segmentTable[${seg} + ${S.version}]) ${spans}.find(${slot}, store);`,
        `${list} = ${spans}.list;`,
      ].join('\n');
    return [
      `${at} = ${slot} * ${RANGE_ROW};`,
      `if (${rows}[${at}] !== segmentTable[${seg} + ${S.version}]) ${rows} = ${spans}.find(${slot}, store);`,
    ].join('\n');
  }

  /** Writes a loop over the nodes of a range, bound to a variable. */
  protected nodesOf(range: Range, n: string, inside: () => void): void {
    const { rows, at, list, table } = range;
    if (list) {
      const p = this.fresh('p');
      this.line(
        `for (let ${p} = ${rows}[${at} + 1], ${p}_end = ${rows}[${at} + 2]; ${p} < ${p}_end; ${p}++) {`,
      );
      this.line(`const ${n} = ${list}[${p}]; if (--fuel < 0) fuel = run.refuel();`);
      if (table) this.line(`if (${table}[nodeKind[${n}]] === 0) continue;`);
      inside();
      this.line('}');
      return;
    }
    this.stretches(range, (low, high, mixed) => {
      this.line(`fuel -= ${high} - ${low}; if (fuel < 0) fuel = run.refuel();`);
      this.line(`for (let ${n}_at = ${low}; ${n}_at < ${high}; ${n}_at++) { const ${n} = ${n}_at;`);
      this.line(`if (${mixed} && ${table}[nodeKind[${n}]] === 0) continue;`);
      inside();
      this.line('}');
    });
  }

  /** Writes a loop over the stretches of a range, with first node, end, and whether others may be among them. */
  protected stretches({ rows, at }: Range, inside: (low: string, high: string, mixed: string) => void): void {
    const [q, low, high] = [this.fresh('q'), this.fresh('low'), this.fresh('high')];
    this.line(
      `for (let ${q} = ${at} + 2, ${q}_end = ${q} + (${rows}[${at} + 1] & ${MIXED - 1}) * 2, ${q}_mixed = ${rows}[${at} + 1] >= ${MIXED}; ${q} < ${q}_end; ${q} += 2) {`,
    );
    this.line(`const ${low} = ${rows}[${q}], ${high} = ${rows}[${q} + 1];`);
    inside(low, high, `${q}_mixed`);
    this.line('}');
  }

  /** Goes through the nodes of a range and looks for the edge to `near` in their lists. */
  protected meeting(
    near: string,
    code: number,
    far: PatternNode,
    edge: PatternEdge,
    range: Range,
    inside: () => void,
  ): void {
    const i = this.fresh('i');
    const y = nameOf(far);
    this.nodesOf(range, y, () => {
      this.bind(far);
      this.line(`let ${i} = adjStart[${y}]; const ${i}_end = adjStart[${y} + 1];`);
      this.line(`if (${i}_end - ${i} > ${LONG}) ${i} = seek(adjRow, ${i}, ${i}_end, ${code}, ${near});`);
      this.line(`if ((fuel -= 2) < 0) fuel = run.refuel();`);
      this.line(`for (; ${i} < ${i}_end; ${i}++) {`);
      this.line(`if (adjCode[${i}] !== ${code}) { if (adjCode[${i}] > ${code}) break; continue; }`);
      this.line(`if (adjNode[${i}] !== ${near}) continue;`);
      this.edge(edge, `adjEdge[${i}]`);
      this.conditions('continue;');
      inside();
      this.line('}');
    });
  }

  /** Enters a long list where the nodes of a range begin. */
  protected entriesInRange(
    at: string,
    code: number,
    far: PatternNode,
    edge: PatternEdge,
    range: Range,
    inside: () => void,
  ): void {
    const i = this.fresh('i');
    const y = nameOf(far);
    this.stretches(range, (low, high, mixed) => {
      this.line(`const ${i}_end = adjStart[${at} + 1];`);
      this.line(`let ${i} = seek(adjRow, adjStart[${at}], ${i}_end, ${code}, ${low});`);
      this.line(`if ((fuel -= 8) < 0) fuel = run.refuel();`);
      this.line(`for (; ${i} < ${i}_end; ${i}++) { const ${y} = adjNode[${i}];`);
      this.line(`if (${y} >= ${high} || adjCode[${i}] !== ${code}) break; fuel--;`);
      this.line(`if (${mixed} && ${range.table}[nodeKind[${y}]] === 0) continue;`);
      this.bind(far);
      this.edge(edge, `adjEdge[${i}]`);
      this.conditions('continue;');
      inside();
      this.line('}');
    });
  }

  /**
   * Loops over the edges at `at` with one of `codes`. The other end is the new node `far`, or has to be the bound
   * `known`.
   */
  protected entries(
    at: string,
    codes: readonly number[],
    far: PatternNode | undefined,
    pattern: PatternEdge,
    known: string | undefined,
    inside: () => void,
    sure = false,
  ): void {
    if (codes.length === 0) return;
    const i = this.fresh('i');
    const y = far ? nameOf(far) : this.fresh('y');
    const found = (edge: string) => {
      // What is likely to fail and cheap to see comes first.
      if (far) {
        if (!sure) this.tests(far, 'continue;');
        this.bind(far);
      }
      this.edge(pattern, edge);
      this.conditions('continue;');
      inside();
    };
    const leaves = codes.some((code) => this.options.leaves(code));
    const entered = codes.some((code) => this.options.entered(code));
    const single = codes.length === 1 ? String(codes[0]) : undefined;
    const table = single ? '' : this.constant(this.codeTable(codes));
    this.line(`let ${i} = adjStart[${at}]; const ${i}_end = adjStart[${at} + 1];`);
    this.line(`fuel -= ${i}_end - ${i} + 1; if (fuel < 0) fuel = run.refuel();`);
    if (single)
      this.line(
        `if (${i}_end - ${i} > ${LONG}) ${i} = seek(adjRow, ${i}, ${i}_end, ${single}, -2147483648);`,
      );
    const loops = this.loopCodes(codes);
    const resolve = leaves ? this.resolved(y) : '';
    const hit = known ? `if (${y} !== ${known}) continue;` : '';
    const declare = leaves ? 'let' : 'const';
    if (!entered) {
      this.line(`for (; ${i} < ${i}_end; ${i}++) {`);
      if (single)
        this.line(`if (adjCode[${i}] !== ${single}) { if (adjCode[${i}] > ${single}) break; continue; }`);
      else this.line(`if (${table}[adjCode[${i}]] !== 1) continue;`);
      const raw = known === undefined ? undefined : this.raw.get(known);
      if (leaves && raw) {
        // The same handle is the same node; two handles are two.
        this.line(`let ${y} = adjNode[${i}]; if (${y} !== ${raw}) { if ((${y} & ${raw}) < 0) continue;`);
        this.line(`${resolve} ${hit} }`);
      } else if (leaves && far) {
        const reference = this.fresh('raw');
        this.raw.set(y, reference);
        this.line(`const ${reference} = adjNode[${i}]; let ${y} = ${reference}; ${resolve} ${hit}`);
      } else this.line(`${declare} ${y} = adjNode[${i}]; ${resolve} ${hit}`);
      if (loops) this.line(`if (${y} === ${at} && ${loops}[adjCode[${i}]] === 1) continue;`);
      found(`adjEdge[${i}]`);
      this.line('}');
      return;
    }
    // Entries of the node's own list first, then the edges of other segments that point to its handle.
    const [c, p, x, seg, edge] = ['c', 'p', 'x', 'seg', 'e'].map((letter) => this.fresh(letter)) as [
      string,
      string,
      string,
      string,
      string,
    ];
    const ports = this.constant(this.codeTable(codes));
    const sets = far && this.options.setTable(far);
    this.line(`let ${c} = none, ${c}_at = 0, ${p} = none, ${p}_at = 0, ${p}_code = 0;`);
    this.line(
      `{ const ${seg} = nodeSegment[${at}] * ${SEGMENT_ROW}, ${x} = segmentTable[${seg} + ${S.exports}];`,
    );
    this.line(`if (${x} >= 0) ${p} = entering.portsAt(${x} + ${at} - segmentTable[${seg} + ${S.nodes}]); }`);
    this.line(`for (;;) { let ${y}, ${edge};`);
    this.line(`if (${i} < ${i}_end) { const ${i}_code = adjCode[${i}];`);
    this.line(
      single
        ? `if (${i}_code !== ${single}) { ${i} = ${i}_code > ${single} ? ${i}_end : ${i} + 1; continue; }`
        : `if (${table}[${i}_code] !== 1) { ${i}++; continue; }`,
    );
    this.line(`${y} = adjNode[${i}]; ${edge} = adjEdge[${i}]; ${i}++;`);
    if (loops) this.line(`if (${y} === ${at} && ${loops}[${i}_code] === 1) continue;`);
    this.line(`} else if (${c}_at < ${c}.length) {`);
    this.line(`const ${c}_one = ${c}[${c}_at++], x = crossingEdge[${c}_one]; ${edge} = x >> 1;`);
    this.line(`if (--fuel < 0) fuel = run.refuel();`);
    this.line(`const ${c}_owner = crossingSegment[${c}_one];`);
    this.line(`${y} = (x & 1) === 1 ? edgeSource[${edge}] : edgeTarget[${edge}];`);
    this.line(`if (visible[${c}_owner] === 2 && ${y} >= 0 && roams[nodeKind[${y}]] !== 1) continue;`);
    if (loops)
      this.line(`if (edgeSource[${edge}] === edgeTarget[${edge}] && ${loops}[${p}_code] === 1) continue;`);
    this.line(`} else if (${p}_at < ${p}.length) {`);
    this.line(`const ${p}_one = ${p}[${p}_at++]; ${p}_code = portCode[${p}_one];`);
    const fits = sets ? ` && (portSet[${p}_one] < 0 || ${this.constant(sets)}[portSet[${p}_one]] !== 0)` : '';
    this.line(
      `if (${ports}[${p}_code] === 1${fits}) { ${c} = entering.crossingsOf(${p}_one); ${c}_at = 0; }`,
    );
    this.line(`if (--fuel < 0) fuel = run.refuel(); continue;`);
    this.line(`} else break;`);
    this.line(`${this.resolved(y)} ${hit}`);
    found(edge);
    this.line('}');
  }

  /** From a handle to the node that has its id now, when the query may see that. */
  protected resolved(y: string): string {
    const seen = `${y}_seen`;
    return [
      `if (${y} < 0) { ${y} = handleNode[~${y}]; if (${y} < 0) continue;`,
      `const ${seen} = visible[nodeSegment[${y}]];`,
      `if (${seen} !== 1 && (${seen} !== 2 || roams[nodeKind[${y}]] !== 1)) continue; }`,
    ].join(' ');
  }

  /** Binds an edge, or checks it against the binding that its variable has already. */
  protected edge(edge: PatternEdge, found: string): void {
    if (this.bound.has(edge.slot)) {
      this.line(`if (${found} !== ${nameOf(edge)}) continue;`);
      return;
    }
    this.line(`const ${nameOf(edge)} = ${found};`);
    this.bind(edge);
  }
}
