/**
 * Matches of one segment, as a search hands them out.
 */
import type { Compiled } from '../plan/compiled.ts';
import type { Match } from '../plan/match.ts';
import { S, type Store } from '../storage/store.ts';
import { matchesOf } from './prepared-clauses.ts';
import type { ExecuteRequest, FoundMatch, SegmentMatches } from './request.ts';
import { RowLineage } from './row-lineage.ts';
import type { Run } from './stage.ts';

/** Rows that are looked at for each way that may be kept. */
const ROWS_A_WAY = 25;

export class KeptMatches {
  count = 0;
  readonly #run: Run;
  readonly #lineage: RowLineage;
  readonly #clauses: readonly Match[];
  readonly #output: Extract<ExecuteRequest['output'], { kind: 'segments' }>;
  #matches: FoundMatch[] = [];
  #further: FoundMatch[] = [];
  readonly #ways = new Set<string>();
  #beyond = 0;
  /** Whether some match certainly holds, so that others change no probability. */
  #isCertain = false;
  #cut = false;
  readonly #store: Store;
  #segment = -1;

  constructor(
    run: Run,
    { clauses }: Compiled,
    store: Store,
    output: Extract<ExecuteRequest['output'], { kind: 'segments' }>,
  ) {
    this.#run = run;
    this.#store = store;
    this.#lineage = new RowLineage(store, run, clauses);
    this.#clauses = matchesOf(clauses);
    this.#output = output;
  }

  /** Begins a segment. */
  clear(segment: number): void {
    this.#segment = segment;
    this.count = 0;
    this.#matches = [];
    this.#further = [];
    this.#ways.clear();
    this.#beyond = 0;
    this.#isCertain = false;
    this.#cut = false;
  }

  found(): Omit<SegmentMatches, 'segment'> {
    return { count: this.count, matches: this.#matches, further: this.#further, cut: this.#cut };
  }

  /** Takes the row that is bound; answers whether to go on. */
  take(): boolean {
    if (this.#output.foundBy.some((slot) => this.#isHere(this.#run.row[slot]!))) return true;
    const { matches: most, exact, everyWay } = this.#output;
    const isWanted = this.#matches.length < most;
    const waysWanted = everyWay > 0 && !this.#isCertain && !this.#cut;
    if (!isWanted && !waysWanted) {
      this.count++;
      return exact;
    }
    const conditions = this.#lineage.ofConditions();
    // A row that holds in no world.
    if (conditions === false) return true;
    this.count++;
    let isNew = false;
    if (waysWanted) {
      const way = this.#lineage.nameOf(conditions);
      if (way === '') this.#isCertain = true;
      isNew = !this.#ways.has(way);
      if (isNew) this.#ways.add(way);
    }
    if (isWanted || isNew) {
      const { row, values, skipped } = this.#run;
      (isWanted ? this.#matches : this.#further).push({
        row: row.slice(),
        values: values.map((value) => (Array.isArray(value) ? value.slice() : value)),
        conditions,
        skipped: skipped.map((match) => this.#clauses.indexOf(match)),
      });
    }
    if (!isWanted && (++this.#beyond > everyWay * ROWS_A_WAY || this.#further.length >= everyWay))
      this.#cut = true;
    if (exact || this.#matches.length < most) return true;
    // One more tells that those are not all.
    return everyWay > 0 && ((!this.#isCertain && !this.#cut) || this.count <= most);
  }

  /** Whether a node is what makes a match belong to the segment, or, where it may reach anywhere, to some segment. */
  #isHere(node: number): boolean {
    if (node < 0) return false;
    const segment = this.#store.segmentOf(node);
    if (this.#output.roaming) return segment === this.#segment;
    return this.#store.segmentField(segment, S.grouped) === 1;
  }
}
