import type { Decision } from '../../../decisions/decision.ts';
import { DECISION_VERDICTS } from '../../../model/decision.ts';
import {
  checkOfDecision,
  decisionById,
  decisionsOf,
  evidenceOfDecision,
} from '../../../questions/decisions.ts';
import { compareText } from '../../../state/lists/device-list.ts';
import type { State } from '../../../state/state.ts';
import { phraseAsShown } from '../../../statistics/likelihood-words.ts';
import { authorship, entrySource } from '../changes/input.ts';
import { viewOf } from '../context.ts';
import { boundCheckSource, givenInputs } from '../design-checks/design-checks.ts';
import { rankedListing } from '../listing.ts';
import { findNode } from '../node.ts';
import { paginate } from '../paginate.ts';
import { pageOfMatches } from '../patterns/patterns.ts';
import type * as Api from '../resolver-types.ts';
import { decisionSource, deviceSource, maybe, patternSource } from '../sources.ts';
import { enumName, enumWord, onlyGiven } from '../words.ts';

/** Decisions as far as asked for, likeliest first. */
function pageOfDecisions(
  view: State,
  decisions: readonly Decision[],
  { minimumProbability, includeRejected, ...page }: Api.DeviceDecisionsArgs,
) {
  const chosen = decisions
    .filter(
      ({ probability, standing }) =>
        probability >= minimumProbability && (includeRejected || standing !== 'rejected'),
    )
    .toSorted((a, b) => b.probability - a.probability || compareText(a.id, b.id));
  return paginate(
    rankedListing('decisions', chosen, ({ id }) => id),
    page,
    (one) => decisionSource(view, one),
  );
}

/** Design decisions: what the named patterns suggest, and what editors say of it. */
export const decisions: Api.Resolvers = {
  Query: {
    decision: async (root, { id }, context) => {
      const view = viewOf(root, context);
      return maybe(view, await decisionById(view, id, context.signal()), decisionSource);
    },
    decisions: async (root, { device, pattern, ...args }, context) => {
      onlyGiven('decisions', { device, pattern }, ['device', 'pattern']);
      const view = viewOf(root, context);
      const of = device == null ? { pattern: pattern as string } : { device };
      return pageOfDecisions(view, await decisionsOf(view, of, context.signal()), args);
    },
  },
  Device: {
    decisions: async ({ view, id }, args, context) =>
      pageOfDecisions(view, await decisionsOf(view, { device: id }, context.signal()), args),
  },
  Decision: {
    device: ({ view, deviceId }) => maybe(view, view.device(deviceId), deviceSource),
    pattern: ({ view, patternId }) => maybe(view, view.pattern(patternId), patternSource),
    likelihood: ({ probability }) => phraseAsShown(probability),
    matchCount: ({ matches }) => matches.length,
    method: ({ method }) => enumName(method),
    matches: ({ view, matches }, page) => pageOfMatches(view, matches, page),
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
    judgeDecision: async (_root, { input: { decision: id, verdict, ...by } }, { archive, view, who }) => {
      const word = enumWord(DECISION_VERDICTS, verdict);
      const entry = await archive.judgeDecision(id, word, authorship(by, who), view.audience);
      const now = archive.state(view.audience);
      return { entry: entrySource(entry), decision: maybe(now, await decisionById(now, id), decisionSource) };
    },
  },
};
