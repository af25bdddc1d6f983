import { nearMatches, type Removed, type SegmentMatch } from '../gql/gql.ts';
import { recordOfId } from '../model/ids.ts';
import { preparedMatches } from '../pattern-texts/prepared.ts';
import type { State } from '../state/state.ts';
import type { PatternQuestion } from './answer.ts';
import { queryOptions, roamingIn } from './find.ts';
import { patternIndexOf } from './pattern-index.ts';

/** A device that would match a pattern but for a single thing. */
export interface NearDevice {
  readonly deviceId: string;
  readonly specimenId: string;
  /** What prevents the match, each alone, quoting the pattern. */
  readonly missing: readonly string[];
}

export interface NearAnswer {
  readonly devices: readonly NearDevice[];
  /** False when a budget ended the search before everything was looked at. */
  readonly complete: boolean;
  /** Why it is not complete, in a sentence that says what was not tried. */
  readonly note: string | undefined;
}

/** Milliseconds for all variants of a pattern together. */
const TIME = 5_000;

/**
 * Visible devices without a match that have one when one node, one edge or one condition of the pattern is left out,
 * by id. A device shows once, with its first specimen.
 */
export async function nearFind(state: State, question: PatternQuestion): Promise<NearAnswer> {
  const index = patternIndexOf(state);
  const pattern = await preparedMatches(question);
  const options = await queryOptions(index, state, question, pattern);
  const { matches, complete, note } = await nearMatches(index.graph, pattern, {
    ...options,
    ...roamingIn(question),
    only: question.specimens,
    budgets: { time: TIME, ...question.budgets },
  });
  const devices = new Map<string, NearDevice>();
  for (const { key, missing } of matches) {
    const deviceId = recordOfId(key);
    if (devices.has(deviceId)) continue;
    const words = missing.map(({ removed, example }) => missingText(removed, example, question.text));
    devices.set(deviceId, { deviceId, specimenId: key, missing: [...new Set(words)] });
  }
  const sorted = [...devices.values()].sort((a, b) => (a.deviceId < b.deviceId ? -1 : 1));
  return { devices: sorted, complete, note };
}

/** What the specimen lacks of the pattern, with what is in its place, if anything. */
function missingText(
  { kind, condition, variable, span }: Removed,
  example: SegmentMatch | undefined,
  text: string,
): string {
  const quoted = text.slice(span.start, span.end).replace(/\s+/gu, ' ').trim();
  const bound = variable === undefined ? null : (example?.bindings[variable] ?? null);
  const there = bound?.kind === 'node' ? bound.id : undefined;
  switch (kind) {
    case 'node':
      return `nothing matches ${quoted}`;
    case 'edge':
      return `no link ${quoted}`;
    case 'condition':
      if (condition !== 'labels') return `the condition ${quoted} is not met`;
      return there
        ? `${there} would be "${variable}", but is not known to be ${quoted}`
        : `what was found is not known to be ${quoted}`;
    default:
      return kind satisfies never;
  }
}
