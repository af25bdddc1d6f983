import { LRUCache } from 'lru-cache';
import type { Archive } from '../../archive.ts';
import type { Feed } from '../../model/catalogue.ts';
import type { Facts } from '../../state/facts.ts';
import type { Audience } from '../../state/visibility/audience.ts';
import { askFeed, type Data, type FeedAsker } from './ask.ts';
import { type Form, type Representation, represented } from './representations.ts';

/** Answers kept, and their bytes in all; what is dropped is asked anew. */
const KEPT = { max: 1_000, maxSize: 64 * 2 ** 20 };

interface Kept {
  readonly feed: Feed;
  /** What it was answered from. */
  readonly facts: Facts;
  readonly answer: FeedAnswer;
}

/** What a feed answers an audience, in whichever form is asked for; each is made once. */
export class FeedAnswer {
  readonly feed: Feed;
  readonly data: Data;
  /** Of the answer as JSON: two answers with one digest say the same. */
  readonly digest: string;
  /**
   * Since when this service knows that this is the answer: the instant of the state that first gave it, ISO 8601 in UTC. It is not
   * that of a journal entry, which might be one that the audience does not see.
   */
  readonly since: string;
  /**
   * The same in whole seconds as Last-Modified has it, milliseconds since 1970: later than that of the answer before, so that two
   * answers of one second are told apart (RFC 9110, section 8.8.2.2). So it may be ahead of the clock for a moment.
   */
  readonly modified: number;
  readonly #json: Representation;
  readonly #others = new Map<Form, Promise<Representation>>();
  readonly #mostBytes: number;

  /** @param mostBytes of a form */
  constructor(
    feed: Feed,
    data: Data,
    json: Representation,
    { since, modified }: { readonly since: string; readonly modified: number },
    mostBytes: number,
  ) {
    this.feed = feed;
    this.data = data;
    this.digest = json.digest;
    this.since = since;
    this.modified = modified;
    this.#json = json;
    this.#mostBytes = mostBytes;
  }

  get bytes(): number {
    return this.#json.body.length;
  }

  /** The answer as JSON, or in another form. @throws CasebackError NOT_FOUND where it has no such form; TOO_LARGE */
  in(form: Form): Representation | Promise<Representation> {
    if (form === 'json') return this.#json;
    let made = this.#others.get(form);
    if (!made) {
      made = represented(this.feed, this.data, form, this.#mostBytes);
      this.#others.set(form, made);
      // Drawing may have failed for want of time.
      made.catch(() => this.#others.delete(form));
    }
    return made;
  }

  /** The same answer under a feed that was filed again; forms that the feed has a say in are made anew. */
  of(feed: Feed): FeedAnswer {
    return feed === this.feed ? this : new FeedAnswer(feed, this.data, this.#json, this, this.#mostBytes);
  }
}

/**
 * What feeds answer, kept by feed and audience for as long as what the audience sees stays as it is: so whatever is written that
 * readers do not see changes nothing of what is kept for them. Who asks for the same meanwhile waits for one calculation.
 */
export class FeedAnswers {
  readonly #asker: FeedAsker;
  readonly #mostBytes: number;
  readonly #kept = new LRUCache<string, Kept>({
    ...KEPT,
    // Data take a few times the bytes of their text.
    sizeCalculation: ({ answer }) => 4 * answer.bytes + 1_000,
  });
  readonly #asking = new Map<string, { feed: Feed; facts: Facts; answer: Promise<FeedAnswer> }>();

  /** @param mostBytes of an answer as JSON */
  constructor(asker: FeedAsker, mostBytes: number) {
    this.#asker = asker;
    this.#mostBytes = mostBytes;
  }

  /**
   * What a feed answers now; undefined when the audience sees none of that id.
   * @param charge told the work where the question is asked anew
   * @throws CasebackError for a question that went wrong; nothing is kept then
   */
  now(
    archive: Archive,
    id: string,
    audience: Audience,
    charge?: (work: number) => void,
  ): FeedAnswer | Promise<FeedAnswer> | undefined {
    const state = archive.state(audience);
    const feed = state.feed(id);
    const key = `${audience} ${id}`;
    if (!feed) {
      this.#kept.delete(key);
      return undefined;
    }
    const { facts } = state;
    const kept = this.#kept.get(key);
    if (kept?.feed === feed && kept.facts === facts) return kept.answer;
    const asking = this.#asking.get(key);
    if (asking?.feed === feed && asking.facts === facts) return asking.answer;
    const answer = askFeed(this.#asker, archive, state, feed, charge)
      .then(async (data) => {
        const json = await represented(feed, data, 'json', this.#mostBytes);
        const before = this.#kept.get(key)?.answer;
        const second = Math.floor(Date.parse(state.now) / 1_000) * 1_000;
        const modified = Math.max(second, before ? before.modified + 1_000 : 0);
        const found =
          before?.digest === json.digest
            ? before.of(feed)
            : new FeedAnswer(feed, data, json, { since: state.now, modified }, this.#mostBytes);
        // Somebody may have asked of a later state meanwhile, and be answered already.
        if (this.#asking.get(key)?.answer === answer) this.#kept.set(key, { feed, facts, answer: found });
        return found;
      })
      .finally(() => {
        if (this.#asking.get(key)?.answer === answer) this.#asking.delete(key);
      });
    this.#asking.set(key, { feed, facts, answer });
    return answer;
  }
}
