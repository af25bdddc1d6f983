/**
 * Where a search that goes segment by segment stands.
 */
import { S, type Store } from '../storage/store.ts';
import type { ExecuteRequest } from './request.ts';

export class SegmentCursor {
  /** Per segment row: 0 hidden; 1 to be seen; 2 another segment, of which only the nodes that roam are to be seen. */
  readonly visible: Uint8Array;
  /** Per node kind, 1 for nodes that roam. */
  readonly roams: Uint8Array;
  readonly #alone: boolean;
  readonly #others: ReadonlySet<number>;
  /** Nodes of other segments that count as in the one where the search stands: see `BySegmentOptions.home`. */
  readonly near = new Set<number>();
  readonly #store: Store;
  /** Label of the edges that lead to these; -1 for none. */
  readonly #home: number;
  /** Scans of parts, by place, and the segments that each goes through whatever is near; the first is where the search stands. */
  readonly #scans: { readonly of: Int32Array[]; readonly at: number; readonly always: Int32Array }[] = [];
  #at = -1;

  constructor(
    store: Store,
    { visible }: ExecuteRequest,
    { others, roaming, home }: Extract<ExecuteRequest['output'], { kind: 'segments' }>,
  ) {
    const { catalog } = store;
    this.#store = store;
    this.#home = home === undefined ? -1 : catalog.edgeLabels.findIndex((label) => label === home);
    this.#others = new Set(others);
    this.#alone = roaming !== undefined;
    const labels = new Set(roaming?.map((label) => catalog.findLabel(label)));
    this.roams = Uint8Array.from(catalog.nodeKinds, ({ labelSet }) =>
      catalog.labelSets[labelSet]!.labels.some((label) => labels.has(label)) ? 1 : 0,
    );
    this.visible = this.#alone
      ? visible.map((flag, slot) => (flag === 1 && store.segmentField(slot, S.grouped) === 1 ? 2 : flag))
      : visible;
  }

  /** Narrows a scan, by its place, to the segment where the search stands, those that are not grouped, and those with something near. */
  narrow(scans: Int32Array[], at: number): void {
    const always = Int32Array.of(this.#at, ...scans[at]!.filter((slot) => this.#others.has(slot)));
    scans[at] = always;
    this.#scans.push({ of: scans, at, always });
  }

  moveTo(segment: number): void {
    if (this.#alone) {
      if (this.#at >= 0) this.visible[this.#at] = 2;
      this.visible[segment] = 1;
    }
    this.#at = segment;
    if (this.#scans.length === 0) return;
    const hosts = this.#home < 0 || !this.#alone ? [] : this.#hostsOf(segment);
    for (const { of, at, always } of this.#scans) {
      always[0] = segment;
      of[at] = hosts.length === 0 ? always : Int32Array.of(...always, ...hosts);
    }
  }

  /** Segments with what is near to another one. */
  #hostsOf(segment: number): readonly number[] {
    this.near.clear();
    const { crossingEdge, edgeRow, nodeRow, catalog } = this.#store;
    const hosts = new Set<number>();
    const first = this.#store.segmentField(segment, S.crossings);
    const end = first + this.#store.segmentField(segment, S.crossingCount);
    for (let c = first; c < end; c++) {
      const edge = crossingEdge.view[c]! >> 1;
      const leaves = (crossingEdge.view[c]! & 1) === 1;
      if (!leaves || catalog.edgeKinds[edgeRow.view[edge * 4]!]!.label !== this.#home) continue;
      const node = this.#store.end(edgeRow.view[edge * 4 + 2]!);
      if (node < 0 || this.roams[nodeRow.view[node * 4]!] !== 1) continue;
      const host = this.#store.segmentOf(node);
      if (host === segment || this.visible[host] === 0) continue;
      this.near.add(node);
      hosts.add(host);
    }
    return [...hosts];
  }
}
