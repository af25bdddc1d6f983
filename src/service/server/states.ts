import type { FastifyReply, FastifyRequest } from 'fastify';
import type { ExecutionResult } from 'graphql/index.js';
import type { Archive } from '../../archive.ts';
import { CasebackError } from '../../model/problems.ts';
import type { State } from '../../state/state.ts';
import type { Asked } from './executor.ts';
import type { Requested } from './parameters.ts';
import { StateTokens } from './state-token.ts';

/** The header with a state token, of requests and of answers. */
export const STATE_HEADER = 'caseback-state';

/** How long a request waits until this process knows what the asker has seen of another, ms. */
const PATIENCE = 5_000;

/**
 * State tokens of a service: every answer carries one, and a request that brings one is answered from that state or a later
 * one, whichever process on the journal it reaches. So each asker sees what he has written, and nothing that he has seen goes away.
 */
export class States {
  #tokens: StateTokens | undefined;
  #loading: Promise<void> | undefined;

  constructor(archive: Archive | PromiseLike<Archive>) {
    // Before the first question; an archive that cannot be read has no answers either.
    Promise.resolve(archive).then(
      (opened) => this.#load(opened),
      () => undefined,
    );
  }

  /**
   * Undefined when there is nothing to wait for.
   * @throws CasebackError BAD_INPUT for what is not a token of this archive; the promise, UNAVAILABLE when it takes too long
   */
  waitFor(request: FastifyRequest, { state }: Requested, archive: Archive): Promise<void> | undefined {
    const header = request.headers[STATE_HEADER];
    const token = state ?? (typeof header === 'string' ? header : undefined);
    if (token === undefined) return this.#tokens ? undefined : this.#load(archive);
    const reached = (tokens: StateTokens): Promise<void> | undefined => {
      const sequence = tokens.open(token);
      return archive.version >= sequence ? undefined : archive.reached(sequence, PATIENCE);
    };
    if (this.#tokens) return reached(this.#tokens);
    return this.#load(archive).then(() => {
      if (this.#tokens) return reached(this.#tokens);
      throw new CasebackError('UNAVAILABLE', 'State tokens cannot be read just now; try again');
    });
  }

  /**
   * Puts the token of an answer into its header; of a change, and for who sent one in the extensions, into those of the
   * answer too. Other answers keep their text, which is the same for the same state.
   * @param changed the sequence up to which whoever made a change knows now
   */
  told(
    reply: FastifyReply,
    asked: Asked,
    view: State,
    result: ExecutionResult,
    changed: number | undefined,
  ): ExecutionResult {
    if (!this.#tokens) return result;
    const token = this.#tokens.seal(changed ?? view.facts.sequence);
    reply.header(STATE_HEADER, token);
    if (!changed && asked.state === undefined) return result;
    return { ...result, extensions: { ...result.extensions, state: token } };
  }

  async #load(archive: Archive): Promise<void> {
    this.#loading ??= (async () => {
      try {
        const secret = await archive.secret();
        if (secret) this.#tokens = new StateTokens(secret);
      } catch {
        // Answers go without; the next request tries again.
      } finally {
        this.#loading = undefined;
      }
    })();
    await this.#loading;
  }
}
