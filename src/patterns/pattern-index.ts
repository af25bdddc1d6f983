import { PatternGraph } from '../gql/graph.ts';
import { COLLECTIONS, type Collection } from '../model/catalogue.ts';
import { lastOfId, specimenOfId } from '../model/ids.ts';
import type { Live } from '../state/live.ts';
import { readingsOf } from '../state/readings.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import type { Audience, View } from '../state/view.ts';
import type { PatternAnswer } from './answer.ts';
import { recordSegment, specimenSegment } from './segments.ts';
import { VOCABULARY } from './vocabulary.ts';
import { type Alternatives, alternativesOf } from './worlds.ts';

/** Answers kept; one over a wide archive may hold thousands of matches. */
const KEPT_ANSWERS = 16;
/** Keys of catalogue segments; no specimen id begins so. */
const RECORD = 'record:';

interface Visible {
  readonly sequence: number;
  readonly from: string;
  readonly until: string;
  readonly keys: readonly string[];
}

/**
 * The pattern engine's graph of the archive, kept in step with the live state: a change to one specimen or record
 * costs work for its own segment alone.
 */
export class PatternIndex {
  readonly graph = new PatternGraph();
  /** Lately given answers, by question. */
  readonly answers = new Map<string, PatternAnswer>();
  readonly #live: Live;
  /** Segments that each audience may see, and the instants between which that holds. */
  readonly #visible = new Map<Audience, Visible>();
  /** What uncertain components may turn out to be, by specimen and designator. */
  readonly #doubts = new Map<string, ReadonlyMap<string, Alternatives>>();
  /** Components with the same candidates share what follows from them: a few thousand for any archive. */
  readonly #shared = new Map<string, Alternatives>();

  /** Reads what has come or changed; the graph is of one state from then until others get their turn. */
  readonly #catchUp: (signal?: AbortSignal) => Promise<void>;
  #sequence = -1;

  constructor(live: Live) {
    this.#live = live;
    // In every graph in the same order, so that code written for one serves the others too.
    for (const label of VOCABULARY.edgeLabels) this.graph.store.catalog.edgeLabel(label);
    for (const collection of COLLECTIONS) {
      for (const id of live.state.records[collection].keys()) this.#putRecord(collection, id);
    }
    live.onTouched(({ records }) => {
      for (const { collection, id } of records) this.#putRecord(collection, id);
    });
    this.#catchUp = readingsOf(live).add((id, specimen) => this.#putSpecimen(id, specimen));
  }

  /** Journal sequence of the state that the graph holds all of. */
  get sequence(): number {
    return this.#sequence;
  }

  /** Indexes what the live state holds and the graph does not yet. */
  async catchUp(signal?: AbortSignal): Promise<void> {
    await this.#catchUp(signal);
    this.#sequence = this.#live.state.sequence;
  }

  /** Keeps an answer for whoever asks the same again soon. */
  keep(key: string, answer: PatternAnswer): void {
    this.answers.set(key, answer);
    for (const oldest of this.answers.keys()) {
      if (this.answers.size <= KEPT_ANSWERS) break;
      this.answers.delete(oldest);
    }
  }

  /** What a component (by global id) may turn out to be; undefined where nobody has proposed anything. */
  alternativesOf(componentId: string): Alternatives | undefined {
    return this.#doubts.get(specimenOfId(componentId))?.get(lastOfId(componentId));
  }

  /**
   * Keys of the segments that a view may see; everything else is absent from its answers. The same array as long as
   * nothing changes, by which the engine keeps its plans.
   */
  visibleKeys(view: View): readonly string[] {
    const kept = this.#visible.get(view.audience);
    if (kept && kept.sequence === view.state.sequence && kept.from <= view.now && view.now < kept.until)
      return kept.keys;
    const keys = [...this.#keysSeen(view)];
    const ends = [...view.state.specimens.values()].flatMap(({ embargoUntil }) => embargoUntil ?? []);
    const later = ends.map((end) => new Date(end).toISOString()).filter((end) => end > view.now);
    // Some instant after all others when no embargo is still to end.
    const until = later.sort()[0] ?? '\uffff';
    this.#visible.set(view.audience, { sequence: view.state.sequence, from: view.now, until, keys });
    return keys;
  }

  *#keysSeen(view: View): Generator<string> {
    for (const { id } of view.specimenRows()) yield id;
    for (const { id } of view.makers()) yield RECORD + id;
    for (const { id } of view.productLines()) yield RECORD + id;
    for (const id of view.state.records.parts.keys()) yield RECORD + id;
  }

  #putRecord(collection: Collection, id: string): void {
    const record = this.#live.state.records[collection].get(id);
    const segment = record && recordSegment(collection, record);
    if (segment) this.graph.putSegment(RECORD + id, segment);
  }

  #putSpecimen(id: string, specimen: OpenedSpecimen): void {
    this.graph.putSegment(id, specimenSegment(specimen, this.#live.state));
    this.#doubts.set(id, this.#doubtsOf(specimen));
  }

  #doubtsOf({ components, identified }: OpenedSpecimen): ReadonlyMap<string, Alternatives> {
    const doubts = new Map<string, Alternatives>();
    for (const [designator, identification] of identified) {
      const { appears } = components.get(designator) ?? {};
      const categoriesOf = (part: string) => this.#live.state.records.parts.get(part)?.categories;
      const { candidates } = identification;
      let key = appears ?? '';
      for (const { part = '', category = '', probability } of candidates)
        key += `\0${part} ${category} ${probability} ${categoriesOf(part)?.join(' ')}`;
      let alternatives = this.#shared.get(key);
      if (!alternatives) {
        alternatives = alternativesOf({ appears }, identification, categoriesOf);
        this.#shared.set(key, alternatives);
      }
      doubts.set(designator, alternatives);
    }
    return doubts;
  }
}

/** The pattern graph of a state. */
export function patternIndexOf(live: Live): PatternIndex {
  return new PatternIndex(live);
}
