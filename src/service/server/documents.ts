import { type Documents, documentIdOf, documentIds } from '../../api-schema/document-id.ts';
import type { Feed } from '../../model/catalogue.ts';
import { CasebackError } from '../../model/problems.ts';
import type { State } from '../../state/state.ts';
import type { Asked } from './executor.ts';
import type { Requested } from './parameters.ts';

/**
 * Finds documents by their identifiers ("GraphQL over HTTP", appendix A): those of the service, and the questions of the feeds that
 * the asker may see. An identifier follows from the text alone, so that only who has the text can ask whether it is known; and the
 * question of a feed that readers do not see is as unknown to them as one that nobody stored.
 */
export class PersistedDocuments {
  readonly #own: Documents;
  readonly #only: boolean;

  /** @param only whether readers may ask nothing else; people at the desk may always */
  constructor(own: Documents, only: boolean) {
    this.#own = own;
    this.#only = only;
  }

  /**
   * What is asked, with the text of its document.
   * @param view what the asker sees: the feeds in it are known
   * @throws CasebackError UNKNOWN_DOCUMENT, DOCUMENTS_ONLY; BAD_INPUT for a text that is not that of its identifier
   */
  found({ documentId, query, ...rest }: Requested, view: State): Asked {
    const isHeld = this.#only && view.audience === 'reader';
    if (query !== undefined) {
      const id = isHeld || documentId !== undefined ? documentIdOf(query) : undefined;
      if (documentId !== undefined && documentId !== id)
        throw new CasebackError(
          'BAD_INPUT',
          `documentId is not that of the query, which is ${id}; send one of the two`,
        );
      if (isHeld && this.textOf(id as string, view) === undefined)
        throw new CasebackError(
          'DOCUMENTS_ONLY',
          'This service answers readers only documents that it knows, and this is none of them; ask by documentId for one that was given to it, or for the question of a feed',
        );
      return { ...rest, query };
    }
    const id = documentId ?? '';
    const text = this.textOf(id, view);
    if (text === undefined) throw unknown(id, isHeld);
    return { ...rest, query: text };
  }

  /** The text of a document; undefined where nobody who sees the view knows one of this identifier. */
  textOf(id: string, view: State): string | undefined {
    return this.#own.get(id) ?? view.derived(questionsOf).get(id);
  }
}

/** Questions of feeds by their identifiers. */
function questionsOf(view: State): Documents {
  return new Map(view.feeds().flatMap(idsOf));
}

/** Taking digests of all feeds for each state would cost an entry more than it does; a feed is the same object until it changes. */
const known = new WeakMap<Feed, ReturnType<typeof documentIds>>();

function idsOf(feed: Feed): ReturnType<typeof documentIds> {
  let ids = known.get(feed);
  if (!ids) {
    ids = documentIds(feed.question);
    known.set(feed, ids);
  }
  return ids;
}

function unknown(id: string, isHeld: boolean): CasebackError {
  if (!id.startsWith('sha256:'))
    return new CasebackError(
      'UNKNOWN_DOCUMENT',
      'Documents are known by the SHA-256 of their text alone; write documentId as sha256: and 64 hexadecimal digits in lower case',
    );
  if (!/^sha256:[\da-f]{64}$/u.test(id))
    return new CasebackError(
      'BAD_INPUT',
      'documentId has no SHA-256 behind sha256:; write the 64 hexadecimal digits of the digest of the text, in lower case',
    );
  const fix = isHeld
    ? 'ask for one that was given to the service, or for the question of a feed'
    : 'send its text as query instead, or ask for one that was given to the service, or for the question of a feed';
  return new CasebackError('UNKNOWN_DOCUMENT', `No document has the documentId ${id} here; ${fix}`);
}
