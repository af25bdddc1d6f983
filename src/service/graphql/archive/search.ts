import { CasebackError } from '../../../model/problems.ts';
import type { SearchHit } from '../../../state/search/search-index.ts';
import type { State } from '../../../state/state.ts';
import { viewOf } from '../context.ts';
import { idIn } from '../instants.ts';
import { rankedListing } from '../listing.ts';
import { findNode } from '../node.ts';
import { paginate } from '../paginate.ts';
import type { QuerySearchArgs, Resolvers } from '../resolver-types.ts';

/** Hits that are looked at for one question; more are not counted. */
const MAX_HITS = 10_000;
/** Characters of a question. */
const LONGEST_QUESTION = 200;

function pageOfHits(view: State, { text, kinds, ...page }: QuerySearchArgs) {
  if (text.length > LONGEST_QUESTION) {
    throw new CasebackError(
      'BAD_INPUT',
      `text has ${text.length} characters; at most ${LONGEST_QUESTION} are searched for`,
    );
  }
  const hits: SearchHit[] = [];
  for (const hit of view.search(text, kinds ? new Set(kinds) : undefined)) {
    if (hits.push(hit) > MAX_HITS) break;
  }
  const isComplete = hits.length <= MAX_HITS;
  const listing = rankedListing('hits', isComplete ? hits : hits.slice(0, MAX_HITS), ({ id }) => id);
  return Object.assign(
    paginate(listing, page, (hit) => ({ ...hit, id: idIn(view, hit.id), node: findNode(view, hit.id) })),
    { isComplete },
  );
}

/** Full-text search. */
export const search: Resolvers = {
  Query: { search: (root, args, context) => pageOfHits(viewOf(root, context), args) },
};
