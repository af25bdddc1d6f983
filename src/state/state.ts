import type {
  CatalogueRecord,
  Collection,
  DeviceRecord,
  Feed,
  Maker,
  NamedPattern,
  Part,
  ProductLine,
  Publication,
  Source,
} from '../model/catalogue.ts';
import type { Correction } from '../model/correction.ts';
import type { DecisionJudgement } from '../model/decision.ts';
import type { Device } from '../model/dossier.ts';
import type { Entry } from '../model/entry.ts';
import { parseDecisionId } from '../model/ids.ts';
import type { ListMapping } from '../model/list-mapping.ts';
import { type Facts, FactsDraft, type SpecimenRow } from './facts.ts';
import { applyEntry } from './fold.ts';
import type { SearchHit, SearchKind } from './search/search-index.ts';
import type { SharedCaches } from './shared-caches.ts';
import type { OpenedSpecimen } from './specimen.ts';
import { TouchedIds } from './touched-ids.ts';
import { holdsUnnamed, UnnamedKinds } from './unnamed/unnamed-kinds.ts';
import type { Audience } from './visibility/audience.ts';

/** A what-if: the original state, and the devices that the change touches. */
export interface WhatIf {
  readonly on: State;
  readonly devices: ReadonlySet<string>;
}

interface Origin {
  readonly audience: Audience;
  /** The instant at which embargoes were judged, ISO 8601 in UTC. */
  readonly now: string;
  /** Number of the holder's batch after which these were the facts. */
  readonly edition: number;
  readonly whatIf?: WhatIf;
  /** Spreads of unidentified components, when learnt from more than the facts. */
  readonly unnamed?: UnnamedKinds;
  /** What differs from the edition's facts. */
  readonly aside?: TouchedIds;
  /** Full-text search of an earlier state. */
  readonly searched?: Searched;
}

/** Finds documents by their words, best first. */
export interface Searched {
  find(question: string): Iterable<SearchHit>;
}

/**
 * The archive as an audience may see it at an instant: a value. All questions to a state see the same, whatever is
 * written meanwhile. What the audience may not see is not in it.
 */
export class State {
  readonly facts: Facts;
  readonly shared: SharedCaches;
  readonly audience: Audience;
  readonly now: string;
  readonly edition: number;
  readonly whatIf: WhatIf | undefined;
  /** What differs from the facts of its edition: the changes of a what-if. */
  readonly aside: TouchedIds;
  readonly #unnamed: UnnamedKinds | undefined;
  readonly #searched: Searched | undefined;
  readonly #derived = new Map<(state: State) => unknown, unknown>();

  constructor(
    facts: Facts,
    shared: SharedCaches,
    { audience, now, edition, whatIf, unnamed, aside, searched }: Origin,
  ) {
    this.facts = facts;
    this.shared = shared;
    this.audience = audience;
    this.now = now;
    this.edition = edition;
    this.whatIf = whatIf;
    this.#unnamed = unnamed;
    this.aside = aside ?? NO_CHANGES;
    this.#searched = searched;
  }

  /** Sequence of the last journal entry that changed something in here. */
  get sequence(): number {
    return this.facts.sequence;
  }

  /** Instant of that entry, ISO 8601 in UTC; empty for an empty archive. */
  get instant(): string {
    return this.facts.instant;
  }

  /**
   * Something derived from this state: calculated on first use, kept as long as the state. The function that makes it
   * is its key.
   */
  derived<T>(make: (state: State) => T): T {
    if (!this.#derived.has(make)) this.#derived.set(make, make(this));
    return this.#derived.get(make) as T;
  }

  /** Spreads of unidentified components, learnt from what this audience sees published. */
  get unnamed(): UnnamedKinds {
    return this.#unnamed ?? this.derived(learntFrom);
  }

  /** The same for the unnamed components of one of its specimens. */
  unnamedOf(row: SpecimenRow): UnnamedKinds {
    // Most specimens are published, and most of the others have none.
    return row.visibility !== 'published' && holdsUnnamed(row.columns)
      ? this.unnamed.including(row, this.shared.names)
      : this.unnamed;
  }

  device(id: string): Device | undefined {
    return this.facts.devices.get(id)?.device;
  }

  /** The device with its own visibility. */
  deviceRecord(id: string): DeviceRecord | undefined {
    return this.facts.records.devices.get(id);
  }

  /** By id. */
  devices(): readonly Device[] {
    return this.derived(sortedDevices);
  }

  specimenRow(id: string): SpecimenRow | undefined {
    return this.facts.specimens.get(id);
  }

  specimen(id: string): OpenedSpecimen | undefined {
    const row = this.specimenRow(id);
    return row && this.shared.open(row, this.#categoriesOf, this.unnamedOf(row));
  }

  /** The same for a pass over many: not cached. */
  peek(row: SpecimenRow): OpenedSpecimen {
    return this.shared.peek(row, this.#categoriesOf, this.unnamedOf(row));
  }

  /** By id. */
  specimenRows(): readonly SpecimenRow[] {
    return this.derived(sortedSpecimens);
  }

  /** Specimens of a device, in the order they came. */
  specimensOf(deviceId: string): readonly SpecimenRow[] {
    const ids = this.facts.devices.get(deviceId)?.specimens ?? [];
    return ids.flatMap((id) => this.specimenRow(id) ?? []);
  }

  /** Specimens that may hold a part, by id. */
  holdersOf(partId: string): readonly SpecimenRow[] {
    const ids = [...(this.facts.holders.get(partId) ?? [])].sort();
    return ids.flatMap((id) => this.specimenRow(id) ?? []);
  }

  /** Ids of the things that link to a thing by a label, such as the claims `SUPPORTED_BY` an observation; sorted. */
  linkedFrom(id: string, label: string): readonly string[] {
    return this.facts.links.into(id, label);
  }

  /** Whether an id is that of a record, device, specimen, teardown or claim. */
  describes(id: string): boolean {
    return this.facts.links.describes(id);
  }

  maker(id: string): Maker | undefined {
    return this.facts.records.makers.get(id);
  }

  makers(): readonly Maker[] {
    return this.#sorted('makers');
  }

  productLine(id: string): ProductLine | undefined {
    return this.facts.records.productLines.get(id);
  }

  productLines(): readonly ProductLine[] {
    return this.#sorted('productLines');
  }

  part(id: string): Part | undefined {
    return this.facts.records.parts.get(id);
  }

  parts(): readonly Part[] {
    return this.#sorted('parts');
  }

  source(id: string): Source | undefined {
    return this.facts.records.sources.get(id);
  }

  sources(): readonly Source[] {
    return this.#sorted('sources');
  }

  publication(id: string): Publication | undefined {
    return this.facts.records.publications.get(id);
  }

  publications(): readonly Publication[] {
    return this.#sorted('publications');
  }

  pattern(id: string): NamedPattern | undefined {
    return this.facts.records.patterns.get(id);
  }

  patterns(): readonly NamedPattern[] {
    return this.#sorted('patterns');
  }

  feed(id: string): Feed | undefined {
    return this.facts.records.feeds.get(id);
  }

  feeds(): readonly Feed[] {
    return this.#sorted('feeds');
  }

  listMapping(id: string): ListMapping | undefined {
    return this.facts.records.listMappings.get(id);
  }

  listMappings(): readonly ListMapping[] {
    return this.#sorted('listMappings');
  }

  /** Whether there is a catalogue record. */
  sees(collection: Collection, id: string): boolean {
    return this.facts.records[collection].has(id);
  }

  /** Editors' judgements of a decision, in order. */
  judgementsOf(decisionId: string): readonly DecisionJudgement[] {
    return this.facts.judgements.get(decisionId) ?? [];
  }

  /** Corrections, first to last. */
  get corrections(): readonly Correction[] {
    return this.derived(correctionsIn);
  }

  /** Hits of a full-text search, best first. */
  *search(question: string, kinds?: ReadonlySet<SearchKind>): Generator<SearchHit> {
    const hits = this.#searched?.find(question) ?? this.shared.search?.find(question, this.edition) ?? [];
    for (const hit of hits) {
      if ((!kinds || kinds.has(hit.kind)) && this.#seesHit(hit)) yield hit;
    }
  }

  /**
   * The state after these entries (what-if). Nothing is written, and the work does not grow with the archive.
   * @param entries entries as a journal would number them behind {@link sequence}
   */
  with(entries: readonly Entry[]): State {
    const draft = new FactsDraft(this.facts, this.shared.names);
    const changes = new TouchedIds();
    for (const entry of entries) changes.add(applyEntry(draft, entry));
    const facts = draft.seal();
    const devices = new Set(changes.devices);
    for (const id of changes.specimens) devices.add(facts.specimens.get(id)?.deviceId as string);
    for (const id of changes.decisions) devices.add(parseDecisionId(id)?.device as string);
    const { audience, now, edition } = this;
    changes.addAll(this.aside);
    return new State(facts, this.shared, {
      audience,
      now,
      edition,
      whatIf: { on: this, devices },
      aside: changes,
      searched: this.#searched,
    });
  }

  #sorted<C extends Collection>(collection: C): readonly CatalogueRecord<C>[] {
    return sortedValues(this.facts.records[collection]) as readonly CatalogueRecord<C>[];
  }

  readonly #categoriesOf = (part: string) => this.part(part)?.categories;

  #seesHit({ id, kind, specimen }: SearchHit): boolean {
    if (specimen !== '') return this.facts.specimens.has(specimen);
    switch (kind) {
      case 'MAKER':
        return this.sees('makers', id);
      case 'PRODUCT_LINE':
        return this.sees('productLines', id);
      case 'PUBLICATION':
        return this.sees('publications', id);
      case 'PART':
        return this.sees('parts', id);
      case 'DEVICE':
        return this.facts.devices.has(id);
      default:
        return true;
    }
  }
}

const NO_CHANGES = new TouchedIds();

interface Table {
  table?: UnnamedKinds;
  of?: Pick<State, 'edition' | 'aside'>;
}

/**
 * The tables that were learnt last, and from which states: the next one counts only what differs. Each audience learns from what it
 * sees itself.
 */
const lastTables = (): Record<Audience, Table> => ({ reader: {}, desk: {} });

/** Lets a state that was restored have the table that it had, and later ones count only what differs. */
export function keepTable(state: State, table: UnnamedKinds): void {
  const { audience, edition, aside, shared } = state;
  Object.assign(shared.kept(lastTables)[audience], { table, of: { edition, aside } });
}

function learntFrom(state: State): UnnamedKinds {
  const { facts, shared, edition, aside } = state;
  const tables = shared.kept(lastTables);
  const last = tables[state.audience];
  const categoriesOf = (part: string) => facts.records.parts.get(part)?.categories;
  const between = last.of && shared.changesBetween(last.of.edition, edition);
  if (last.table && last.of && between) {
    const ids = new Set([...between, last.of.aside, aside].flatMap(({ specimens }) => [...specimens]));
    for (const id of shared.partlyHidden()) ids.add(id);
    last.table = last.table.relearn(
      [...ids].map((id) => [id, facts.specimens.get(id)] as const),
      shared.names,
      categoriesOf,
    );
  } else
    last.table = UnnamedKinds.learn(
      facts.specimens.values(),
      shared.names,
      // What is said alike for both is the same object, so that what was calculated with it is, too.
      last.table ?? tables.desk.table ?? tables.reader.table,
      undefined,
      categoriesOf,
    );
  last.of = { edition, aside };
  return last.table;
}

/** Values of a persistent map in the order of their keys; kept as long as the map. */
function sortedValues<T>(map: { entries(): Iterable<[string, T]> }): readonly T[] {
  let values = sorted.get(map) as readonly T[] | undefined;
  if (!values) {
    values = [...map.entries()].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, value]) => value);
    sorted.set(map, values);
  }
  return values;
}

const sorted = new WeakMap<object, readonly unknown[]>();

const sortedDevices = ({ facts }: State) => sortedValues(facts.devices).map(({ device }) => device);
const sortedSpecimens = ({ facts }: State) => sortedValues(facts.specimens);
const correctionsIn = ({ facts }: State) => facts.corrections.map(({ correction }) => correction);
