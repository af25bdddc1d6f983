/** What a search that stopped early has not done, in words. */
import type { Outcome } from './search/request.ts';
import type { Shortage } from './search/stage.ts';

const REASONS: Readonly<Record<Shortage, string>> = {
  time: 'The time was up',
  rows: 'The limit of rows was reached',
  memory: 'The memory for groups, sorting or distinct rows was used up',
  steps: 'The number of steps was used up',
  length: 'A path grew longer than paths are followed',
  cancelled: 'The query was cancelled',
};

/** How far a search came that goes segment by segment. */
export interface Searched {
  /** Segments searched to the end. */
  readonly segments: number;
  /** Segments in which something may be found. */
  readonly of: number;
}

/** Of all threads together; undefined when the search does not go segment by segment. */
export function searchedBy(outcomes: readonly Outcome[]): Searched | undefined {
  const of = Math.max(...outcomes.map((outcome) => outcome.segments));
  if (!(of > 0)) return undefined;
  return { segments: outcomes.reduce((sum, { searched }) => sum + searched, 0), of };
}

/** Longest excerpt of the text. */
const LONGEST = 60;

/**
 * Why a search stopped, how far it had come, and in which part of the text it was.
 * @param text the text of the pattern
 * @param segmentsName what the segments of the graph are, in the plural
 */
export function shortageNote(
  shortage: Shortage,
  text: string,
  segmentsName: string,
  searched: Searched | undefined,
  stoppedIn: Outcome['stoppedIn'],
): string {
  const far =
    searched &&
    `${searched.segments.toLocaleString('en')} of ${searched.of.toLocaleString('en')} ${segmentsName} that could have a match were searched to the end; `;
  const sentences = [
    `${REASONS[shortage]}: ${far ?? ''}there may be more than is here, and counts may be too low.`,
  ];
  if (stoppedIn) {
    const part = text.slice(stoppedIn.start, stoppedIn.end).replace(/\s+/g, ' ');
    sentences.push(`It stopped in ${part.length > LONGEST ? `${part.slice(0, LONGEST)}…` : part}`);
  }
  return sentences.join(' ');
}
