import { LRUCache } from 'lru-cache';
import { isUnder } from '../model/taxonomy.ts';
import { Pace } from '../state/pace.ts';
import type { State } from '../state/state.ts';
import type { StructureAnswer, StructureQuestion } from './answer.ts';
import { type Circuits, circuitsOf } from './circuits.ts';
import { type Mined, Miner } from './miner.ts';
import { type Settled, settledOf } from './settled.ts';
import { summarise } from './summary.ts';

/** Structures after which a search ends: nobody reads so many, and evaluating them takes long. */
const MAX_FOUND = 50_000;
/** Answers kept; one holds a few hundred structures. */
const KEPT = 8;

/** Current phase: reading dossiers, searching for structures, evaluating what was found. */
export type Doing = 'reading' | 'searching' | 'weighing';

export interface StructureOptions {
  readonly signal?: AbortSignal;
  /** Milliseconds for reading and search; what was found until then is answered. @default no limit */
  readonly budget?: number;
  /** Ends the search as the budget does, when aborted: what was found until then is returned. */
  readonly enough?: AbortSignal;
  /** Called with the share, 0 to 1, that is done of the current phase. */
  readonly onProgress?: (fraction: number, doing: Doing) => void;
}

/**
 * Structures of components and connections that recur over the visible devices, closed ones only, with what chance and
 * the years explain of them: how an editor finds a story that nobody has written.
 * @throws CasebackError BAD_INPUT for a question that makes no sense; the signal's reason when aborted
 */
export async function findStructures(
  state: State,
  question: StructureQuestion = {},
  { signal, budget, enough, onProgress }: StructureOptions = {},
): Promise<StructureAnswer> {
  const settled = settledOf(state, question);
  const kept = state.derived(keptAnswers);
  const key = JSON.stringify(settled);
  const known = kept.get(key);
  if (known) return known;
  const pace = new Pace(signal, budget);
  const tell = (doing: Doing) => (fraction: number) => onProgress?.(fraction, doing);
  const circuits = await circuitsOf(state, settled, pace, tell('reading'));
  const { found, complete } = await mined(circuits, settled, pace, enough, tell('searching'));
  const context = { state, circuits, settled, pace, signal, onProgress: tell('weighing') };
  const answer = await summarise(context, found, complete);
  if (answer.complete) kept.set(key, answer);
  return answer;
}

const keptAnswers = (_: State) => new LRUCache<string, StructureAnswer>({ max: KEPT });

async function mined(
  { store, kinds }: Circuits,
  { minSupport, minSize, maxSize }: Settled,
  pace: Pace,
  enough: AbortSignal | undefined,
  onProgress: (fraction: number) => void,
): Promise<{ readonly found: readonly Mined[]; readonly complete: boolean }> {
  const narrower = narrowerTable(kinds);
  const miner = new Miner(store, {
    minSupport,
    minSize,
    maxSize,
    isNarrower: (label, than) => narrower[label * kinds.length + than] === 1,
  });
  while (miner.step()) {
    if (miner.found.length >= MAX_FOUND) break;
    if (!pace.due) continue;
    onProgress(miner.fraction);
    await pace.rest();
    if (pace.over || enough?.aborted) break;
  }
  onProgress(miner.fraction);
  return { found: miner.found, complete: miner.fraction === 1 };
}

function narrowerTable(kinds: readonly string[]): Uint8Array {
  const table = new Uint8Array(kinds.length ** 2);
  kinds.forEach((kind, a) => {
    kinds.forEach((above, b) => {
      if (kind !== above && isUnder(kind, above)) table[a * kinds.length + b] = 1;
    });
  });
  return table;
}
