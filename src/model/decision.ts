import { z } from 'zod';
import { slug, text } from './fields.ts';

/** What an editor may say of a decision that a pattern suggests. */
export const DECISION_VERDICTS = ['endorsed', 'doubted', 'rejected'] as const;
export type DecisionVerdict = (typeof DECISION_VERDICTS)[number];

export const decisionJudgedSchema = z
  .strictObject({
    device: slug.describe('Id of the device.'),
    pattern: slug.describe('Id of the named pattern.'),
    verdict: z.enum(DECISION_VERDICTS),
    evidence: text.describe('Digest of the evidence that the editor had before them.'),
  })
  .describe("An editor endorses, doubts or rejects a design decision; who and why are the entry's own.");
export type DecisionJudged = z.infer<typeof decisionJudgedSchema>;

/** A verdict as it stands in the archive. */
export interface DecisionJudgement {
  readonly verdict: DecisionVerdict;
  readonly evidence: string;
  readonly by: string;
  readonly reason: string;
  /** ISO 8601, UTC. */
  readonly on: string;
}

/** Id of a decision: device id, colon, pattern id. */
export function decisionId(device: string, pattern: string): string {
  return `${device}:${pattern}`;
}

/** Device and pattern of a decision's id; undefined for any other id. */
export function readDecisionId(
  id: string,
): { readonly device: string; readonly pattern: string } | undefined {
  const [device, pattern, more] = id.split(':');
  return device && pattern && more === undefined ? { device, pattern } : undefined;
}
