import type { Decision, DecisionEvidence } from '../decisions/decision.ts';
import type { NamedPattern } from '../model/catalogue.ts';
import type { DecisionJudgement } from '../model/decision.ts';
import { decisionId } from '../model/ids.ts';
import { agent, type LinkedNode, type Linking, nothingLeft, some, typed } from './nodes.ts';
import { recordIri } from './places.ts';

// Design decisions and what editors said of them.

/**
 * A decision with what editors judged.
 * @param judgements first to last
 * @param found what its pattern found in the device, with the evidence under it, where that was worked out
 */
export function decisionNodes(
  link: Linking,
  device: string,
  pattern: NamedPattern,
  judgements: readonly DecisionJudgement[],
  found?: { readonly decision: Decision; readonly evidence: DecisionEvidence },
): readonly LinkedNode[] {
  const id = decisionId(device, pattern.id);
  return [
    {
      id: recordIri(id),
      ...typed('Decision'),
      name: pattern.name,
      ofDevice: link.to(device),
      byPattern: link.to(pattern.id),
      ...(found && {
        idea: found.decision.idea,
        probability: found.decision.probability,
        shapeProbability: found.decision.shape,
        strength: found.decision.strength,
        standing: found.decision.standing,
        possibleReason: some(found.decision.reasons),
        against: some(found.decision.against),
        about: link.toAll(found.evidence.things),
      }),
      derivedFrom: some([
        ...(link.toAll([pattern.id]) ?? []),
        ...(link.toAll(found?.evidence.observations) ?? []),
      ]),
    },
    ...judgements.map((judgement, i) => judgementNode(id, judgement, i + 1)),
  ];
}

function judgementNode(decision: string, judgement: DecisionJudgement, number: number): LinkedNode {
  // The digest of what the editor had before them means nothing outside the archive.
  const { verdict, evidence: _, by, reason, on, ...rest } = judgement;
  nothingLeft(rest);
  return {
    id: recordIri(decision, `judgement-${number}`),
    ...typed('Judgement'),
    about: recordIri(decision),
    verdict,
    reason,
    revisionOf: number > 1 ? recordIri(decision, `judgement-${number - 1}`) : undefined,
    generatedBy: {
      id: recordIri(decision, `judgement-${number}-judging`),
      ...typed('Judging'),
      endedAt: on,
      associatedWith: agent(by),
      used: recordIri(decision),
    },
  };
}
