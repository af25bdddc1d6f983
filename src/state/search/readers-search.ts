import { COLLECTIONS } from '../../model/catalogue.ts';
import type { Facts } from '../facts.ts';
import { dossierOf } from '../merge.ts';
import type { Seen } from '../visibility/audience.ts';
import { documentsOfDossier, documentsOfRecord } from './search-documents.ts';
import { compareHits, type SearchDocument, type SearchHit, SearchIndex } from './search-index.ts';

/** States that are remembered until somebody searches. */
const MOST_PENDING = 16;

/** What the index has to follow. */
interface Pending {
  readonly facts: Facts;
  /** What has other documents than at the desk; worked out when it is first wanted. */
  readonly owners: () => ReadonlySet<string>;
  readonly edition: number;
}

/** What documents follow from: as long as these are the same objects, so are the documents. */
type Basis = readonly unknown[];

/**
 * Words of what readers see in another form than the desk, so that a search finds what they see and nothing else. What is the same for
 * both stands in the archive's index alone.
 */
export class ReadersSearch {
  readonly #shared: Pick<SearchIndex, 'find'>;
  readonly #own = new SearchIndex();
  readonly #known = new Map<string, Basis>();
  /** What the index has still to follow, the earliest first. */
  readonly #pending: Pending[] = [];

  constructor(shared: Pick<SearchIndex, 'find'>) {
    this.#shared = shared;
  }

  /** The search in what readers see from an edition on, which is no earlier than the last one; the index follows with the first search. */
  follow(seen: Seen, desk: Facts, edition: number): { find(question: string): Iterable<SearchHit> } {
    const owners = once(() => ownersOf(seen, desk));
    this.#pending.push({ facts: seen.facts, owners, edition });
    if (this.#pending.length > MOST_PENDING) this.#settle();
    return {
      find: (question) => {
        this.#settle();
        return owners().size === 0
          ? this.#shared.find(question, edition)
          : this.#find(question, owners(), edition);
      },
    };
  }

  /** Brings the index in step with everything that it was to follow, in order. */
  #settle(): void {
    if (this.#pending.length === 0) return;
    this.#own.batch(() => {
      for (const one of this.#pending) this.#take(one);
    });
    this.#pending.length = 0;
  }

  #take({ facts, owners, edition }: Pending): void {
    for (const id of this.#known.keys()) if (!owners().has(id)) this.#replace(id, undefined, [], edition);
    for (const id of owners()) {
      const basis = basisOf(facts, id);
      const before = this.#known.get(id);
      if (before && basis.length === before.length && basis.every((one, i) => one === before[i])) continue;
      this.#replace(id, basis, documentsOf(facts, id), edition);
    }
  }

  close(): void {
    this.#own.close();
  }

  #replace(
    id: string,
    basis: Basis | undefined,
    documents: readonly SearchDocument[],
    edition: number,
  ): void {
    this.#own.replace(id, documents, edition);
    if (basis) this.#known.set(id, basis);
    else this.#known.delete(id);
  }

  *#find(question: string, owners: ReadonlySet<string>, edition: number): Generator<SearchHit> {
    const own = this.#own.find(question, edition)[Symbol.iterator]();
    let next = own.next();
    for (const hit of this.#shared.find(question, edition)) {
      if (owners.has(hit.specimen || hit.id)) continue;
      for (; !next.done && compareHits(next.value, hit) < 0; next = own.next()) yield next.value;
      yield hit;
    }
    for (; !next.done; next = own.next()) yield next.value;
  }
}

/** What has other documents for readers: what differs, and what has the name of something that differs in its documents. */
function ownersOf({ facts, differing }: Seen, desk: Facts): ReadonlySet<string> {
  const owners = new Set<string>();
  const note = (id: string) => {
    // Most of what differs is a device without a hidden predecessor, of which no word tells.
    if (
      facts.specimens.has(id) ||
      JSON.stringify(documentsOf(facts, id)) !== JSON.stringify(documentsOf(desk, id))
    )
      owners.add(id);
  };
  for (const id of differing) {
    note(id);
    if (facts.records.makers.has(id))
      for (const made of facts.links.into(id, 'MADE_BY')) if (facts.devices.has(made)) note(made);
    const row = facts.devices.get(id);
    if (row && row.device.name !== desk.devices.get(id)?.device.name)
      for (const one of row.specimens) owners.add(one);
  }
  return owners;
}

function basisOf(facts: Facts, id: string): Basis {
  const row = facts.specimens.get(id);
  if (row) return [row, facts.devices.get(row.deviceId)?.device];
  const record = recordIn(facts, id);
  const device = facts.records.devices.get(id);
  return [record?.record, device && facts.records.makers.get(device.maker)];
}

function documentsOf(facts: Facts, id: string): readonly SearchDocument[] {
  const row = facts.specimens.get(id);
  if (row) return documentsOfDossier(dossierOf(row), facts);
  const found = recordIn(facts, id);
  return found ? documentsOfRecord(found.collection, found.record, facts) : [];
}

function recordIn(facts: Facts, id: string) {
  for (const collection of COLLECTIONS) {
    const record = facts.records[collection].get(id);
    if (record) return { collection, record };
  }
  return undefined;
}

function once<T>(make: () => T): () => T {
  let made: { readonly value: T } | undefined;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}
