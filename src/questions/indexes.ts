import type { Archive } from '../archive.ts';
import { COLUMNS } from '../state/lists/component-columns.ts';
import type { State } from '../state/state.ts';
import type { Audience } from '../state/visibility/audience.ts';

/** Aligns the indexes for questions over the complete archive with a state, in turns with other work. */
async function alignIndexes(state: State, signal: AbortSignal): Promise<void> {
  const [{ patternIndexOf }, { presenceOf, readTogether }, { identifierOf, learnTogether }] =
    await Promise.all([
      import('../patterns/pattern-index.ts'),
      import('../presence/presence.ts'),
      import('../identification/questions.ts'),
    ]);
  // All are registered first, so that each dossier is unpacked once for them.
  readTogether(state);
  await learnTogether(state, signal);
  const index = patternIndexOf(state);
  // The first question with a pattern would wait for them.
  const { defaultPool } = await import('../gql/gql.ts');
  defaultPool().warm();
  await index.catchUp(state, signal);
  // Records of the catalogue come in here, which the first search would wait for.
  index.align(state);
  await presenceOf(state, signal);
  // The first question what a component may be would wait for it.
  await identifierOf(state, signal);
}

/** Components of a device from which its decisions are worked out before anybody asks, for they take some tenths of a second. */
const LARGE = 300;
/** Devices for which this is done at most, the largest first. */
const MOST_LARGE = 20;

/** Works out the decisions of the largest devices, in turns with other work; those already known take no time. */
async function readyLargeDevices(state: State, signal: AbortSignal): Promise<void> {
  const sizes = new Map<string, number>();
  for (const { deviceId, columns } of state.specimenRows())
    sizes.set(deviceId, (sizes.get(deviceId) ?? 0) + columns.length / COLUMNS);
  const large = [...sizes].filter(([, size]) => size >= LARGE).sort(([, a], [, b]) => b - a);
  if (large.length === 0) return;
  const { ownDecisionsOf } = await import('../decisions/decisions.ts');
  for (const [id] of large.slice(0, MOST_LARGE))
    if (state.device(id)) await ownDecisionsOf(state, id, signal);
}

/**
 * Keeps the indexes for questions over the complete archive in step with it from now on, in turns with other work: for
 * a long-running process.
 * @param audiences those who ask, the one that is to wait least first; each has a pattern graph of its own
 * @param onFailure called with the error; the next change tries again
 * @returns `first` resolves when they are in step for the first time; `stop` ends it
 */
export function keepIndexed(
  archive: Archive,
  audiences: readonly Audience[],
  onFailure: (error: unknown) => void,
): { readonly first: Promise<void>; stop(): void } {
  const ending = new AbortController();
  const { signal } = ending;
  let isBehind = false;
  let running: Promise<void> | undefined;
  const bring = async () => {
    while (isBehind && !signal.aborted) {
      isBehind = false;
      for (const audience of audiences) {
        const state = archive.state(audience);
        await alignIndexes(state, signal);
        await readyLargeDevices(state, signal);
      }
      // The next start is spared all of this.
      if (!isBehind && archive.snapshotIsDue(audiences)) await archive.saveSnapshot(audiences, signal);
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
