import type { Audience } from '../../state/visibility/audience.ts';
import type { FeedAnswer } from './answers.ts';
import type { FeedWatch } from './watch.ts';

/**
 * The answer of a feed as it is now and then each time it has changed, until the audience sees the feed no more or whoever listens
 * leaves. Of several that were not taken yet the last one counts.
 */
export function changesOf(
  watch: FeedWatch,
  id: string,
  audience: Audience,
): AsyncIterableIterator<FeedAnswer> {
  let next: FeedAnswer | undefined;
  let isOver = false;
  let wake: () => void = () => undefined;
  const unsubscribe = watch.subscribe(id, audience, (answer) => {
    if (answer) next = answer;
    else isOver = true;
    wake();
  });
  const end = () => {
    isOver = true;
    next = undefined;
    unsubscribe();
    wake();
  };
  return {
    async next() {
      while (!next && !isOver)
        await new Promise<void>((resolve) => {
          wake = resolve;
        });
      const value = next;
      next = undefined;
      if (value) return { value, done: false };
      unsubscribe();
      return { value: undefined, done: true };
    },
    async return() {
      end();
      return { value: undefined, done: true };
    },
    [Symbol.asyncIterator]() {
      return this;
    },
  };
}
