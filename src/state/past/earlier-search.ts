import { COLLECTIONS } from '../../model/catalogue.ts';
import type { Facts, SpecimenRow } from '../facts.ts';
import { dossierOf } from '../merge.ts';
import { documentsOfDossier, documentsOfRecord } from '../search/search-documents.ts';
import { compareHits, type SearchHit, SearchIndex } from '../search/search-index.ts';
import { TouchedIds } from '../touched-ids.ts';

/** The facts of today and the documents made from them. */
interface Present {
  readonly facts: Facts;
  readonly find: (question: string) => Iterable<SearchHit>;
}

/** The index of what differs from facts of today. */
interface Made {
  readonly present: Facts;
  readonly differing: ReadonlySet<string>;
  readonly own: SearchIndex;
}

/**
 * Full-text search in earlier facts: what is as it is today is found in today's index, and the rest in an index of its own,
 * made for the first question.
 */
export class EarlierSearch {
  readonly #facts: Facts;
  readonly #present: () => Present;
  readonly #twinOf: (row: SpecimenRow) => SpecimenRow;
  #made: Made | undefined;

  /** @param twinOf the row that stands for one of today in earlier facts */
  constructor(facts: Facts, present: () => Present, twinOf: (row: SpecimenRow) => SpecimenRow) {
    this.#facts = facts;
    this.#present = present;
    this.#twinOf = twinOf;
  }

  /** Hits, best first, as {@link SearchIndex.find}. */
  *find(question: string): Generator<SearchHit> {
    const { facts, find } = this.#present();
    if (this.#made?.present !== facts) this.#made = this.#make(facts);
    const { differing, own } = this.#made;
    const shared = kept(find(question), ({ id, specimen }) => !differing.has(specimen || id));
    yield* merged(shared, own.find(question, EDITION));
  }

  #make(present: Facts): Made {
    this.#made?.own.close();
    const changes = TouchedIds.between(this.#facts, present);
    const { records, specimens } = changes;
    const renamed = this.#underOtherNames(changes, present);
    for (const id of renamed) (this.#facts.specimens.has(id) ? specimens : records.devices).add(id);
    const own = new SearchIndex();
    const differing = new Set<string>();
    own.batch(() => {
      for (const id of specimens) {
        const now = present.specimens.get(id);
        if (now && !renamed.has(id) && this.#facts.specimens.get(id) === this.#twinOf(now)) continue;
        differing.add(id);
        const row = this.#facts.specimens.get(id);
        if (row) own.replace(id, documentsOfDossier(dossierOf(row), this.#facts), EDITION);
      }
      for (const collection of COLLECTIONS)
        for (const id of records[collection]) {
          differing.add(id);
          const record = this.#facts.records[collection].get(id);
          if (record) own.replace(id, documentsOfRecord(collection, record, this.#facts), EDITION);
        }
    });
    return { present, differing, own };
  }

  /**
   * Devices and specimens whose documents have a name that is another one today, though they themselves are as they are today. Where
   * readers search, today's may be the name of a version that they do not see.
   */
  #underOtherNames({ devices, records }: TouchedIds, present: Facts): ReadonlySet<string> {
    const { links, ...facts } = this.#facts;
    const renamed = new Set<string>();
    for (const id of devices)
      if (facts.devices.get(id)?.device.name !== present.devices.get(id)?.device.name)
        for (const one of facts.devices.get(id)?.specimens ?? []) renamed.add(one);
    for (const id of records.makers) {
      if (facts.records.makers.get(id)?.name === present.records.makers.get(id)?.name) continue;
      for (const made of links.into(id, 'MADE_BY')) if (facts.devices.has(made)) renamed.add(made);
    }
    return renamed;
  }
}

/** The one edition of an index of earlier documents. */
const EDITION = 1;

function* kept(hits: Iterable<SearchHit>, keeps: (hit: SearchHit) => boolean): Generator<SearchHit> {
  for (const hit of hits) if (keeps(hit)) yield hit;
}

/** Two lists of hits as one, best first. */
function* merged(a: Generator<SearchHit>, b: Generator<SearchHit>): Generator<SearchHit> {
  let [one, other] = [a.next(), b.next()];
  while (!one.done && !other.done) {
    if (compareHits(one.value, other.value) <= 0) {
      yield one.value;
      one = a.next();
    } else {
      yield other.value;
      other = b.next();
    }
  }
  if (!one.done) yield one.value;
  if (!other.done) yield other.value;
  yield* a;
  yield* b;
}
