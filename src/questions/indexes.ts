import type { Archive } from '../archive.ts';
import type { State } from '../state/state.ts';

/** Aligns the indexes for questions over the complete archive with a state, in turns with other work. */
async function alignIndexes(state: State, signal: AbortSignal): Promise<void> {
  const [{ patternIndexOf }, { presenceOf, readTogether }] = await Promise.all([
    import('../patterns/pattern-index.ts'),
    import('../presence/presence.ts'),
  ]);
  // Both are registered first, so that each dossier is unpacked once for the two.
  readTogether(state);
  await patternIndexOf(state).catchUp(state, signal);
  await presenceOf(state, signal);
}

/**
 * Keeps the indexes for questions over the complete archive in step with it from now on, in turns with other work: for
 * a long-running process.
 * @param onFailure called with the error; the next change tries again
 * @returns `first` resolves when they are in step for the first time; `stop` ends it
 */
export function keepIndexed(
  archive: Archive,
  onFailure: (error: unknown) => void,
): { readonly first: Promise<void>; stop(): void } {
  const ending = new AbortController();
  const { signal } = ending;
  let isBehind = false;
  let running: Promise<void> | undefined;
  const bring = async () => {
    while (isBehind && !signal.aborted) {
      isBehind = false;
      await alignIndexes(archive.state('desk'), signal);
    }
  };
  const start = (): Promise<void> => {
    isBehind = true;
    running ??= bring()
      .catch((error: unknown) => {
        if (!signal.aborted) onFailure(error);
      })
      .finally(() => {
        running = undefined;
      });
    return running;
  };
  const unsubscribe = archive.onTouched(() => void start());
  return {
    first: start(),
    stop() {
      unsubscribe();
      ending.abort();
    },
  };
}
