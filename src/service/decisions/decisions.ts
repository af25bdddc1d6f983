import type { Authorship } from '../../archive.ts';
import { footingOf } from '../../decisions/decision.ts';
import { checkOfDecision } from '../../decisions/decision-check.ts';
import {
  type Decision,
  decisionById,
  decisionNamed,
  decisionsByPattern,
  decisionsOf,
} from '../../decisions/decisions.ts';
import { DECISION_VERDICTS, type DecisionJudgement } from '../../model/decision.ts';
import { CasebackError } from '../../model/problems.ts';
import { likelihoodPhrase } from '../../statistics/likelihood-words.ts';
import { type Context, type Domain, type Root, viewOf } from '../base/domain.ts';
import { enumName, enumWord } from '../base/enums.ts';
import { authorship } from '../changes/input.ts';
import { boundCheckSource, type Given, givenInputs, mended } from '../checks/sources.ts';
import { type DeviceSource, deviceSource, maybe, patternSource } from '../sources/catalogue.ts';
import { type DecisionSource, decisionSource } from '../sources/decision.ts';
import { findNode } from '../sources/find.ts';
import { schema } from './schema.ts';

interface Choice {
  readonly atLeast: number;
  readonly rejected: boolean;
}

interface DecisionsArguments extends Choice {
  readonly device?: string | null;
  readonly pattern?: string | null;
  readonly first: number;
}

/** The decision behind a source. Sources come from views that hold it, so that it is there. */
async function full({ view, id, known }: DecisionSource): Promise<Decision> {
  return known ?? decisionNamed(view, id);
}

/** Resolvers of the fields that are fields of the decision. */
const ownFields = Object.fromEntries(
  (['name', 'idea', 'probability', 'shape', 'strength', 'method', 'reasons', 'against'] as const).map(
    (field) => [field, async (source: DecisionSource) => (await full(source))[field]],
  ),
);

const chosen = (decisions: readonly Decision[], { atLeast, rejected }: Choice) =>
  decisions.filter(
    ({ probability, standing }) => probability >= atLeast && (rejected || standing !== 'rejected'),
  );

async function listed(root: Root, args: DecisionsArguments, context: Context) {
  const { device, pattern, first } = args;
  if ((device == null) === (pattern == null))
    throw new CasebackError('BAD_INPUT', 'give either a device or a pattern');
  if (first < 1 || first > 500)
    throw new CasebackError('BAD_INPUT', `first is ${first}; it must be 1 to 500`);
  const view = viewOf(root, context);
  const all =
    device == null
      ? await decisionsByPattern(view, pattern as string, context.signal())
      : await decisionsOf(view, device, context.signal());
  return chosen(all, args)
    .toSorted((a, b) => b.probability - a.probability || (a.id < b.id ? -1 : 1))
    .slice(0, first)
    .map((one) => decisionSource(view, one));
}

async function footing(source: DecisionSource) {
  const { matches } = await full(source);
  return footingOf(matches, (id) => source.view.specimen(id));
}

const nodes = (view: DecisionSource['view'], ids: readonly string[]) =>
  ids.flatMap((id) => findNode(view, id) ?? []);

async function checkOf(source: DecisionSource, { given }: { readonly given: readonly Given[] }) {
  const decision = await full(source);
  return boundCheckSource(mended(() => checkOfDecision(source.view, decision, givenInputs(given))));
}

/** Design decisions: what the named patterns suggest, and what editors say of it. */
export const decisions: Domain = {
  schema,
  resolvers: {
    Query: {
      decision: async (root: Root, { id }: { id: string }, context: Context) => {
        const view = viewOf(root, context);
        return maybe(view, await decisionById(view, id, context.signal()), decisionSource);
      },
      decisions: listed,
    },
    Device: {
      decisions: async ({ view, id }: DeviceSource, args: Choice, context: Context) =>
        chosen(await decisionsOf(view, id, context.signal()), args).map((one) => decisionSource(view, one)),
    },
    Decision: {
      ...ownFields,
      device: async (source: DecisionSource) => {
        const { deviceId } = await full(source);
        return maybe(source.view, source.view.device(deviceId), deviceSource);
      },
      pattern: async (source: DecisionSource) => {
        const { patternId } = await full(source);
        return maybe(source.view, source.view.pattern(patternId), patternSource);
      },
      likelihood: async (source: DecisionSource) => likelihoodPhrase((await full(source)).probability),
      standing: async (source: DecisionSource) => enumName((await full(source)).standing),
      judgements: async (source: DecisionSource) => (await full(source)).judgements,
      matchCount: async (source: DecisionSource) => (await full(source)).matches.length,
      matches: async (source: DecisionSource, { first }: { first: number }) => {
        if (first < 0 || first > 200)
          throw new CasebackError('BAD_INPUT', `first is ${first}; it must be 0 to 200`);
        const { matches } = await full(source);
        return matches.slice(0, first).map((one) => ({ ...one, view: source.view }));
      },
      supportedBy: async (source: DecisionSource) => nodes(source.view, (await footing(source)).things),
      observations: async (source: DecisionSource) =>
        nodes(source.view, (await footing(source)).observations),
      check: checkOf,
    },
    DecisionJudgement: {
      verdict: ({ verdict }: DecisionJudgement) => enumName(verdict),
    },
    Mutation: {
      judgeDecision: async (
        _root: unknown,
        { decision: id, verdict, ...by }: Authorship & { decision: string; verdict: string },
        { archive, view }: Context,
      ) => {
        const word = enumWord(DECISION_VERDICTS, verdict);
        const entry = await archive.judgeDecision(id, word, authorship(by), view.audience);
        return { entry, decision: maybe(view, await decisionById(view, id), decisionSource) };
      },
    },
  },
  weights: {
    'Query.decision': 300,
    'Query.decisions': 2_000,
    'Device.decisions': 300,
    'Decision.observations': 20,
    'Decision.supportedBy': 20,
    'Decision.check': 50,
  },
};
