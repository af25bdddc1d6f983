import type { Accounts } from '../../access/accounts.ts';

/** How long a request waits for the store of accounts when it is known what it said last, ms. */
const PATIENCE = 300;

/**
 * Whether anybody has an account, asked of the store for each request, so that a first account counts from then on. An account stays
 * once there is one, so that nothing is asked afterwards. Requests that come while the store is asked share the next look. A store
 * that is away, or slow, has what it said last: a desk goes on reading while its database is restarted.
 */
export class HasPeople {
  readonly #accounts: Accounts;
  #known: boolean | undefined;
  #looking: Promise<boolean> | undefined;
  /** Begins once the look under way has ended, which may have begun before an account was added. */
  #next: Promise<boolean> | undefined;

  constructor(accounts: Accounts) {
    this.#accounts = accounts;
    // Before the first request, so that something is known if the store is away by then.
    this.#look().catch(() => undefined);
  }

  /** @throws CasebackError UNAVAILABLE when the store cannot say and never did */
  ask(): Promise<boolean> | boolean {
    if (this.#known) return true;
    const look = this.#look();
    return this.#known === undefined ? look : this.#orKnown(look, this.#known);
  }

  #look(): Promise<boolean> {
    if (!this.#looking) return this.#start();
    this.#next ??= this.#looking.then(
      () => this.#start(),
      () => this.#start(),
    );
    return this.#next;
  }

  #start(): Promise<boolean> {
    this.#next = undefined;
    const look = this.#accounts
      .hasPeople()
      .then((has) => {
        this.#known = has;
        return has;
      })
      .finally(() => {
        if (this.#looking === look) this.#looking = undefined;
      });
    this.#looking = look;
    return look;
  }

  async #orKnown(look: Promise<boolean>, known: boolean): Promise<boolean> {
    let timer: NodeJS.Timeout | undefined;
    const late = new Promise<boolean>((resolve) => {
      timer = setTimeout(() => resolve(known), PATIENCE);
    });
    try {
      return await Promise.race([look, late]);
    } catch {
      return known;
    } finally {
      clearTimeout(timer);
    }
  }
}
