import type { Live } from '../graph/live.ts';
import type { View } from '../graph/view.ts';
import { PatternGraph } from '../match/graph.ts';
import { COLLECTIONS, type Collection } from '../model/catalogue.ts';
import { recordSegment, specimenSegment } from './segments.ts';

/** Keys of catalogue segments; no specimen id begins so. */
const RECORD = 'record:';

/**
 * The pattern engine's graph of the archive, kept in step with the live state: a change to one specimen or record
 * costs work for its own segment alone.
 */
export class PatternIndex {
  readonly graph = new PatternGraph();
  readonly #live: Live;

  /** Indexes everything the live state holds, and follows it from then on. */
  constructor(live: Live) {
    this.#live = live;
    for (const collection of COLLECTIONS) {
      for (const id of live.state.records[collection].keys()) this.#putRecord(collection, id);
    }
    for (const id of live.state.specimens.keys()) this.#putSpecimen(id);
    live.onTouched(({ records, specimens }) => {
      for (const { collection, id } of records) this.#putRecord(collection, id);
      for (const { id } of specimens) this.#putSpecimen(id);
    });
  }

  /** Keys of the segments that a view may see; everything else is absent from its answers. */
  *visibleKeys(view: View): Generator<string> {
    for (const { id } of view.specimenRows()) yield id;
    for (const { id } of view.makers()) yield RECORD + id;
    for (const { id } of view.families()) yield RECORD + id;
    for (const id of view.state.records.parts.keys()) yield RECORD + id;
  }

  #putRecord(collection: Collection, id: string): void {
    const record = this.#live.state.records[collection].get(id);
    const segment = record && recordSegment(collection, record);
    if (segment) this.graph.putSegment(RECORD + id, segment);
  }

  #putSpecimen(id: string): void {
    const row = this.#live.state.specimens.get(id);
    if (row) this.graph.putSegment(id, specimenSegment(this.#live.peek(row), this.#live.state));
  }
}

/** The pattern graph of a state. */
export function patternIndexOf(live: Live): PatternIndex {
  return new PatternIndex(live);
}
