import { notOfState } from '../../api-schema/question.ts';
import type { Archive } from '../../archive.ts';
import type { Feed } from '../../model/catalogue.ts';
import type { State } from '../../state/state.ts';
import type { FeedAnswer } from '../feeds/answers.ts';
import { citedStatesOf } from './cited-states.ts';

/** Names already given: an answer keeps its own for as long as it is the answer, so that equal answers say the same. */
const names = new WeakMap<FeedAnswer, string>();
/** Whether the question of a feed is of one state; a feed is the same object until it changes. */
const citable = new WeakMap<Feed, boolean>();

/**
 * The Link field that names the address under which an answer of a feed stays what it is (RFC 8574); undefined where there is none, as
 * the question is not of one state.
 * @param view state that the answer is from
 */
export async function citeAs(
  archive: Archive,
  view: State,
  answer: FeedAnswer,
  form: 'json' | 'csv',
): Promise<string | undefined> {
  const { feed } = answer;
  let isCitable = citable.get(feed);
  if (isCitable === undefined) {
    isCitable = notOfState(feed.question) === undefined;
    citable.set(feed, isCitable);
  }
  if (!isCitable) return undefined;
  let name = names.get(answer);
  // Where the store is away the answer goes without; the next one may have it.
  name ??= await citedStatesOf(archive)
    // Somebody else may have asked meanwhile.
    .then((states) => names.get(answer) ?? states.nameOf(view))
    .catch(() => undefined);
  if (name === undefined) return undefined;
  names.set(answer, name);
  return `</cite/${feed.id}.${form}?state=${name}>; rel="cite-as"`;
}
