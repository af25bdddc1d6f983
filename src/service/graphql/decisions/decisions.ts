import type { Decision } from '../../../decisions/decision.ts';
import { DECISION_VERDICTS } from '../../../model/decision.ts';
import {
  checkOfDecision,
  decisionById,
  decisionsOf,
  evidenceOfDecision,
} from '../../../questions/decisions.ts';
import { likelihoodPhrase } from '../../../statistics/likelihood-words.ts';
import { authorship } from '../changes/input.ts';
import { viewOf } from '../context.ts';
import { boundCheckSource, givenInputs } from '../design-checks/design-checks.ts';
import { findNode } from '../node.ts';
import type { Resolvers } from '../resolver-types.ts';
import { decisionSource, deviceSource, maybe, patternSource } from '../sources.ts';
import { bounded, enumName, enumWord, onlyGiven } from '../words.ts';

const chosen = (
  decisions: readonly Decision[],
  { atLeast, rejected }: { readonly atLeast: number; readonly rejected: boolean },
) =>
  decisions.filter(
    ({ probability, standing }) => probability >= atLeast && (rejected || standing !== 'rejected'),
  );

/** Design decisions: what the named patterns suggest, and what editors say of it. */
export const decisions: Resolvers = {
  Query: {
    decision: async (root, { id }, context) => {
      const view = viewOf(root, context);
      return maybe(view, await decisionById(view, id, context.signal()), decisionSource);
    },
    decisions: async (root, { device, pattern, first, ...choice }, context) => {
      onlyGiven('decisions', { device, pattern }, ['device', 'pattern']);
      const view = viewOf(root, context);
      const maximum = bounded('first', first, 500);
      const of = device == null ? { pattern: pattern as string } : { device };
      return chosen(await decisionsOf(view, of, context.signal()), choice)
        .toSorted((a, b) => b.probability - a.probability || (a.id < b.id ? -1 : 1))
        .slice(0, maximum)
        .map((one) => decisionSource(view, one));
    },
  },
  Device: {
    decisions: async ({ view, id }, choice, context) =>
      chosen(await decisionsOf(view, { device: id }, context.signal()), choice).map((one) =>
        decisionSource(view, one),
      ),
  },
  Decision: {
    device: ({ view, deviceId }) => maybe(view, view.device(deviceId), deviceSource),
    pattern: ({ view, patternId }) => maybe(view, view.pattern(patternId), patternSource),
    likelihood: ({ probability }) => likelihoodPhrase(probability),
    matchCount: ({ matches }) => matches.length,
    matches: ({ view, matches }, { first }) =>
      matches.slice(0, bounded('first', first, 200, 0)).map((one) => ({ ...one, view })),
    standing: ({ standing }) => enumName(standing),
    judgements: ({ judgements }) => judgements.map((one) => ({ ...one, verdict: enumName(one.verdict) })),
    supportedBy: async ({ view, ...decision }) => {
      const { things } = await evidenceOfDecision(view, decision);
      return things.flatMap((id) => findNode(view, id) ?? []);
    },
    observations: async ({ view, ...decision }) => {
      const { observations } = await evidenceOfDecision(view, decision);
      return observations.flatMap((id) => {
        const found = findNode(view, id);
        return found?.__typename === 'Observation' ? [found] : [];
      });
    },
    check: async ({ view, ...decision }, { given }) => {
      const bound = await checkOfDecision(view, decision, givenInputs(given));
      return bound ? boundCheckSource(bound) : null;
    },
  },
  Mutation: {
    judgeDecision: async (_root, { decision: id, verdict, ...by }, { archive, view }) => {
      const word = enumWord(DECISION_VERDICTS, verdict);
      const entry = await archive.judgeDecision(id, word, authorship(by), view.audience);
      const now = archive.view(view.audience);
      return { entry, decision: maybe(now, await decisionById(now, id), decisionSource) };
    },
  },
};
