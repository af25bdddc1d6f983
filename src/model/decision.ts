/** What an editor may say of a decision that a pattern suggests. */
export const DECISION_VERDICTS = ['endorsed', 'doubted', 'rejected'] as const;
export type DecisionVerdict = (typeof DECISION_VERDICTS)[number];

/** An editor's verdict as it is journaled; who and why are the entry's own. */
export interface DecisionJudged {
  /** Id of the device. */
  readonly device: string;
  /** Id of the named pattern. */
  readonly pattern: string;
  readonly verdict: DecisionVerdict;
  /** Digests of the evidence that the editor had before them. */
  readonly evidence: string;
}

/** A verdict as it stands in the archive. */
export interface DecisionJudgement {
  readonly verdict: DecisionVerdict;
  readonly evidence: string;
  readonly by: string;
  readonly reason: string;
  /** ISO 8601, UTC. */
  readonly on: string;
}
