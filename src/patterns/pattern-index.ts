import { PatternGraph, type RestoredGraph, type SavedGraph } from '../gql/gql.ts';
import type { CatalogueRecord, Collection, Part } from '../model/catalogue.ts';
import type { Device } from '../model/dossier.ts';
import { lastOfId, specimenOfId } from '../model/ids.ts';
import { VOCABULARY } from '../pattern-texts/vocabulary.ts';
import type { SpecimenRow } from '../state/facts.ts';
import { Pace } from '../state/pace.ts';
import { readingsOf } from '../state/readings.ts';
import type { SharedCaches } from '../state/shared-caches.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import type { State } from '../state/state.ts';
import { TouchedIds } from '../state/touched-ids.ts';
import type { KindSpread } from '../state/unnamed/unnamed-kinds.ts';
import type { Audience } from '../state/visibility/audience.ts';
import { type AlternativesColumns, restoredAlternatives, SavedAlternatives } from './saved-alternatives.ts';
import { leftOf, recordSegment, specimenSegment } from './segments.ts';
import { type Alternatives, alternativesOf, candidatesOf } from './worlds.ts';

/** Prefix of catalogue segment keys; no specimen id begins with it. */
const RECORD = 'record:';
/** Collections that patterns see. */
const SEEN: readonly Collection[] = ['makers', 'productLines', 'parts'];

/** Name of the pattern index in a snapshot. */
export const PATTERNS = 'patterns';

/** A specimen in the index: whether its segment holds the device's node, and numbers of the spreads of its unnamed components. */
type SavedPut = readonly [id: string, isHost: 0 | 1, learnt: readonly number[]];

/** A pattern index at rest. */
export interface SavedPatterns {
  readonly graph: SavedGraph;
  /** Plain data, as JSON holds it. */
  readonly tables: {
    /** In the order of the rows of the state. */
    readonly put: readonly SavedPut[];
    /** Ids of the records that have a segment or could have one. */
    readonly records: readonly string[];
    /** Sets of terms that a component may have, see {@link SavedAlternatives}. */
    readonly terms: readonly (readonly string[])[];
  };
  /** Of the uncertain components of each specimen: their numbers in the names of the archive, and which alternatives they have. */
  readonly columns: Readonly<Record<'doubtStarts' | 'doubtComponents' | 'doubtKinds', Int32Array>>;
  readonly alternatives: AlternativesColumns;
}

/** The same on its way back. */
export interface RestoredPatterns extends Pick<SavedPatterns, 'tables' | 'columns' | 'alternatives'> {
  readonly graph: RestoredGraph;
  /** The state that it is aligned with. */
  readonly state: State;
  /** By number. */
  readonly spreads: readonly KindSpread[];
}

/** What a segment of a specimen was made of. */
interface Put {
  readonly row: SpecimenRow;
  /** Spreads of its unnamed components. */
  readonly learnt: OpenedSpecimen['learnt'];
  /** The device, when its node is in this segment. */
  readonly device: Device | undefined;
}

/** What the uncertain components of a specimen may turn out to be, by designator. */
interface Doubtful extends Pick<OpenedSpecimen, 'learnt'> {
  readonly alternatives: ReadonlyMap<string, Alternatives>;
}

/**
 * The pattern engine's graph of what one audience may see of an archive. It follows the newest state, and right before a search it
 * is aligned with the state in question: a segment for each specimen and record, of which only those that differ are replaced.
 * Each audience has its own, since estimates, and with them the order in which matches are found, follow from everything that is
 * in a graph. What has been in it leaves no trace: a probability that is cut short is of the matches found first, and the same journal
 * gives the same number.
 */
export class PatternIndex {
  // Edge labels in every graph in the same order, so that code written for one serves the others too.
  readonly graph: PatternGraph;
  readonly #shared: SharedCaches;
  readonly #audience: Audience;
  readonly #put = new Map<string, Put>();
  /** Specimen whose segment holds the device's node, by device. */
  readonly #hosts = new Map<string, string>();
  readonly #records = new Map<string, CatalogueRecord>();
  #aligned: State | undefined;
  /** What uncertain components may turn out to be, by designator. */
  readonly #doubts = new WeakMap<SpecimenRow, Doubtful>();
  /** Specimens with unnamed components. */
  readonly #unnamed = new Set<string>();
  /** Shared by components with the same candidates: a few thousand for any archive. */
  readonly #alternatives = new Map<string, Alternatives>();
  readonly #partNumbers = new WeakMap<Part, number>();
  #lastPart = 0;
  /** Doubts that come from a snapshot, until they are asked for. */
  readonly #savedDoubts = new WeakMap<SpecimenRow, () => Doubtful>();
  /** Reads what was added or changed, in turns with other work. */
  readonly catchUp: (state: State, signal?: AbortSignal) => Promise<void>;

  /** @param saved the index of an equal archive at rest, for the same audience */
  constructor(shared: SharedCaches, audience: Audience, saved?: RestoredPatterns) {
    this.#shared = shared;
    this.#audience = audience;
    const options = { edgeLabels: VOCABULARY.edgeLabels, segmentsName: 'specimens' };
    this.graph = new PatternGraph(options, saved?.graph);
    if (saved) this.#restore(saved);
    const catchUp = readingsOf(shared).add({
      audience,
      needs: (row) => this.#put.get(row.id)?.row !== row,
      take: (row, specimen, state) => this.#putSpecimen(state, row, specimen),
    });
    this.catchUp = async (state, signal) => {
      await catchUp(state, signal);
      const pace = new Pace(signal);
      if (state.unnamed === this.#aligned?.unnamed) return;
      for (const id of inOrder(this.#unnamed)) {
        if (!this.#isCurrent(state, id)) this.#alignSpecimen(state, id);
        if (pace.due) await pace.rest();
      }
    };
  }

  /**
   * The index at rest, aligned with a state, for another process to take up.
   * @param numberOf number of a spread, if it has one
   * @param rest called often, so that others have their turn
   * @returns undefined when something was written meanwhile, or is of spreads without a number
   */
  async save(
    state: State,
    numberOf: (spread: KindSpread) => number | undefined,
    rest: () => Promise<void>,
  ): Promise<SavedPatterns | undefined> {
    this.align(state);
    const graph = await this.graph.save(rest);
    if (!graph?.isStill()) return undefined;
    const { names } = this.#shared;
    const alternatives = new SavedAlternatives();
    const put: SavedPut[] = [];
    const [starts, components, kinds] = [[0], [] as number[], [] as number[]];
    for (const row of state.specimenRows()) {
      await rest();
      const { device, learnt } = this.#put.get(row.id) as Put;
      const { alternatives: doubts } = this.#doubtsKept(state, row);
      for (const [component, one] of doubts) {
        components.push(names.numberOf(component));
        kinds.push(alternatives.numberOf(one, names));
      }
      starts.push(components.length);
      const numbers = [...learnt].flatMap((spread) => numberOf(spread) ?? []);
      if (numbers.length < learnt.size) return undefined;
      put.push([row.id, device ? 1 : 0, numbers]);
    }
    if (!graph.isStill()) return undefined;
    return {
      graph,
      tables: {
        put,
        records: [...this.#records.keys()],
        terms: alternatives.terms,
      },
      columns: {
        doubtStarts: Int32Array.from(starts),
        doubtComponents: Int32Array.from(components),
        doubtKinds: Int32Array.from(kinds),
      },
      alternatives: alternatives.columns(),
    };
  }

  #restore({ state, tables, columns, alternatives, spreads }: RestoredPatterns): void {
    const { names } = this.#shared;
    const { doubtStarts, doubtComponents, doubtKinds } = columns;
    const alternativesAt = restoredAlternatives(alternatives, tables.terms, names);
    const sets = new Map<string, ReadonlySet<KindSpread>>();
    const learntOf = (numbers: readonly number[]) => {
      const key = numbers.join(' ');
      let learnt = sets.get(key);
      if (!learnt) {
        learnt = new Set(numbers.map((number) => spreads[number]));
        sets.set(key, learnt);
      }
      return learnt;
    };
    tables.put.forEach(([id, isHost, numbers], at) => {
      const row = state.specimenRow(id);
      if (!row) throw new Error(`specimen ${id} is not in the state that the index belongs to`);
      const learnt = learntOf(numbers);
      const device = isHost ? deviceWith(state, row) : undefined;
      this.#put.set(id, { row, learnt, device });
      if (device) this.#hosts.set(row.deviceId, id);
      if (learnt.size > 0) this.#unnamed.add(id);
      this.#savedDoubts.set(row, () => {
        const doubts = new Map<string, Alternatives>();
        for (let d = doubtStarts[at]; d < doubtStarts[at + 1]; d++)
          doubts.set(names.textOf(doubtComponents[d]), alternativesAt(doubtKinds[d]));
        return { alternatives: doubts, learnt };
      });
    });
    for (const collection of SEEN)
      for (const id of tables.records) {
        const record = state.facts.records[collection].get(id);
        if (record) this.#records.set(id, record);
      }
    this.#aligned = state;
  }

  /**
   * Aligns the graph with a state, synchronously, so that the next search sees exactly that state. The cost depends on
   * what differs from the state before; {@link catchUp} has read most of it already.
   */
  align(state: State): void {
    if (this.#aligned === state) return;
    const between = this.#between(this.#aligned, state);
    // What audiences see differently may be of any kind.
    const differing = [...this.#shared.partlyHidden()];
    for (const collection of SEEN) {
      const ids = between.flatMap(({ records }) => [...records[collection]]);
      for (const id of inOrder([...ids, ...differing])) this.#alignRecord(state, collection, id);
    }
    const devices = [...between.flatMap((changes) => [...changes.devices]), ...differing];
    const theirs = devices.flatMap((id) => state.specimensOf(id).map((one) => one.id));
    const specimens = between.flatMap((changes) => [...changes.specimens]);
    for (const id of inOrder([...specimens, ...theirs, ...differing])) this.#alignSpecimen(state, id);
    for (const id of this.#learntOtherwise(state)) this.#alignSpecimen(state, id);
    this.#aligned = state;
  }

  /** What a component may be; undefined without candidates. */
  alternativesOf(state: State, componentId: string): Alternatives | undefined {
    const row = state.specimenRow(specimenOfId(componentId));
    if (!row) return undefined;
    return this.#doubtsKept(state, row).alternatives.get(lastOfId(componentId));
  }

  /** Upper bound of the probability that links of a specimen differ from those in the graph: see {@link leftOf}. */
  leftIn(specimen: string, asks: (labels: readonly string[]) => boolean): number {
    const { store } = this.graph;
    const node = this.graph.findNode(specimen);
    return leftOf(asks, (name) => {
      const key = store.catalog.findKey(name);
      return node < 0 || key < 0 ? undefined : store.nodeProperty(node, key);
    });
  }

  #doubtsKept(state: State, row: SpecimenRow): Doubtful {
    let doubts = this.#doubts.get(row) ?? this.#savedDoubts.get(row)?.();
    if (!doubts || !state.unnamedOf(row).areCurrent(doubts.learnt))
      doubts = this.#doubtsOf(state.peek(row), state);
    this.#doubts.set(row, doubts);
    return doubts;
  }

  /** Specimens whose unnamed components have other possible kinds in a state than in the graph. */
  #learntOtherwise(state: State): readonly string[] {
    if (state.unnamed === this.#aligned?.unnamed) return [];
    return inOrder(this.#unnamed).filter((id) => !this.#isCurrent(state, id));
  }

  /** Whether the unnamed components of a specimen have the same possible kinds in a state as in the graph. */
  #isCurrent(state: State, id: string): boolean {
    const row = state.specimenRow(id);
    return (row ? state.unnamedOf(row) : state.unnamed).areCurrent(this.#put.get(id)?.learnt ?? []);
  }

  #between(from: State | undefined, to: State): readonly TouchedIds[] {
    const between = from && this.#shared.changesBetween(from.edition, to.edition);
    if (between) return [...between, from.aside, to.aside];
    const all = TouchedIds.everythingIn(to.facts);
    // What is in the graph and not in the state is to leave it.
    for (const id of this.#put.keys()) all.specimens.add(id);
    for (const id of this.#records.keys()) all.records.parts.add(id);
    return [all];
  }

  #alignRecord(state: State, collection: Collection, id: string): void {
    const record = state.facts.records[collection].get(id);
    const isGone = this.#removes && !SEEN.some((one) => state.facts.records[one].has(id));
    if (isGone && this.#records.delete(id)) this.graph.removeSegment(RECORD + id);
    if (!record || this.#records.get(id) === record) return;
    const segment = recordSegment(collection, record);
    if (segment) this.graph.putSegment(RECORD + id, segment);
    this.#records.set(id, record);
  }

  /**
   * Whether what a state lacks leaves the graph. The desk loses nothing but by an older state, which is asked about while a newer
   * one is there already; what readers lose was recalled, and nothing may tell of it.
   */
  get #removes(): boolean {
    return this.#audience === 'reader';
  }

  #alignSpecimen(state: State, id: string): void {
    const row = state.specimenRow(id);
    if (!row) {
      const put = this.#removes ? this.#put.get(id) : undefined;
      if (!put) return;
      this.graph.removeSegment(id);
      this.#put.delete(id);
      this.#unnamed.delete(id);
      if (this.#hosts.get(put.row.deviceId) === id) this.#hosts.delete(put.row.deviceId);
      return;
    }
    const put = this.#put.get(id);
    if (
      put?.row !== row ||
      put.device !== deviceWith(state, row) ||
      !state.unnamedOf(row).areCurrent(put.learnt)
    )
      this.#putSpecimen(state, row, state.peek(row));
  }

  #putSpecimen(state: State, row: SpecimenRow, specimen: OpenedSpecimen): void {
    const device = deviceWith(state, row);
    const hostBefore = this.#hosts.get(row.deviceId);
    if (device && hostBefore !== row.id) {
      // A node is in one segment: it leaves the specimen where another audience saw it.
      const before = hostBefore === undefined ? undefined : this.#put.get(hostBefore);
      if (before) this.#putSegment(state, before.row, undefined, state.peek(before.row));
      this.#hosts.set(row.deviceId, row.id);
    }
    // Kept while it is unpacked: most specimens have uncertain components, and a search would unpack them again.
    this.#doubts.set(row, this.#putSegment(state, row, device, specimen));
  }

  /** @returns what may differ in it */
  #putSegment(
    state: State,
    row: SpecimenRow,
    device: Device | undefined,
    specimen: OpenedSpecimen,
  ): Doubtful {
    const doubts = this.#doubtsOf(specimen, state);
    const { alternatives } = doubts;
    const segment = specimenSegment(specimen, row.deviceId, device, (part) => state.part(part), alternatives);
    this.graph.putSegment(row.id, segment);
    this.#put.set(row.id, { row, device, learnt: specimen.learnt });
    if (specimen.learnt.size > 0) this.#unnamed.add(row.id);
    else this.#unnamed.delete(row.id);
    return doubts;
  }

  /** Differs for parts, and for a part whose record has changed. */
  #partNumber(part: Part | undefined): number | undefined {
    if (!part) return undefined;
    let number = this.#partNumbers.get(part);
    if (number === undefined) {
      number = ++this.#lastPart;
      this.#partNumbers.set(part, number);
    }
    return number;
  }

  #doubtsOf({ components, identified, spreads, learnt }: OpenedSpecimen, state: State): Doubtful {
    const doubts = new Map<string, Alternatives>();
    const categoriesOf = (part: string) => state.part(part)?.categories;
    for (const designator of new Set([...identified.keys(), ...spreads.keys()])) {
      const { appears } = components.get(designator) ?? {};
      const candidates = candidatesOf({ identified, spreads }, designator);
      let key = appears ?? '';
      for (const { part = '', category = '', probability } of candidates)
        key += `\0${this.#partNumber(state.part(part)) ?? part} ${category} ${probability}`;
      let alternatives = this.#alternatives.get(key);
      if (!alternatives) {
        alternatives = alternativesOf({ appears }, candidates, categoriesOf);
        this.#alternatives.set(key, alternatives);
      }
      doubts.set(designator, alternatives);
    }
    return { alternatives: doubts, learnt };
  }
}

/** The device of a specimen that holds the device's node: the first that the state sees. */
function deviceWith(state: State, { id, deviceId }: SpecimenRow): Device | undefined {
  const row = state.facts.devices.get(deviceId);
  return row?.specimens[0] === id ? row.device : undefined;
}

/** Ids each once, in an order that does not follow from when they changed. */
function inOrder(ids: Iterable<string>): readonly string[] {
  return [...new Set(ids)].sort();
}

/** The pattern graph of what the audience of a state may see. */
export function patternIndexOf(state: State): PatternIndex {
  return state.shared.kept(MAKE[state.audience]);
}

const MAKE: Readonly<Record<Audience, (shared: SharedCaches) => PatternIndex>> = {
  reader: (shared) => new PatternIndex(shared, 'reader', restoredFor(shared, 'reader')),
  desk: (shared) => new PatternIndex(shared, 'desk', restoredFor(shared, 'desk')),
};

function restoredFor(shared: SharedCaches, audience: Audience): RestoredPatterns | undefined {
  return shared.saved(PATTERNS, audience) as RestoredPatterns | undefined;
}

/** Keys of the segments of a state; everything else is absent from its answers. */
export function visibleKeys(state: State): readonly string[] {
  return state.derived(keysOf);
}

function keysOf({ facts }: State): readonly string[] {
  const records = SEEN.flatMap((collection) => [...facts.records[collection].keys()]);
  return [...facts.specimens.keys(), ...records.map((id) => RECORD + id)];
}
