import type { Archive } from '../../archive.ts';
import type { Facts } from '../../state/facts.ts';
import type { Audience } from '../../state/visibility/audience.ts';
import type { FeedAnswer, FeedAnswers } from './answers.ts';

/** Longest time between two looks, ms: the clock of the machine may be put forward. */
const LONGEST = 60_000;
/** After a question went wrong, ms. */
const AGAIN = 30_000;
/** Share of the time that is spent asking when something changes without end. */
const SHARE = 0.5;

/** What a listener is told: the answer as it is now, or that the audience sees no such feed any more. */
export type FeedListener = (answer: FeedAnswer | undefined) => void;

interface Watched {
  readonly id: string;
  readonly audience: Audience;
  /** Each with the digest of the answer that it knows. */
  readonly listeners: Map<FeedListener, string | undefined>;
  answer: FeedAnswer | undefined;
  /** What it was answered from; undefined before the first answer. */
  facts: Facts | undefined;
}

/**
 * Tells listeners when the answer of a feed has changed, and only then. What is written is reported by the journal's followers:
 * where what an audience sees is as it was before, nothing is asked; else the questions of the feeds that somebody listens to are
 * asked anew, one after another, each once for all listeners, and for all that was written meanwhile. An embargo that ends
 * counts as a change at its instant.
 */
export class FeedWatch {
  readonly #archive: () => Archive;
  readonly #answers: FeedAnswers;
  readonly #watched = new Map<string, Watched>();
  #unsubscribe: (() => void) | undefined;
  #timer: NodeJS.Timeout | undefined;
  #isBehind = false;
  #looking: Promise<void> | undefined;

  /** @param archive the archive, once it is read; throws before */
  constructor(archive: () => Archive, answers: FeedAnswers) {
    this.#archive = archive;
    this.#answers = answers;
  }

  /**
   * What a feed answers now, as any request gets it; undefined when the audience sees none of that id.
   * @throws CasebackError for a question that went wrong; NOT_READY
   */
  now(
    id: string,
    audience: Audience,
    charge?: (work: number) => void,
  ): FeedAnswer | Promise<FeedAnswer> | undefined {
    return this.#answers.now(this.#archive(), id, audience, charge);
  }

  /**
   * Calls back with the answer of now, unless it is the known one, and then with each that differs from the one told before.
   * @param known digest of the answer that the listener has
   * @returns the function that unsubscribes
   * @throws CasebackError NOT_READY
   */
  subscribe(id: string, audience: Audience, listener: FeedListener, known?: string): () => void {
    const key = `${audience} ${id}`;
    const watched = this.#watched.get(key) ?? {
      id,
      audience,
      listeners: new Map(),
      answer: undefined,
      facts: undefined,
    };
    this.#start();
    this.#watched.set(key, watched);
    watched.listeners.set(listener, known);
    this.#look();
    return () => {
      watched.listeners.delete(listener);
      if (watched.listeners.size > 0 || this.#watched.get(key) !== watched) return;
      this.#watched.delete(key);
      if (this.#watched.size === 0) this.#stop();
    };
  }

  /** Ends everything; listeners are told nothing any more. */
  close(): void {
    this.#watched.clear();
    this.#stop();
  }

  /** Resolves when everything written so far has been looked at. */
  async settled(): Promise<void> {
    while (this.#looking) await this.#looking;
  }

  #start(): void {
    this.#unsubscribe ??= this.#archive().onTouched(() => this.#look());
  }

  #stop(): void {
    this.#unsubscribe?.();
    this.#unsubscribe = undefined;
    clearTimeout(this.#timer);
    this.#timer = undefined;
  }

  #look(): void {
    this.#isBehind = true;
    this.#looking ??= this.#lookAgain().finally(() => {
      this.#looking = undefined;
      if (this.#isBehind && this.#watched.size > 0) this.#look();
    });
  }

  async #lookAgain(): Promise<void> {
    // Entries of one batch are reported one by one.
    await new Promise<void>((resolve) => setImmediate(resolve));
    let hasFailed = false;
    while (this.#isBehind) {
      this.#isBehind = false;
      const began = performance.now();
      for (const watched of [...this.#watched.values()])
        hasFailed = !(await this.#compare(watched)) || hasFailed;
      const took = performance.now() - began;
      if (this.#isBehind && took > 1)
        await new Promise<void>((resolve) => setTimeout(resolve, took * (1 / SHARE - 1)));
    }
    this.#plan(hasFailed);
  }

  /** The next look that no entry brings about: when an embargo ends, or after a failure. */
  #plan(hasFailed: boolean): void {
    clearTimeout(this.#timer);
    if (this.#watched.size === 0) return;
    const archive = this.#archive();
    const next = hasFailed ? AGAIN : Math.min(LONGEST, archive.untilOpening());
    // One may have ended in this very moment.
    const isNew = ({ audience, facts }: Watched) => archive.state(audience).facts !== facts;
    if (!hasFailed && [...this.#watched.values()].some(isNew)) this.#look();
    this.#timer = setTimeout(() => this.#look(), next).unref();
  }

  /** @returns false where the question went wrong; what was known stays known */
  async #compare(watched: Watched): Promise<boolean> {
    const { id, audience, listeners } = watched;
    try {
      const archive = this.#archive();
      const { facts } = archive.state(audience);
      if (facts !== watched.facts) {
        watched.answer = await this.#answers.now(archive, id, audience);
        watched.facts = facts;
      }
      const { answer } = watched;
      if (!answer) this.#watched.delete(`${audience} ${id}`);
      for (const [listener, known] of [...listeners]) {
        if (!listeners.has(listener) || (answer && answer.digest === known)) continue;
        listeners.set(listener, answer?.digest);
        listener(answer);
      }
      return true;
    } catch {
      return false;
    }
  }
}
